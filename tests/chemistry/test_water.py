"""Plain water: values from the International Steam Tables' family and the range guard."""

from __future__ import annotations

from math import nan

import pytest

from vatside.chemistry import water
from vatside.chemistry.errors import OutOfRange

PROPERTIES = (
    water.density,
    water.heat_capacity,
    water.enthalpy,
    water.vapour_pressure,
    water.permittivity,
    water.pKw,
)


@pytest.mark.parametrize(
    ("t_C", "published"),
    # CRC Handbook, density of water, kg/m3, from memory
    [(0, 999.84), (4, 999.97), (20, 998.21), (25, 997.05), (50, 988.04), (100, 958.35)],
)
def test_density(t_C: float, published: float) -> None:
    """Water has the handbook's density."""
    assert water.density(t_C) == pytest.approx(published, abs=0.03)


@pytest.mark.parametrize(
    ("t_C", "published"),
    # CRC Handbook, heat capacity, kJ/(kg K), from memory
    [(0, 4.2176), (20, 4.1818), (25, 4.1796), (60, 4.1843), (90, 4.2050)],
)
def test_heat_capacity(t_C: float, published: float) -> None:
    """Water has the handbook's heat capacity."""
    assert water.heat_capacity(t_C) == pytest.approx(published, abs=0.003)


def test_enthalpy_is_the_sum_of_heat_capacities() -> None:
    """The heat from 0 to 100 degrees C is the heat capacity summed over small steps."""
    summed = sum(water.heat_capacity(0.05 + 0.1 * step) * 0.1 for step in range(1000))
    assert water.enthalpy(100) == pytest.approx(summed, rel=1e-6)


@pytest.mark.parametrize(
    ("t_C", "published"),
    # CRC Handbook, kPa, from memory; 100 degrees C is the boiling point at 101.325 kPa
    [(0, 0.6113), (20, 2.3388), (50, 12.344), (80, 47.373), (100, 101.32)],
)
def test_vapour_pressure(t_C: float, published: float) -> None:
    """Water has the handbook's vapour pressure."""
    assert water.vapour_pressure(t_C) == pytest.approx(published, rel=2e-3)


@pytest.mark.parametrize(
    ("t_C", "published"),
    # IAPWS R8-97 at 0.1 MPa, from memory
    [(0, 87.90), (25, 78.41), (50, 69.90)],
)
def test_permittivity(t_C: float, published: float) -> None:
    """Water has the published relative permittivity within 0.3 %."""
    assert water.permittivity(t_C) == pytest.approx(published, rel=3e-3)


@pytest.mark.parametrize(
    ("t_C", "published"),
    # IAPWS R11-07 at 0.1 MPa
    [(0, 14.946), (10, 14.534), (25, 13.994), (40, 13.534), (50, 13.264), (60, 13.020)],
)
def test_ion_product(t_C: float, published: float) -> None:
    """PKw is the release's within what R11-24 changed."""
    assert water.pKw(t_C) == pytest.approx(published, abs=0.001)


@pytest.mark.parametrize("prop", PROPERTIES)
@pytest.mark.parametrize("t_C", [-0.1, 100.1, nan])
def test_only_liquid_water(prop: object, t_C: float) -> None:
    """Nothing is said of ice and steam, and the refusal is a sentence."""
    assert callable(prop)
    with pytest.raises(OutOfRange, match=r"^The water temperature must lie between 0 and 100 °C, not "):
        prop(t_C)
