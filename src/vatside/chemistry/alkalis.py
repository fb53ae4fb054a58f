"""The alkalis: what each stands in for of lye, how much acid it can take in all, and how it behaves in water."""

from __future__ import annotations

from attrs import frozen

from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.formulas import Substance


@frozen
class Alkali:
    """One alkali, by the mole [Reactions]."""

    pure: Substance
    hydroxide: float
    """Moles of hydroxide a mole stands in for; a carbonate gives one, turning to bicarbonate."""
    acid: float
    """Moles of strong acid a mole takes before the bath turns sour, its carbonate gone as carbon dioxide."""
    gives_off: tuple[str, ...] = ()
    """Gases to be warned of."""
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

_ALL = (
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
    Alkali(Substance("ammonia", "NH3", 17.0305, (("ammonia", 1.0),)), 1, 1, ("ammonia",)),
)  # fmt: skip

ALKALIS: dict[str, Alkali] = {one.substance: one for one in _ALL}
"""The alkalis, by substance."""
LYE, LIME, SODA_ASH, _MONOHYDRATE, WASHING_SODA, BAKING_SODA, _AMMONIA = ALKALIS
"""Names of those that the arithmetic counts in: alkali is told as lye, carbonate as a soda."""

HYDROXIDE: dict[str, float] = {one.substance: one.hydroxide for one in _ALL if one.hydroxide}
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


def acid_taken(name: str, grams: float) -> float:
    """Give the moles of strong acid that grams of an alkali take in all: 18.9 mmol a gram of soda ash [Reactions].

    Raises `OutOfRange` for what is no alkali.
    """
    kind = alkali(name)
    return kind.acid * grams / kind.pure.molar_mass


def heats(name: str) -> bool:
    """Tell whether a substance is an alkali that heats its water; false for what is no alkali."""
    return name in ALKALIS and ALKALIS[name].heats


def saturates(name: str) -> bool:
    """Tell whether a substance is an alkali that lies at the bottom and holds the pH; false for what is no alkali."""
    return name in ALKALIS and ALKALIS[name].saturates
