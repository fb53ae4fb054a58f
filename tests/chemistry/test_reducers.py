"""Reducers and alkalis: their records agree with themselves and with the reactions."""

from __future__ import annotations

import pytest

from vatside.chemistry.bath import TOTALS, Bath, add_grams
from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.liquor import solve
from vatside.chemistry.reducers import REDUCERS, End, hydrogen_of, hydroxide_of, reducer
from vatside.chemistry.substances import ALKALIS, HYDROXIDE, SUBSTANCES, naoh_equivalent

SULFUR = {"dithionite": 2, "thiourea_dioxide": 1}
CHARGE = {"sulfite": 2, "sulfate": 2, "strong_anions": 1, "ferric": 0, "ferrous": -2}
"""Negative charges that a mole of each total holds in alkali; rust and its sludge hold none."""
ENDS: tuple[End, ...] = ("sulfate", "sulfite", "closed")


@pytest.mark.parametrize("name", REDUCERS)
def test_a_reducer_is_a_substance_that_a_bath_knows(name: str) -> None:
    """Its record, the substances and the bath's totals name the same things."""
    kind = reducer(name)
    assert (kind.total, 1.0) in SUBSTANCES[name].gives
    assert {total for end in ENDS for total, _ in kind.becomes(end)} <= set(TOTALS)


@pytest.mark.parametrize("name", ["sodium dithionite", "thiourea dioxide"])
@pytest.mark.parametrize("end", ["sulfate", "sulfite"])
def test_no_sulfur_is_lost_and_the_charge_is_the_hydroxide(name: str, end: End) -> None:
    """All sulfur ends as sulfite or sulfate, and the charge that they add is the hydroxide taken."""
    kind = reducer(name)
    products = kind.becomes(end)
    assert sum(count for _, count in products) == SULFUR[kind.total]
    before = 2 if kind.total == "dithionite" else 0
    assert sum(count * CHARGE[total] for total, count in products) - before == kind.hydroxide


def test_a_closed_jar_of_dithionite_takes_half() -> None:
    """2 S2O4(2-) + 2 OH- -> S2O3(2-) + 2 SO3(2-) + H2O: one hydroxide each."""
    kind = reducer("sodium dithionite")
    assert sum(count * CHARGE[total] for total, count in kind.closed) - 2 == kind.hydroxide_closed == 1


@pytest.mark.parametrize(
    ("name", "per_gram"),
    # worked by hand: 2 / 108.1195 and 2 / 174.1068 mol
    [("thiourea dioxide", 18.498), ("sodium dithionite", 11.487)],
)
def test_hydroxide_of_a_gram(name: str, per_gram: float) -> None:
    """Millimoles of hydroxide that a gram takes."""
    assert 1000 * hydroxide_of(name, 1) == pytest.approx(per_gram, abs=0.001)


def test_what_is_no_reducer() -> None:
    """Strangers and less than nothing are refused in words."""
    with pytest.raises(OutOfRange, match="no reducer"):
        hydroxide_of("sugar", 1)
    with pytest.raises(OutOfRange, match="amount of fructose"):
        hydroxide_of("fructose", -1)
    with pytest.raises(OutOfRange, match="amount of zinc"):
        hydrogen_of("zinc", -1)


@pytest.mark.parametrize("name", ALKALIS)
def test_an_alkali_takes_its_acid(name: str) -> None:
    """With as many moles of strong acid as it takes in all, a bath of it is near neutral or sour."""
    grams = SUBSTANCES[name].molar_mass * 0.01
    bath = add_grams(Bath(1, 25, strong_anions=0.01 * ALKALIS[name].acid), name, grams)
    assert 3.9 < solve(bath).pH < 7.1


@pytest.mark.parametrize("name", HYDROXIDE)
def test_what_a_gram_of_alkali_stands_in_for(name: str) -> None:
    """Grams of lye for a gram, by the mole."""
    assert naoh_equivalent(name) == pytest.approx(HYDROXIDE[name] * 39.9971 / SUBSTANCES[name].molar_mass)


def test_what_is_no_alkali() -> None:
    """Vinegar is no alkali."""
    with pytest.raises(OutOfRange, match="no alkali"):
        naoh_equivalent("acetic acid")
