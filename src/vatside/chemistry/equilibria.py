"""The equilibrium constants of the liquor by temperature, and calcium between water, anions that hold it, and solids.

The solids at the bottom: lime, gypsum, chalk, citrate.
"""

from __future__ import annotations

from functools import lru_cache
from math import exp, inf, log, log10, sqrt
from typing import NamedTuple

from attrs import evolve, frozen

from vatside.chemistry.substances import PKA_FIRST, PKA_SECOND
from vatside.chemistry.water import LN10, ZERO_CELSIUS, pKw, require_liquid

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
BRUCITE = (10.88, 20.3)
"""pK of Mg(OH)2 = Mg2+ + 2 OH- and heat, kJ/mol [PHREEQC]."""
MAGNESIUM_HYDROXIDE_ION = (-2.56, 11.0)
"""-log K of Mg2+ + OH- = MgOH+ and heat, kJ/mol [PHREEQC]."""
CALCIUM_CITRATE = 17.81
"""pK of Ca3(citrate)2(H2O)4, at all temperatures [CalciumCitrate2018]."""
AMMONIUM = (9.244, 52.2)
"""pK of NH4+ = NH3 + H+ and heat, kJ/mol [PHREEQC]."""
SULFURIC_FIRST = -30.0
"""Stands for a first hydrogen of sulfuric acid that is off in any bath."""


@frozen
class Pair:
    """A calcium ion held by an anion, with hydrogen ions or without: uncharged or charged, but dissolved."""

    name: str
    hydrogens: int
    charge: int
    log_K: float  # noqa: N815  (chemistry's own symbol)
    """Of Ca2+ + n H+ + anion, at the temperature."""


CITRATE_PAIRS = (
    Pair("calcium citrate 1-", 0, -1, 4.87),
    Pair("calcium hydrogen citrate", 1, 0, 9.26),
    Pair("calcium dihydrogen citrate 1+", 2, 1, 12.257),
)
"""Used at every temperature [PHREEQC]."""
ACETATE_PAIRS = (Pair("calcium acetate 1+", 0, 1, 1.18),)
"""Used at every temperature [PHREEQC]."""


@frozen
class Equilibria:
    """Constants at one temperature, as -log10; acids one for each hydrogen ion given off."""

    water: float
    carbonate: tuple[float, ...]
    sulfite: tuple[float, ...]
    acetate: tuple[float, ...]
    citrate: tuple[float, ...]
    leuco: tuple[float, ...]
    sulfate: tuple[float, ...]
    ammonium: float
    lime: float
    calcium_hydroxide_ion: float
    calcite: float
    brucite: float
    magnesium_hydroxide_ion: float
    pairs: dict[str, tuple[Pair, ...]]
    """What calcium forms with the anions of an acid."""
    gypsum: float = GYPSUM
    iron_hydroxide: float = IRON_HYDROXIDE
    calcium_citrate: float = CALCIUM_CITRATE


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
        sulfate=(SULFURIC_FIRST, _bisulfate(T)),
        ammonium=_moved(*AMMONIUM, T),
        lime=_moved(*LIME, T),
        calcium_hydroxide_ion=_moved(*CALCIUM_HYDROXIDE_ION, T),
        calcite=_calcite(T),
        brucite=_moved(*BRUCITE, T),
        magnesium_hydroxide_ion=_moved(*MAGNESIUM_HYDROXIDE_ION, T),
        pairs={"carbonate": _carbonate_pairs(T), "citrate": CITRATE_PAIRS, "acetate": ACETATE_PAIRS},
    )


@lru_cache(maxsize=256)
def in_time(t_C: float) -> Equilibria:
    """Give the constants of a liquor before chalk, calcium citrate and magnesium hydroxide have settled.

    Lime, gypsum and ferrous hydroxide come to rest while one stirs; these take minutes to days, if they come at all.
    """
    return evolve(equilibria(t_C), calcite=_ENDLESS, calcium_citrate=_ENDLESS, brucite=_ENDLESS)


@lru_cache(maxsize=256)
def nothing_settles(t_C: float) -> Equilibria:
    """Give the constants of a liquor out of which no solid comes, however much it holds."""
    return evolve(in_time(t_C), lime=_ENDLESS, gypsum=_ENDLESS, iron_hydroxide=_ENDLESS)


def carbon_dioxide_log_henry(t_C: float) -> float:
    """Give log10 of the mol/(kg atm) in which carbon dioxide dissolves, 0..90 degrees C [PlummerBusenberg1982]."""
    require_liquid(t_C)
    T = t_C + ZERO_CELSIUS
    return 108.3865 + 0.01985076 * T - 6919.53 / T - 40.45154 * log10(T) + 669365 / T**2


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


