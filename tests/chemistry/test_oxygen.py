"""Oxygen in water, and the reducer it takes."""

from __future__ import annotations

import pytest

from vatside.chemistry import ageing, substances
from vatside.chemistry.errors import OutOfRange


def test_the_two_sources_meet() -> None:
    """At 40 degrees C Benson & Krause and Battino give the same within 0.4 %."""
    assert ageing.saturation(40.0001) == pytest.approx(ageing.saturation(40), rel=4e-3)


def test_warm_water_holds_less() -> None:
    """Saturation falls all the way to the boil, where it is nothing."""
    held = [ageing.saturation(t_C) for t_C in range(101)]
    assert held == sorted(held, reverse=True)
    assert held[-1] == pytest.approx(0, abs=0.01)


def test_thin_air_gives_less() -> None:
    """At 80 kPa about a fifth less dissolves, cold or warm."""
    for t_C in (15, 45):
        assert ageing.saturation(t_C, 80) / ageing.saturation(t_C) == pytest.approx(80 / 101.325, abs=0.03)


@pytest.mark.parametrize("pressure", [0, 49, 111])
def test_air_pressure_has_limits(pressure: float) -> None:
    """Pressures of no inhabited place are refused."""
    with pytest.raises(OutOfRange, match="air pressure"):
        ageing.saturation(20, pressure)


@pytest.mark.parametrize(
    ("reducer", "grams"),
    # 20 L at 40 degrees C hold 128 mg, 4.01 mmol of oxygen: one mole of each for a mole of oxygen
    [("thiourea dioxide", 0.433), ("sodium dithionite", 0.698)],
)
def test_reducer_for_dissolved_oxygen(reducer: str, grams: float) -> None:
    """Hand-worked: the moles of oxygen times the reducer's molar mass."""
    assert 20 * ageing.saturation(40) / 1000 * substances.reducer_per_gram_oxygen(reducer) == pytest.approx(
        grams, abs=0.001
    )
