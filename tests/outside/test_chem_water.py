"""Water against CoolProp (IAPWS-95) and iapws (R11-24): independent programs of the published formulations."""

from __future__ import annotations

import pytest

from vatside.chemistry import heat, water

TEMPERATURES = (*range(1, 100, 3), 99.9)


def by_coolprop(output: str, one: str, first: float, other: str, second: float) -> float:
    """A property of water in a state, SI units; loaded late: it takes two seconds wherever tests are looked for."""
    from CoolProp.CoolProp import PropsSI

    return float(PropsSI(output, one, first, other, second, "Water"))


def of_water(output: str, t_C: float) -> float:
    """A property of liquid water at 101.325 kPa by CoolProp, SI units."""
    return by_coolprop(output, "T", t_C + 273.15, "P", 101325)


@pytest.mark.parametrize("t_C", TEMPERATURES)
def test_density(t_C: float) -> None:
    """Density lies within 0.02 kg/m3 of IAPWS-95."""
    assert water.density(t_C) == pytest.approx(of_water("D", t_C), abs=0.02)


@pytest.mark.parametrize("t_C", TEMPERATURES)
def test_heat_capacity(t_C: float) -> None:
    """Heat capacity lies within 0.1 % of IAPWS-95."""
    assert water.heat_capacity(t_C) == pytest.approx(of_water("C", t_C) / 1000, rel=1e-3)


@pytest.mark.parametrize("t_C", TEMPERATURES)
def test_enthalpy(t_C: float) -> None:
    """The heat between 1 degree C and any other temperature lies within 0.1 kJ/kg of IAPWS-95."""
    published = (of_water("H", t_C) - of_water("H", 1)) / 1000
    assert water.enthalpy(t_C) - water.enthalpy(1) == pytest.approx(published, abs=0.1)


@pytest.mark.parametrize("t_C", TEMPERATURES)
def test_vapour_pressure(t_C: float) -> None:
    """Vapour pressure lies within 0.12 % of IAPWS-95."""
    published = by_coolprop("P", "T", t_C + 273.15, "Q", 0) / 1000
    assert water.vapour_pressure(t_C) == pytest.approx(published, rel=1.2e-3)


@pytest.mark.parametrize("t_C", TEMPERATURES)
def test_permittivity(t_C: float) -> None:
    """Relative permittivity lies within 0.35 % of IAPWS R8-97."""
    from iapws._iapws import _Dielectric

    published = _Dielectric(of_water("D", t_C), t_C + 273.15)
    assert water.permittivity(t_C) == pytest.approx(published, rel=3.5e-3)


@pytest.mark.parametrize("t_C", TEMPERATURES)
def test_ion_product(t_C: float) -> None:
    """PKw lies within 0.0005 of IAPWS R11-24 at CoolProp's density."""
    from iapws._iapws import _Kw

    published = _Kw(of_water("D", t_C), t_C + 273.15)
    assert water.pKw(t_C) == pytest.approx(published, abs=5e-4)


@pytest.mark.parametrize("hot_C", [45, 60, 75, 95])
@pytest.mark.parametrize("cold_C", [5, 12, 20])
@pytest.mark.parametrize("share", [0.1, 0.5, 0.8])
def test_mixing(hot_C: float, cold_C: float, share: float) -> None:
    """Hot and cold mixed by mass come to CoolProp's temperature within 0.02 K."""
    kJ = share * of_water("H", hot_C) + (1 - share) * of_water("H", cold_C)
    published = by_coolprop("T", "H", kJ, "P", 101325) - 273.15
    assert heat.mix_temperature(((share, hot_C), (1 - share, cold_C))) == pytest.approx(published, abs=0.02)


@pytest.mark.parametrize(("target_C", "hot_C", "cold_C"), [(45, 60, 12), (30, 55, 8), (50, 65, 18), (25, 90, 4)])
def test_hot_and_cold(target_C: float, hot_C: float, cold_C: float) -> None:
    """Twenty litres drawn from two taps divide as by CoolProp within 0.01 L."""
    kg = 0.020 * of_water("D", target_C)
    hot_h, cold_h, target_h = (of_water("H", t) for t in (hot_C, cold_C, target_C))
    hot_kg = kg * (target_h - cold_h) / (hot_h - cold_h)
    split = heat.hot_cold_split(20, target_C, hot_C, cold_C)
    assert split.hot_l == pytest.approx(1000 * hot_kg / of_water("D", hot_C), abs=0.01)
    assert split.cold_l == pytest.approx(1000 * (kg - hot_kg) / of_water("D", cold_C), abs=0.01)


@pytest.mark.parametrize(("from_C", "to_C"), [(15, 50), (10, 95), (40, 60)])
def test_heating(from_C: float, to_C: float) -> None:
    """Twenty litres heat in CoolProp's time within 0.1 %."""
    kJ = 0.020 * of_water("D", from_C) * (of_water("H", to_C) - of_water("H", from_C)) / 1000
    assert heat.heating_minutes(20, from_C, to_C, 2) == pytest.approx(kJ / 2 / 60, rel=1e-3)
