"""Plain water at 101.325 kPa between 0 and 100 degrees C, and how strongly ions act in it once it is salty.

How strongly ions act: Davies when dilute, Pitzer for lye when strong.
One coefficient, that of a singly charged ion, serves a whole liquor; an ion of charge z has its z^2-th power, as in
Davies' formula. Above 0.15 mol/kg it passes smoothly from Davies to the mean coefficient of sodium hydroxide of the
same ionic strength by Pitzer, and from 0.25 mol/kg on it is Pitzer's alone: the two differ by 0.01 there, so that the
hand-over bends nothing. For liquors of other salts above 0.25 mol/kg that is a stand-in, good to about 0.1 in pH.
"""

from __future__ import annotations

from functools import lru_cache
from math import exp, log, log10, sqrt

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


LN10 = log(10)

HAND_OVER_FROM = 0.15
HAND_OVER_TO = 0.25
"""Ionic strengths, mol/kg, between which Davies gives way to Pitzer."""

STRONGEST = 6.0
"""Pitzer's numbers for lye hold to here, mol/kg; anything stronger counts as this [PitzerMayorga1973]."""

_BETA_0 = (0.0864, 7.00e-4)
_BETA_1 = (0.253, 1.34e-4)
_C_PHI = (0.0044, -1.894e-4)
"""Value at 25 degrees C [PitzerMayorga1973] and change for each degree [SilvesterPitzer1978]."""
_B = 1.2
_ALPHA = 2.0
"""Common to all 1-1 salts [PitzerMayorga1973]."""

WATER_PER_SOLUTE = 0.017
"""Fall of the water's activity for each mol/kg of particles [GarrelsChrist1965]."""


@lru_cache(maxsize=256)
def debye_huckel(t_C: float) -> float:
    """Give A of Debye and Hueckel's law, log10 and molal, at 0..100 degrees C: 0.511 at 25 [Malmberg1956]."""
    heat = permittivity(t_C) * (t_C + ZERO_CELSIUS)
    return 1.82481e6 * sqrt(density(t_C) / 1000) / (heat * sqrt(heat))


def davies(ionic_strength: float, t_C: float) -> float:
    """Give log10 of the activity coefficient of a singly charged ion, for up to 0.2 mol/kg [Davies1962]."""
    root = sqrt(ionic_strength)
    return -debye_huckel(t_C) * (root / (1 + root) - 0.3 * ionic_strength)


def pitzer_lye(molality: float, t_C: float) -> float:
    """Give log10 of the mean activity coefficient of NaOH [PitzerMayorga1973] [SilvesterPitzer1978].

    For up to 6 mol/kg; 0..100 degrees C, of which the temperature terms are meant for 0..50.
    """
    if molality == 0:
        return 0.0
    m, root = molality, sqrt(molality)
    slope = debye_huckel(t_C) * LN10 / 3
    beta_0, beta_1, c_phi = (at_25 + per_K * (t_C - 25) for at_25, per_K in (_BETA_0, _BETA_1, _C_PHI))
    electric = -slope * (root / (1 + _B * root) + 2 / _B * log(1 + _B * root))
    near = 1 - (1 + _ALPHA * root - _ALPHA**2 * m / 2) * exp(-_ALPHA * root)
    pairs = 2 * beta_0 * m + 2 * beta_1 / _ALPHA**2 * near
    return (electric + pairs + 1.5 * c_phi * m**2) / LN10


def log_gamma(ionic_strength: float, t_C: float) -> float:
    """Give log10 of the activity coefficient of a singly charged ion in a liquor at 0..100 degrees C.

    Davies [Davies1962], Pitzer for lye [PitzerMayorga1973] and the hand-over described at the head of this module.
    """
    strength = min(ionic_strength, STRONGEST)
    if strength <= HAND_OVER_FROM:
        return davies(strength, t_C)
    if strength >= HAND_OVER_TO:
        return pitzer_lye(strength, t_C)
    part = (strength - HAND_OVER_FROM) / (HAND_OVER_TO - HAND_OVER_FROM)
    part = part * part * (3 - 2 * part)
    return (1 - part) * davies(strength, t_C) + part * pitzer_lye(strength, t_C)


def log_water_activity(ionic_strength: float) -> float:
    """Give log10 of the activity of water in a liquor, as in lye of the same ionic strength [GarrelsChrist1965]."""
    return log10(1 - WATER_PER_SOLUTE * 2 * min(ionic_strength, STRONGEST))
