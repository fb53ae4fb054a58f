"""Water in plain floats, without a check or a unit: what the sheet's arithmetic rests on, written out once more."""

from __future__ import annotations

from math import exp, log, sqrt

HOT, COLD, ROOM, HOB_KW = 55.0, 12.0, 20.0, 1.5
"""The taps, the room and the hob of the starter plan."""


def density(t: float) -> float:
    """kg/m3."""
    above = 999.83952 + t * (
        16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - 280.54253e-12 * t)))
    )
    return above / (1 + 16.879850e-3 * t)


def heat_capacity(t: float) -> float:
    """kJ/(kg K)."""
    root = sqrt(t)
    return 4.2174356 - 0.0056181625 * t + 0.0012992528 * t * root - 0.00011535353 * t**2 + 4.14964e-6 * t**2 * root


def enthalpy(t: float) -> float:
    """kJ/kg."""
    root = sqrt(t)
    return (
        4.2174356 * t - 0.0056181625 * t**2 / 2 + 0.0012992528 * t**2 * root / 2.5 - 0.00011535353 * t**3 / 3
        + 4.14964e-6 * t**3 * root / 3.5
    )  # fmt: skip


def draw(litres: float, t: float) -> tuple[float, float, float]:
    """Litres from the hot and the cold tap, and the minutes on the hob."""
    kg = litres * density(t) / 1000
    if t > HOT:
        return kg * 1000 / density(HOT), 0.0, kg * (enthalpy(t) - enthalpy(HOT)) / HOB_KW / 60
    share = (enthalpy(t) - enthalpy(COLD)) / (enthalpy(HOT) - enthalpy(COLD))
    return kg * share * 1000 / density(HOT), kg * (1 - share) * 1000 / density(COLD), 0.0


def heating(litres: float, start: float, end: float, wet: float) -> float:
    """Minutes on the hob, with wet fibre of so many kilograms of water's worth going in as cold as the room."""
    water = litres * density(start) / 1000 * (enthalpy(end) - enthalpy(start))
    return (water + wet * (enthalpy(end) - enthalpy(ROOM))) / HOB_KW / 60


def lye_rise(naoh_g: float, litres: float, t: float) -> float:
    """Kelvins."""
    return naoh_g / 39.9971 * 44.51 / (litres * density(t) / 1000 * heat_capacity(t))


def oxygen(t: float) -> float:
    """mg/L at saturation."""
    if t > 40:
        tau = (t + 273.15) / 100
        vapour = 0.61121 * exp((18.678 - t / 234.5) * t / (257.14 + t))
        air = 0.20946 * (101.325 - vapour) / 101.325
        return exp(-66.7354 + 87.4755 / tau + 24.4526 * log(tau)) * air * density(t) / 18.0153 * 31998.8
    kelvin = t + 273.15
    at_sea = exp(
        -139.34411 + 1.575701e5 / kelvin - 6.642308e7 / kelvin**2 + 1.243800e10 / kelvin**3 - 8.621949e11 / kelvin**4
    )
    vapour = exp(11.8571 - 3840.70 / kelvin - 216961 / kelvin**2)
    theta = 0.000975 - 1.426e-5 * t + 6.436e-8 * t**2
    return at_sea * (1 - vapour) * (1 - theta) / ((1 - vapour) * (1 - theta))
