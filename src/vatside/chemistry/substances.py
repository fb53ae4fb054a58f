"""The substances that the liquor understands: what a mole of each brings to a bath, the alkalis, and leuco-indigo.

An alkali: what it stands in for of lye, how much acid it can take in all, how it behaves in water. Leuco-indigo: its
ionic forms, and what reducing indigo takes of reducer and alkali.
"""

from __future__ import annotations

from typing import Literal

from attrs import frozen

from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.reducers import REDUCERS, Reducer, Substance, reducer


@frozen
class Alkali:
    """One alkali, by the mole [Reactions]."""

    pure: Substance
    hydroxide: float
    """Moles of hydroxide a mole stands in for; a carbonate gives one, turning to bicarbonate."""
    acid: float
    """Moles of strong acid a mole takes before the bath turns sour, its carbonate gone as carbon dioxide."""
    caustic: bool = False
    """It burns skin and blinds eyes: a label says so."""
    heats: bool = False
    """It heats the water that it dissolves in, so it goes into cold water in a jug of its own."""
    saturates: bool = False
    """What does not dissolve lies at the bottom and holds the pH by itself."""
    gentle: bool = False
    """Wool and silk are not given it: soda ash and baking soda hold their vat in its place."""
    free: float = 0.0
    """Kept free in a stock once all else is taken, g/L."""

    @property
    def substance(self) -> str:
        """Its name."""
        return self.pure.name

    @property
    def is_carbonate(self) -> bool:
        """Tell a soda, whose carbonate is to be reckoned with."""
        return any(total == "carbonate" for total, _ in self.pure.gives)


LEAST_FREE_LYE = 0.4
"""Lye that keeps a litre above pH 11.9 at 25 degrees C once all else is taken, g [Reactions]."""
_SODIUM_CARBONATE = (("sodium", 2.0), ("carbonate", 1.0))

_ALL_ALKALIS = (
    Alkali(
        Substance("sodium hydroxide", "NaOH", 39.9971, (("sodium", 1.0),)), 1, 1,
        caustic=True, heats=True, gentle=True, free=LEAST_FREE_LYE,
    ),
    Alkali(
        Substance("calcium hydroxide", "Ca(OH)2", 74.0927, (("calcium", 1.0),)), 2, 2, caustic=True, saturates=True,
    ),
    Alkali(Substance("sodium carbonate", "Na2CO3", 105.9885, _SODIUM_CARBONATE), 1, 2, gentle=True),
    Alkali(Substance("sodium carbonate monohydrate", "Na2CO3(H2O)", 124.0038, _SODIUM_CARBONATE), 1, 2, gentle=True),
    Alkali(Substance("washing soda", "Na2CO3(H2O)10", 286.1414, _SODIUM_CARBONATE), 1, 2, gentle=True),
    Alkali(Substance("sodium bicarbonate", "NaHCO3", 84.0067, (("sodium", 1.0), ("carbonate", 1.0))), 0, 1),
    Alkali(Substance("ammonia", "NH3", 17.0305, (("ammonia", 1.0),)), 1, 1),
)  # fmt: skip

ALKALIS: dict[str, Alkali] = {one.substance: one for one in _ALL_ALKALIS}
"""The alkalis, by substance."""
LYE, LIME, SODA_ASH, _MONOHYDRATE, WASHING_SODA, BAKING_SODA, _AMMONIA = ALKALIS
"""Names of those that the arithmetic counts in: alkali is told as lye, carbonate as a soda."""

HYDROXIDE: dict[str, float] = {one.substance: one.hydroxide for one in _ALL_ALKALIS if one.hydroxide}
"""Moles of hydroxide a mole of alkali stands in for, of those that stand in for any [Reactions]."""


def alkali(name: str) -> Alkali:
    """Look an alkali up by its substance; raises `OutOfRange` with the names there are."""
    if name not in ALKALIS:
        raise OutOfRange(f"“{name}” is no alkali that is known here; {', '.join(ALKALIS)} are.")
    return ALKALIS[name]


def naoh_equivalent(name: str) -> float:
    """Give the grams of sodium hydroxide that a gram of an alkali stands in for [Reactions].

    1.080 for slaked lime if all of it dissolves, 0.377 for soda ash.
    """
    if name not in HYDROXIDE:
        raise OutOfRange(f"“{name}” is no alkali that is known here; {', '.join(HYDROXIDE)} are.")
    return HYDROXIDE[name] * ALKALIS[LYE].pure.molar_mass / ALKALIS[name].pure.molar_mass


def heats(name: str) -> bool:
    """Tell whether a substance is an alkali that heats its water; false for what is no alkali."""
    return name in ALKALIS and ALKALIS[name].heats


def saturates(name: str) -> bool:
    """Tell whether a substance is an alkali that lies at the bottom and holds the pH; false for what is no alkali."""
    return name in ALKALIS and ALKALIS[name].saturates


_CITRIC = (("citrate", 1.0),)

