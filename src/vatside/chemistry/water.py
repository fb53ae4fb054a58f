"""Plain water at 101.325 kPa between 0 and 100 degrees C."""

from __future__ import annotations

from math import exp, log10, sqrt

from vatside.chemistry.errors import require_within

ZERO_CELSIUS = 273.15
"""0 degrees C in kelvins, by definition."""

LOWEST_C = 0.0
HIGHEST_C = 100.0


def require_liquid(t_C: float) -> None:
    """Raise `OutOfRange` unless water is liquid at this temperature in an open vessel at sea level."""
    require_within("water temperature", t_C, LOWEST_C, HIGHEST_C, "°C")


def density(t_C: float) -> float:
    """Give the density of water, kg/m3, at t_C in 0..100 degrees C [Kell1975].

    Within 0.015 kg/m3 of IAPWS-95. Raises `OutOfRange` outside.
    """
    require_liquid(t_C)
    t = t_C
    above = 999.83952 + t * (
        16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - 280.54253e-12 * t)))
    )
    return above / (1 + 16.879850e-3 * t)


def heat_capacity(t_C: float) -> float:
    """Give the heat capacity of water, kJ/(kg K), at t_C in 0..100 degrees C [Popiel1998].

    Within 0.09 % of IAPWS-95. Raises `OutOfRange` outside.
    """
    require_liquid(t_C)
    t, root = t_C, sqrt(t_C)
    return 4.2174356 - 0.0056181625 * t + 0.0012992528 * t * root - 0.00011535353 * t**2 + 4.14964e-6 * t**2 * root


def enthalpy(t_C: float) -> float:
    """Give the heat in water, kJ/kg above water at 0 degrees C: the integral of `heat_capacity` [Popiel1998].

    Differences within 0.09 kJ/kg of IAPWS-95. Raises `OutOfRange` outside.
    """
    require_liquid(t_C)
    t, root = t_C, sqrt(t_C)
    return (
        4.2174356 * t
        - 0.0056181625 * t**2 / 2
        + 0.0012992528 * t**2 * root / 2.5
        - 0.00011535353 * t**3 / 3
        + 4.14964e-6 * t**3 * root / 3.5
    )


def vapour_pressure(t_C: float) -> float:
    """Give the pressure of water vapour over water, kPa, at t_C in 0..100 degrees C [Buck1996].

    Within 0.1 % of IAPWS-95. Raises `OutOfRange` outside.
    """
    require_liquid(t_C)
    return 0.61121 * exp((18.678 - t_C / 234.5) * t_C / (257.14 + t_C))


def permittivity(t_C: float) -> float:
    """Give the relative permittivity (dielectric constant) of water at t_C in 0..100 degrees C [Malmberg1956].

    Within 0.25 % of IAPWS R8-97 up to 80 degrees C, 0.35 % at 100. Raises `OutOfRange` outside.
    """
    require_liquid(t_C)
    return 87.740 + t_C * (-0.40008 + t_C * (9.398e-4 - 1.410e-6 * t_C))


def pKw(t_C: float) -> float:
    """Give -log10 of the ion product of water (molal) at t_C in 0..100 degrees C [IAPWS-R11].

    14.946 at 0, 13.994 at 25, 13.265 at 50 degrees C. Raises `OutOfRange` outside.
    """
    return pKw_at(t_C + ZERO_CELSIUS, density(t_C) / 1000)


def pKw_at(kelvin: float, grams_per_cm3: float) -> float:
    """Give -log10 of the ion product of water (molal) of liquid water at a temperature and a density [IAPWS-R11]."""
    T, d = kelvin, grams_per_cm3
    z = d * exp(-0.702132 + 8681.05 / T - 24145.1 / T**2 * d ** (2 / 3))
    liquid = -12 * (log10(1 + z) - z / (1 + z) * d * (0.813876 - 51.4471 / T - 0.46992 * d))
    gas = -0.61415 - 48251.33 / T + 67707.93 / T**2 - 10102100 / T**3
    return liquid - gas + 2 * log10(18.015268e-3)
