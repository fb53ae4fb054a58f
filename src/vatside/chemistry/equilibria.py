"""The equilibrium constants of the liquor, by temperature."""

from __future__ import annotations

from functools import lru_cache
from math import log10

from attrs import evolve, frozen

from vatside.chemistry.activity import LN10
from vatside.chemistry.indigo import PKA_FIRST, PKA_SECOND
from vatside.chemistry.water import ZERO_CELSIUS, pKw, require_liquid

_R = 8.314463e-3
"""Gas constant, kJ/(mol K), by definition."""
_T25 = 25 + ZERO_CELSIUS

SULFITE = ((1.857, -17.80), (7.172, -3.65))
"""pK at 25 degrees C and heat of reaction, kJ/mol [Goldberg2002]."""
LIME = (5.232, -19.4)
"""pK of Ca(OH)2 = Ca2+ + 2 OH- and heat, kJ/mol: effective, within 4.5 % in solubility at 0..60 degrees C [LimeFit]."""
CALCIUM_HYDROXIDE_ION = (-1.376, 11.84)
"""-log K of Ca2+ + OH- = CaOH+ and heat, kJ/mol: effective [LimeFit]."""
GYPSUM = 4.37
"""pK of CaSO4(H2O)2 = Ca2+ + SO4(2-) + 2 H2O, effective without the ion pair, at all temperatures [Gypsum]."""
IRON_HYDROXIDE = 15.1
"""pK of Fe(OH)2 = Fe2+ + 2 OH-, at all temperatures [IronHydroxide]."""


@frozen
class Equilibria:
    """Constants at one temperature, as -log10; acids one for each hydrogen ion given off."""

    water: float
    carbonate: tuple[float, ...]
    sulfite: tuple[float, ...]
    acetate: tuple[float, ...]
    citrate: tuple[float, ...]
    leuco: tuple[float, ...]
    lime: float
    calcium_hydroxide_ion: float
    gypsum: float = GYPSUM
    iron_hydroxide: float = IRON_HYDROXIDE


@lru_cache(maxsize=256)
def equilibria(t_C: float) -> Equilibria:
    """Give the constants at t_C in 0..100 degrees C; raises `OutOfRange` outside.

    Over 90 degrees C for carbonate, 60 for acetate and 50 for citrate, they are extrapolated.
    """
    require_liquid(t_C)
    T = t_C + ZERO_CELSIUS
    return Equilibria(
        water=pKw(t_C),
        carbonate=_carbonate(T),
        sulfite=tuple(_moved(pK, kJ, T) for pK, kJ in SULFITE),
        acetate=_acetate(T),
        citrate=_citrate(T),
        leuco=(PKA_FIRST, PKA_SECOND),
        lime=_moved(*LIME, T),
        calcium_hydroxide_ion=_moved(*CALCIUM_HYDROXIDE_ION, T),
    )


def nothing_settles(constants: Equilibria) -> Equilibria:
    """Give the constants of a liquor out of which no solid comes, however much it holds."""
    return evolve(constants, lime=_ENDLESS, gypsum=_ENDLESS, iron_hydroxide=_ENDLESS)


_ENDLESS = -40.0
"""A pK for which any bath dissolves everything."""


def _moved(pK_25: float, kJ_per_mol: float, T: float) -> float:
    """Carry a constant from 25 degrees C to T kelvins by van 't Hoff's law with a fixed heat of reaction."""
    return pK_25 + kJ_per_mol / (_R * LN10) * (1 / T - 1 / _T25)


def _carbonate(T: float) -> tuple[float, float]:
    """[PlummerBusenberg1982]."""
    logT = log10(T)
    first = -356.3094 - 0.06091964 * T + 21834.37 / T + 126.8339 * logT - 1684915 / T**2
    second = -107.8871 - 0.03252849 * T + 5151.79 / T + 38.92561 * logT - 563713.9 / T**2
    return -first, -second


def _acetate(T: float) -> tuple[float]:
    """[HarnedEhlers1933]."""
    return (1170.48 / T - 3.1649 + 0.013399 * T,)


def _citrate(T: float) -> tuple[float, float, float]:
    """[BatesPinching1949]."""
    return (
        1255.6 / T - 4.5635 + 0.011673 * T,
        1585.2 / T - 5.4460 + 0.016399 * T,
        1814.9 / T - 6.3664 + 0.022389 * T,
    )