def _bisulfate(T: float) -> float:
    """Give the pK of HSO4- [PHREEQC]."""
    return -56.889 + 0.006473 * T + 2307.9 / T + 19.8858 * log10(T)


def _calcite(T: float) -> float:
    """Give the pK of CaCO3 = Ca2+ + CO3(2-) [PlummerBusenberg1982]."""
    return 171.9065 + 0.077993 * T - 2839.319 / T - 71.595 * log10(T)


def _carbonate_pairs(T: float) -> tuple[Pair, Pair]:
    """[PlummerBusenberg1982], with bicarbonate's from Ca2+ + CO3(2-) + H+."""
    logT = log10(T)
    neutral = -1228.732 - 0.299440 * T + 35512.75 / T + 485.818 * logT
    single = 1317.0071 + 0.34546894 * T - 39916.84 / T - 517.70761 * logT + 563713.9 / T**2
    return Pair("calcium carbonate", 0, 0, neutral), Pair("calcium bicarbonate 1+", 1, 1, single)


MOST_STEPS = 200
CLOSE_ENOUGH = 1e-8
"""A step in the logarithm of free calcium after which the next would be lost in rounding: each squares the error."""


class Ligand(NamedTuple):
    """An anion that holds calcium in the water, or settles with it."""

    total: float
    """In all its forms, mol/kg."""
    spread: float
    """All its dissolved forms without calcium, for each free anion."""
    pairs: float = 0.0
    """Dissolved pairs for each free calcium and free anion."""
    product: float = inf
    """Free anion times free calcium to the power `ratio` that the solid keeps up; infinite: there is none."""
    ratio: float = 1.0
    """Calcium for each anion in the solid."""

    def free(self, calcium: float) -> float:
        """Give the free anion beside free calcium, mol/kg."""
        kept_up: float = self.product / calcium**self.ratio
        return min(self.total / (self.spread + self.pairs * calcium), kept_up)

    def solid(self, calcium: float) -> float:
        """Give the anion that lies at the bottom, mol/kg."""
        return max(self.total - self.free(calcium) * (self.spread + self.pairs * calcium), 0.0)


class Shared(NamedTuple):
    """Where the calcium is."""

    calcium: float
    """Free Ca2+, mol/kg."""
    lime: float
    """Solid calcium hydroxide, mol/kg."""


def share(total: float, held: float, ligands: tuple[Ligand, ...], lime_limit: float, guess: float = 0.0) -> Shared:
    """Share calcium (total, mol/kg) between the water, its anions and lime.

    `held` is dissolved calcium for each free Ca2+ (over 1 because of CaOH+), `lime_limit` the free Ca2+ that solid lime
    keeps up at this alkalinity; a `guess` at free calcium saves time.
    """
    if total <= 0:
        return Shared(0.0, 0.0)
    high = min(lime_limit, total / held)
    if high == lime_limit:
        lime = total - _accounted(high, held, ligands)[0]
        if lime >= 0:
            return Shared(high, lime)
    return Shared(_free_calcium(total, held, ligands, high, guess), 0.0)


def _accounted(calcium: float, held: float, ligands: tuple[Ligand, ...]) -> tuple[float, float]:
    """Give all calcium, dissolved or settled, that goes with so much free calcium, and how fast it grows with it."""
    amount, slope = calcium * held, held
    for total, spread, pairs, product, ratio in ligands:
        room = spread + pairs * calcium
        paired = total * pairs / room
        if total * calcium**ratio <= product * room:
            amount += paired * calcium
            slope += paired * spread / room
            continue
        free = product / calcium**ratio
        amount += ratio * total + free * (pairs * calcium - ratio * room)
        slope += free * (ratio * ratio * room - (2 * ratio - 1) * pairs * calcium) / calcium
    return amount, slope


def _free_calcium(total: float, held: float, ligands: tuple[Ligand, ...], high: float, guess: float) -> float:
    """Find the free calcium whose account comes to the total: Newton's steps between logarithms, inside a bracket."""
    low, x = 0.0, guess if 0 < guess <= high else _first(total, held, ligands, high)
    for _ in range(MOST_STEPS):
        amount, slope = _accounted(x, held, ligands)
        if amount > total:
            high = x
        else:
            low = x
        step = log(total / amount) * amount / (slope * x)
        ahead = x * exp(min(max(step, -50.0), 50.0))
        if abs(step) < CLOSE_ENOUGH:
            return ahead
        if not low < ahead <= high:
            ahead = sqrt(low * high) if low else high * 1e-3
        x = ahead
    return x


def _first(total: float, held: float, ligands: tuple[Ligand, ...], high: float) -> float:
    """Guess at the free calcium as if half of each anion could be in pairs; without pairs it is the most there is."""
    return min(total / (held + sum(ligand.total * ligand.pairs / (2 * ligand.spread) for ligand in ligands)), high)
