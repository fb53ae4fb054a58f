"""How strongly ions act in salty water: Davies when dilute, Pitzer for lye when strong.

One coefficient, that of a singly charged ion, serves a whole liquor; an ion of charge z has its z^2-th power, as in
Davies' formula. Above 0.15 mol/kg it passes smoothly from Davies to the mean coefficient of sodium hydroxide of the
same ionic strength by Pitzer, and from 0.25 mol/kg on it is Pitzer's alone: the two differ by 0.01 there, so that the
hand-over bends nothing. For liquors of other salts above 0.25 mol/kg that is a stand-in, good to about 0.1 in pH.
"""

from __future__ import annotations

from functools import lru_cache
from math import exp, log, log10, sqrt

from vatside.chemistry.water import ZERO_CELSIUS, density, permittivity

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
