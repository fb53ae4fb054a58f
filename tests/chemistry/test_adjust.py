"""Doses to a pH: the charge balance turned round."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from vatside.chemistry.adjust import Acid, acid_for_pH, alkali_for_pH, dose_from_titration
from vatside.chemistry.bath import Bath, add_grams, add_vinegar, water_bath
from vatside.chemistry.errors import CannotReach, Dangerous, OutOfRange
from vatside.chemistry.liquor import solve

SPENT = st.builds(
    Bath,
    water_kg=st.floats(0.5, 40),
    temperature_C=st.floats(10, 60),
)
AMOUNTS = st.floats(0, 0.08)


@given(
    bath=SPENT,
    carbonate=AMOUNTS,
    target=st.floats(8, 13),
    name=st.sampled_from(["sodium hydroxide", "calcium hydroxide"]),
)
def test_the_dose_of_alkali_reaches_the_pH(bath: Bath, carbonate: float, target: float, name: str) -> None:
    """The bath with its dose has the pH asked for."""
    bath = add_grams(bath, "sodium bicarbonate", 84 * carbonate * bath.water_kg)
    try:
        grams = alkali_for_pH(bath, target, name)
    except CannotReach:
        assume(False)
    assert solve(add_grams(bath, name, grams)).pH == pytest.approx(max(target, solve(bath).pH), abs=1e-3)


@given(bath=SPENT, lye=AMOUNTS, soda=AMOUNTS, lime=AMOUNTS, target=st.floats(5, 9))
def test_the_dose_of_vinegar_reaches_the_pH(bath: Bath, lye: float, soda: float, lime: float, target: float) -> None:
    """Vinegar brings any spent bath to the pH asked for, lime at the bottom and all."""
    for name, moles in (
        ("sodium hydroxide", 40 * lye),
        ("sodium carbonate", 106 * soda),
        ("calcium hydroxide", 74 * lime),
    ):
        bath = add_grams(bath, name, moles * bath.water_kg)
    millilitres = acid_for_pH(bath, target, "vinegar")
    assert solve(add_vinegar(bath, millilitres)).pH == pytest.approx(min(target, solve(bath).pH), abs=1e-3)


@pytest.mark.parametrize(
    ("pH", "millilitres"),
    # 10 L of rinse with sodium hydroxide only, to pH 8 at 25 degrees C; PHREEQC agrees within 0.1 %
    [(10, 1.2), (10.5, 3.9), (11, 12.6), (11.5, 41), (12, 136)],
)
def test_vinegar_for_ten_litres_of_rinse(pH: float, millilitres: float) -> None:
    """The vinegar for a rinse that holds only lye follows from its pH."""
    rinse = water_bath(10, 25)
    rinse = add_grams(rinse, "sodium hydroxide", alkali_for_pH(rinse, pH, "sodium hydroxide"))
    assert acid_for_pH(rinse, 8, "vinegar") == pytest.approx(millilitres, rel=0.03, abs=0.06)


def test_the_same_pH_from_soda_takes_ten_times_the_vinegar() -> None:
    """Published with the row above: at pH 11 soda ash takes 125 mL where lye takes 12.6, so pH gives no dose."""
    rinse = water_bath(10, 25)
    rinse = add_grams(rinse, "sodium carbonate", alkali_for_pH(rinse, 11, "sodium carbonate"))
    assert acid_for_pH(rinse, 8, "vinegar") == pytest.approx(125, rel=0.03)


def test_lime_at_the_bottom_is_counted() -> None:
    """Ten grams of slaked lime take 0.27 mol of acid, dissolved or not: hand-worked 324 mL of vinegar."""
    limed = add_grams(water_bath(2, 20), "calcium hydroxide", 10)
    assert acid_for_pH(limed, 8, "vinegar") == pytest.approx(10 / 74.0927 * 2 / 0.8326 * 1000, rel=0.01)


@pytest.mark.parametrize("acid", ["vinegar", "citric acid", "citric acid monohydrate"])
def test_nothing_for_a_bath_that_is_there(acid: Acid) -> None:
    """A bath at or below the target takes no acid, and one above takes no alkali."""
    assert acid_for_pH(Bath(1), 8, acid) == 0
    assert alkali_for_pH(Bath(1, sodium=0.1), 9, "sodium hydroxide") == 0


def test_water_of_crystals_adds_weight() -> None:
    """Citric acid with its water takes 210.14 / 192.12 times the weight."""
    bath = Bath(1, sodium=0.05)
    ratio = acid_for_pH(bath, 8, "citric acid monohydrate") / acid_for_pH(bath, 8, "citric acid")
    assert ratio == pytest.approx(210.1391 / 192.1238, rel=1e-4)


@pytest.mark.parametrize("name", ["calcium hydroxide", "sodium carbonate"])
def test_weak_alkali_has_its_limit(name: str) -> None:
    """Lime and soda never get to pH 13, and the refusal says how far they do."""
    with pytest.raises(CannotReach, match=r"brings this bath to pH 12\.\d at most, not to 13"):
        alkali_for_pH(Bath(1), 13, name)


def test_vinegar_has_its_limit() -> None:
    """Vinegar never gets to pH 2."""
    with pytest.raises(CannotReach, match="Vinegar brings this bath down to pH"):
        acid_for_pH(Bath(1, sodium=0.05), 2, "vinegar")


@pytest.mark.parametrize("name", ["sodium dithionite", "thiourea dioxide"])
def test_no_acid_into_a_live_vat(name: str) -> None:
    """Below pH 9 no acid goes into a bath with reducer in it; down to 9 a little may."""
    live = add_grams(Bath(1, sodium=0.1), name, 1)
    with pytest.raises(Dangerous, match="sulfur dioxide"):
        acid_for_pH(live, 8, "vinegar")
    assert acid_for_pH(live, 10.5, "vinegar") > 0


def test_the_temperature_asked_for_counts() -> None:
    """PH 11 at 25 degrees C takes far less lye than pH 11 in a vat at 50."""
    bath = Bath(1, 50)
    assert alkali_for_pH(bath, 11, "sodium hydroxide", 25) < alkali_for_pH(bath, 11, "sodium hydroxide") / 4


def test_scaling_up_a_titration() -> None:
    """Hand-worked: 12 mL for 100 mL of a 20 L vat is 2.4 L of vinegar."""
    assert dose_from_titration(100, 12, 20) == pytest.approx(2.4)


@pytest.mark.parametrize(("sample", "vinegar", "vat"), [(0, 1, 1), (100, -1, 20), (100, 1, -20)])
def test_a_titration_needs_a_sample(sample: float, vinegar: float, vat: float) -> None:
    """No sample, or less than nothing, scales to nothing."""
    with pytest.raises(OutOfRange):
        dose_from_titration(sample, vinegar, vat)