_ALL = (
    *(one.pure for one in ALKALIS.values()),
    *(one.pure for one in REDUCERS.values()),
    Substance("indigotin", "C16H10N2O2", 262.2635, (("indigotin", 1.0),)),
    Substance("leuco-indigo", "C16H12N2O2", 264.2793, (("leuco", 1.0),)),
    Substance("acetic acid", "C2H4O2", 60.0521, (("acetate", 1.0),)),
    Substance("citric acid", "C6H8O7", 192.1238, _CITRIC),
    Substance("citric acid monohydrate", "C6H8O7(H2O)", 210.1391, _CITRIC),
    Substance("sodium sulfite", "Na2SO3", 126.0426, (("sodium", 2.0), ("sulfite", 1.0))),
    Substance("sodium sulfate", "Na2SO4", 142.0420, (("sodium", 2.0), ("sulfate", 1.0))),
    Substance("sodium chloride", "NaCl", 58.4427, (("sodium", 1.0), ("strong_anions", 1.0))),
    Substance("calcium chloride", "CaCl2", 110.9834, (("calcium", 1.0), ("strong_anions", 2.0))),
    Substance("calcium chloride dihydrate", "CaCl2(H2O)2", 147.0140, (("calcium", 1.0), ("strong_anions", 2.0))),
    Substance("magnesium chloride", "MgCl2", 95.2108, (("magnesium", 1.0), ("strong_anions", 2.0))),
    Substance("calcium carbonate", "CaCO3", 100.0869, (("calcium", 1.0), ("carbonate", 1.0))),
    Substance("oxygen", "O2", 31.9988),
)

SUBSTANCES: dict[str, Substance] = {one.name: one for one in _ALL}
"""Every substance, by name."""

VINEGAR_STRENGTH = 0.05
"""Grams of acetic acid in a millilitre of household vinegar (5 % w/v): common practice, no source."""
VINEGAR_WATER = 0.955
"""Grams of water in a millilitre of it, from a density of 1.005 g/mL: from memory."""


def substance(name: str) -> Substance:
    """Look a substance up by name; raises `OutOfRange` with the names there are."""
    try:
        return SUBSTANCES[name]
    except KeyError:
        raise OutOfRange(f"The liquor does not know “{name}”; it knows {', '.join(SUBSTANCES)}.") from None


def moles(name: str, grams: float) -> float:
    """Turn grams of a pure substance into moles [CIAAW]."""
    return grams / substance(name).molar_mass


__all__ = [
    "HYDROXIDE",
    "PKA_FIRST",
    "PKA_SECOND",
    "REDUCERS",
    "Form",
    "LeucoShares",
    "Reducer",
    "leuco_shares",
    "naoh_equivalent",
    "naoh_per_gram",
    "naoh_per_gram_oxygen",
    "reducer",
    "reducer_per_gram",
    "reducer_per_gram_oxygen",
]

PKA_FIRST = 7.97
PKA_SECOND = 12.68
"""pKa of leuco-indigo at 25 degrees C, used at every temperature because no other is known [Etters]."""

Form = Literal["mono", "di"]
"""The leuco ion that the alkali is counted up to."""


@frozen
class LeucoShares:
    """Which part of the leuco-indigo is in which form; the three sum to 1."""

    acid: float
    """Not dissolved, or hardly."""
    mono: float
    """The single ion, which goes on to the fibre most readily [Etters1996]."""
    di: float


def leuco_shares(pH: float) -> LeucoShares:
    """Split leuco-indigo into its forms at a pH [Etters].

    The constants count as they stand, without activity coefficients: whether they hold for the thermodynamic or the
    measured scale is not known. The doubt of 0.3 in the second makes the double ion at pH 12 anything from 10 to 30 %,
    so show whole percents.
    """
    mono = 10 ** (min(max(pH, -20.0), 40.0) - PKA_FIRST)
    di = mono * 10 ** (min(max(pH, -20.0), 40.0) - PKA_SECOND)
    total = 1 + mono + di
    return LeucoShares(1 / total, mono / total, di / total)


def reducer_per_gram(name: str) -> float:
    """Give the grams of pure reducer that reduce a gram of indigotin, the least by theory [Reactions].

    0.41 thiourea dioxide, 0.66 dithionite, 2.12 copperas; 0.69 fructose is an assumption. Practice uses a multiple.
    """
    return reducer(name).per_indigotin * _mass(name) / _mass("indigotin")


def naoh_per_gram(name: str, form: Form = "mono") -> float:
    """Give the grams of sodium hydroxide used in reducing a gram of indigotin with a reducer [Reactions].

    Up to the single or the double leuco ion: 0.46 or 0.61 with thiourea dioxide or dithionite, 0.76 or 0.92 with
    copperas (its iron takes alkali too).
    """
    moles = reducer(name).hydroxide_mono + (1 if form == "di" else 0)
    return moles * _mass(LYE) / _mass("indigotin")


def reducer_per_gram_oxygen(name: str) -> float:
    """Give the grams of pure reducer that use up a gram of oxygen, the least by theory [Reactions]."""
    return reducer(name).per_oxygen * _mass(name) / _mass("oxygen")


def naoh_per_gram_oxygen(name: str) -> float:
    """Give the grams of sodium hydroxide used while a reducer uses up a gram of oxygen [Reactions]."""
    return reducer(name).hydroxide_oxygen * _mass(LYE) / _mass("oxygen")


def _mass(name: str) -> float:
    return substance(name).molar_mass


def whole_percents(pH: float) -> tuple[int, int, int]:
    """Give the shares of leuco acid, single and double ion at a pH in whole percents, 100 in all [Etters]."""
    shares = leuco_shares(pH)
    acid, di = round(100 * shares.acid), round(100 * shares.di)
    return acid, 100 - acid - di, di
