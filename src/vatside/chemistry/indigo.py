"""Leuco-indigo's ionic forms, and the reactions that make it.

In alkali, with two electrons for each molecule of indigo and four for each of oxygen:

    indigo + 2 e- + 2 H2O                     -> leuco acid + 2 OH-
    leuco acid + n OH-                        -> leuco ion (charge n-) + n H2O
    thiourea dioxide + 4 OH-                  -> urea + SO3(2-) + 2 H2O + 2 e-      (with indigo) [Svarovsky2000]
    thiourea dioxide + 6 OH-                  -> urea + SO4(2-) + 3 H2O + 4 e-      (with oxygen)
    S2O4(2-) + 4 OH-                          -> 2 SO3(2-) + 2 H2O + 2 e-           (with indigo)
    Na2S2O4 + O2 + 2 NaOH                     -> Na2SO3 + Na2SO4 + H2O              (with oxygen)
    FeSO4 + 2 OH-  -> Fe(OH)2 ;  Fe(OH)2 + OH- -> Fe(OH)3 + e-
    fructose + 3 OH-                          -> a sugar acid ion + 2 H2O + 2 e-    (a working assumption, from memory)
"""

from __future__ import annotations

from typing import Literal

from attrs import frozen

from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.substances import substance

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


@frozen
class Reducer:
    """What one reducer gives up and uses, by the reactions at the head of this module [Reactions]."""

    per_indigotin: float
    """Moles for a mole of indigotin."""
    hydroxide_mono: float
    """Moles of hydroxide used in all for a mole of indigotin brought to the single leuco ion."""
    per_oxygen: float
    """Moles for a mole of oxygen."""
    hydroxide_oxygen: float
    """Moles of hydroxide used in all for a mole of oxygen."""
    assumed: bool = False
    """True where no fixed reaction exists: never show its figures as theory."""


REDUCERS: dict[str, Reducer] = {
    "thiourea dioxide": Reducer(1, 3, 1, 2),
    "sodium dithionite": Reducer(1, 3, 1, 2),
    "ferrous sulfate heptahydrate": Reducer(2, 5, 4, 8),
    "fructose": Reducer(1, 2, 2, 2, assumed=True),
}
"""The reducers, by substance [Reactions]."""

HYDROXIDE: dict[str, float] = {
    "sodium hydroxide": 1,
    "calcium hydroxide": 2,
    "sodium carbonate": 1,
    "sodium carbonate monohydrate": 1,
    "washing soda": 1,
}
"""Moles of hydroxide a mole of alkali stands in for; a carbonate gives one, turning to bicarbonate [Reactions]."""


def reducer(name: str) -> Reducer:
    """Look a reducer up by its substance; raises `OutOfRange` with the names there are."""
    if name not in REDUCERS:
        raise OutOfRange(f"“{name}” is no reducer that is known here; {', '.join(REDUCERS)} are.")
    return REDUCERS[name]


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
    return moles * _mass("sodium hydroxide") / _mass("indigotin")


def reducer_per_gram_oxygen(name: str) -> float:
    """Give the grams of pure reducer that use up a gram of oxygen, the least by theory [Reactions]."""
    return reducer(name).per_oxygen * _mass(name) / _mass("oxygen")


def naoh_per_gram_oxygen(name: str) -> float:
    """Give the grams of sodium hydroxide used while a reducer uses up a gram of oxygen [Reactions]."""
    return reducer(name).hydroxide_oxygen * _mass("sodium hydroxide") / _mass("oxygen")


def naoh_equivalent(name: str) -> float:
    """Give the grams of sodium hydroxide that a gram of an alkali stands in for [Reactions].

    1.080 for slaked lime if all of it dissolves, 0.377 for soda ash.
    """
    if name not in HYDROXIDE:
        raise OutOfRange(f"“{name}” is no alkali that is known here; {', '.join(HYDROXIDE)} are.")
    return HYDROXIDE[name] * _mass("sodium hydroxide") / _mass(name)


def _mass(name: str) -> float:
    return substance(name).molar_mass
