"""Baths: sharing, pouring together, and what cannot be."""

from __future__ import annotations

from math import inf, nan

import pytest
from attrs import evolve

from vatside.chemistry.bath import TOTALS, Bath, at_temperature, part, together, water_bath
from vatside.chemistry.errors import OutOfRange

FULL = Bath(2.0, 50.0, **{name: 0.01 * place for place, name in enumerate(TOTALS, start=1)})


def test_poured_out_and_together_it_is_the_same() -> None:
    """Two parts of a bath poured together are the bath."""
    again = together(part(FULL, 0.3), part(FULL, 0.7))
    for name in ("water_kg", "temperature_C", *TOTALS):
        assert getattr(again, name) == pytest.approx(getattr(FULL, name))


def test_waters_mix_their_heat() -> None:
    """Equal waters of 20 and 60 degrees C come to about 40."""
    assert together(Bath(1, 20), Bath(1, 60)).temperature_C == pytest.approx(40, abs=0.05)


def test_twenty_litres_weigh_less_when_warm() -> None:
    """Published: water at 45 degrees C has 990.21 kg/m3."""
    assert water_bath(20, 45).water_kg == pytest.approx(19.804, abs=0.001)


def test_warming_changes_only_the_temperature() -> None:
    """A bath at another temperature holds the same."""
    assert at_temperature(at_temperature(FULL, 20), 50) == FULL


@pytest.mark.parametrize("amount", [-1e-9, nan, inf])
@pytest.mark.parametrize("name", TOTALS)
def test_no_amount_below_nothing(name: str, amount: float) -> None:
    """Amounts below zero, endless or not numbers are refused by name."""
    with pytest.raises(OutOfRange, match="amount of " + name.replace("_", " ")):
        evolve(FULL, **{name: amount})


@pytest.mark.parametrize("kg", [0, -1, nan, inf])
def test_there_is_water(kg: float) -> None:
    """A bath has water."""
    with pytest.raises(OutOfRange, match="water in the bath"):
        Bath(kg)


@pytest.mark.parametrize("t_C", [-1, 101, nan])
def test_a_bath_is_liquid(t_C: float) -> None:
    """A bath is neither frozen nor steam."""
    with pytest.raises(OutOfRange, match="between 0 and 100 °C"):
        Bath(1, t_C)


@pytest.mark.parametrize("share", [0, -0.5, 1.01, nan])
def test_a_share_is_a_share(share: float) -> None:
    """No share of nothing, and none over the whole."""
    with pytest.raises(OutOfRange, match="share of a bath"):
        part(FULL, share)
