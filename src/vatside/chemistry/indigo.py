"""Leuco-indigo's ionic forms, and what reducing indigo takes of reducer and alkali."""

from __future__ import annotations

from typing import Literal

from attrs import frozen

from vatside.chemistry.alkalis import HYDROXIDE, LYE, naoh_equivalent
from vatside.chemistry.reducers import REDUCERS, Reducer, reducer
from vatside.chemistry.substances import substance

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
