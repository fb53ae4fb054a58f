"""What is done to a live vat, turned into events: amounts as a scale shows them, and as typed."""

from __future__ import annotations

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.plan.plans import wool_plan
from tests.vat.vats import vat_with

from vatside.catalogue.looks import Clarity, Colour, Strip
from vatside.log.events.vat import CorrectionMade
from vatside.outlook.vat_deeds import (
    amount_of,
    as_measured,
    as_proposed,
    as_weighed,
    hot_water,
    proposed_amount,
    wait_after,
    with_amount,
)
from vatside.plan.measures import powder
from vatside.units import Amount, Problem
from vatside.vat.corrections import Correction, corrections
from vatside.vat.diagnosis import judge
from vatside.vat.reading import PHBy, Reading

PLAN = wool_plan()
GREEN = Reading(
    temperature=Amount(47, "degC"), colour=Colour.GREEN, clarity=Clarity.CLEAR, strip=Strip.BLUISH_GREEN, seconds=15
)


def first(reading: Reading, finding: str, does: str = "") -> Correction:
    """Give the first correction (that does something certain) for a finding in the starter plan's vat."""
    vat = vat_with(reading)
    found = next(item for item in judge(reading, vat.setting) if item.id == finding)
    return next(way for way in corrections(found, vat) if not does or way.does == does)


def reducer() -> Correction:
    """Give the correction that adds reducer."""
    return first(GREEN, "short-of-reducer")


def test_the_amount_of_what_is_dissolved_is_its_own() -> None:
    """Soda ash that goes in with 100 mL of water is asked for in grams."""
    vat = vat_with(GREEN, lots__a__fibre="wool", lots__a__mass="300 g")
    found = next(item for item in judge(GREEN, vat.setting) if item.id == "short-of-reducer")
    soda = next(one for way in corrections(found, vat) for one in way.along if one.material == "soda-ash")
    soda = evolve(soda, water_l=0.1)
    event = as_proposed(soda, vat.plan)
    assert event.water is not None
    assert proposed_amount(soda, vat.plan) == event.amount
    assert wait_after(soda, 1) is None, "the reducer that it goes with has its wait"


@pytest.mark.parametrize(
    ("grams", "shown"), [(0.034, 0.03), (1.5301, 1.5), (99.94, 99.9), (123.4, 123), (1234.5, 1234)]
)
def test_powders_are_rounded_as_they_are_shown(grams: float, shown: float) -> None:
    """What is logged is what stood on the screen: 0.1 g below 100 g, whole grams above."""
    assert as_weighed(powder(PLAN, "lye"), grams) == Amount(shown, "g")


def test_liquids_are_logged_by_volume() -> None:
    """Vinegar of 1.005 g/mL: 100.5 g are 100 mL."""
    assert as_weighed(powder(PLAN, "vinegar"), 100 * powder(PLAN, "vinegar").material.bulk.value) == Amount(100, "mL")


@pytest.mark.parametrize(("litres", "shown"), [(0.00234, (2.3, "mL")), (0.4163, (416, "mL")), (1.2962, (1.3, "L"))])
def test_volumes_are_rounded_as_they_are_shown(litres: float, shown: tuple[float, str]) -> None:
    """Tenths of a millilitre below ten, then whole ones, then litres."""
    assert as_measured(litres) == Amount(*shown)


def test_the_proposal_is_the_correction() -> None:
    """The event of a correction names its finding, its remedy and its powder."""
    event = as_proposed(reducer(), PLAN)
    assert (event.finding, event.remedy, event.material) == (
        "short-of-reducer", "thiourea-dioxide", "thiourea-dioxide",
    )  # fmt: skip
    assert event.amount == Amount(round(reducer().grams, 1), "g")


def test_an_amount_in_spoons_stays_in_spoons() -> None:
    """Half a teaspoon is logged as half a teaspoon."""
    event = with_amount(reducer(), PLAN, "1/2 tsp")
    assert isinstance(event, CorrectionMade)
    assert event.amount == Amount(0.5, "tsp")


def test_the_proposed_amount_goes_in_with_the_proposed_water() -> None:
    """1.47 g proposed as 1.5 g in 100 mL is no reason to log 102 mL: one number for one thing."""
    way = evolve(reducer(), grams=1.47, water_l=0.1)
    typed = with_amount(way, PLAN, "1.5 g")
    assert typed == as_proposed(way, PLAN)
    assert isinstance(typed, CorrectionMade)
    assert typed.water == Amount(100, "mL")


@pytest.mark.parametrize("text", ["", "0", "some", "3 L", "90 g", "-1 g"])
def test_what_is_no_amount_is_told(text: str) -> None:
    """Nothing, words, a volume of a powder, sixty times the dose: a sentence each."""
    assert isinstance(with_amount(reducer(), PLAN, text), Problem)


@given(st.text(max_size=12))
def test_no_text_breaks_an_amount(text: str) -> None:
    """Whatever is typed gives an event or a sentence."""
    assert isinstance(with_amount(reducer(), PLAN, text), CorrectionMade | Problem)


def test_other_sharpened_water_takes_its_reducer_along() -> None:
    """Half the water takes half the reducer, and half the liquor out first."""
    way = first(Reading(temperature=Amount(47, "degC"), pH=10.6, pH_by=PHBy.METER), "too-alkaline", "dilute")
    half = with_amount(way, PLAN, f"{way.litres / 2:.3f} L")
    assert isinstance(half, CorrectionMade)
    assert half.amount is not None
    assert half.amount.value == pytest.approx(way.grams / 2, abs=0.06)
    assert half.taken_out == (half.water if way.exchanges else None)


def test_kettle_water_is_hot() -> None:
    """Hot water comes from the kettle; with no room in the tub as much liquor goes out first."""
    event = hot_water(Amount(1, "L"), exchanged=True)
    assert event.taken_out == Amount(1, "L")
    assert event.water_temperature is not None
    assert event.water_temperature.value > 90


def test_the_wait_that_follows() -> None:
    """The wait has the correction's length and label; without one there is none."""
    wait = wait_after(reducer(), 7)
    assert wait is not None
    assert (wait.wait, wait.label, wait.minutes, wait.step) == ("w7", "Reducer at work", reducer().wait_min, None)


def test_what_the_amount_is_of() -> None:
    """The question for another amount names what went in."""
    cold = Reading(temperature=Amount(38, "degC"))
    assert amount_of(reducer(), PLAN) == "reducer"
    assert amount_of(first(cold, "too-cold"), PLAN) == "kettle water"
