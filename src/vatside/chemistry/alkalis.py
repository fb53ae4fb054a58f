"""The alkalis: what each stands in for of lye, and how much acid it can take in all."""

from __future__ import annotations

from attrs import frozen

from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.substances import moles, substance


@frozen
class Alkali:
    """One alkali, by the mole [Reactions]."""

    substance: str
    hydroxide: float
    """Moles of hydroxide a mole stands in for; a carbonate gives one, turning to bicarbonate."""
    acid: float
    """Moles of strong acid a mole takes before the bath turns sour, its carbonate gone as carbon dioxide."""
    gives_off: tuple[str, ...] = ()
    """Gases to be warned of."""


_ALL = (
    Alkali("sodium hydroxide", 1, 1),
    Alkali("calcium hydroxide", 2, 2),
    Alkali("sodium carbonate", 1, 2),
    Alkali("sodium carbonate monohydrate", 1, 2),
    Alkali("washing soda", 1, 2),
    Alkali("sodium bicarbonate", 0, 1),
    Alkali("ammonia", 1, 1, ("ammonia",)),
)

ALKALIS: dict[str, Alkali] = {one.substance: one for one in _ALL}
"""The alkalis, by substance."""

HYDROXIDE: dict[str, float] = {one.substance: one.hydroxide for one in _ALL if one.hydroxide}
"""Moles of hydroxide a mole of alkali stands in for, of those that stand in for any [Reactions]."""


def naoh_equivalent(name: str) -> float:
    """Give the grams of sodium hydroxide that a gram of an alkali stands in for [Reactions].

    1.080 for slaked lime if all of it dissolves, 0.377 for soda ash.
    """
    if name not in HYDROXIDE:
        raise OutOfRange(f"“{name}” is no alkali that is known here; {', '.join(HYDROXIDE)} are.")
    return HYDROXIDE[name] * substance("sodium hydroxide").molar_mass / substance(name).molar_mass


def acid_taken(name: str, grams: float) -> float:
    """Give the moles of strong acid that grams of an alkali take in all: 18.9 mmol a gram of soda ash [Reactions].

    Raises `OutOfRange` for what is no alkali.
    """
    if name not in ALKALIS:
        raise OutOfRange(f"“{name}” is no alkali that is known here; {', '.join(ALKALIS)} are.")
    return ALKALIS[name].acid * moles(name, grams)
