"""Evaporation: two published formulas, and the edges."""

from __future__ import annotations

import pytest

from vatside.chemistry.air import evaporation
from vatside.chemistry.errors import OutOfRange


@pytest.mark.parametrize(
    ("water_C", "carrier", "shah"),
    # kg/(m2 h) in air at 20 degrees C and 50 % humidity, worked from both formulas apart from this program
    [(40, 0.83, 0.80), (45, 1.13, 1.16), (50, 1.50, 1.63), (60, 2.55, 3.02)],
)
def test_the_mean_of_both_formulas(water_C: float, carrier: float, shah: float) -> None:
    """The rate is the mean of Carrier's and Shah's, +-35 %."""
    lost = evaporation(1, water_C, 20, 0.5)
    assert lost.kg_per_hour == pytest.approx((carrier + shah) / 2, abs=0.01)
    assert (lost.low, lost.high) == pytest.approx((0.65 * lost.kg_per_hour, 1.35 * lost.kg_per_hour))


def test_twice_the_surface_loses_twice_as_much() -> None:
    """The loss goes with the surface."""
    assert evaporation(0.2, 50, 20, 0.5).kg_per_hour == pytest.approx(2 * evaporation(0.1, 50, 20, 0.5).kg_per_hour)


def test_damp_air_takes_nothing_from_cold_water() -> None:
    """Where the air holds more vapour than the water gives off nothing is lost."""
    assert evaporation(1, 10, 25, 0.9).kg_per_hour == 0


@pytest.mark.parametrize(("area", "humidity"), [(0, 0.5), (1, 1.2), (1, -0.1)])
def test_refusals(area: float, humidity: float) -> None:
    """No surface and no such humidity are refused."""
    with pytest.raises(OutOfRange):
        evaporation(area, 50, 20, humidity)
