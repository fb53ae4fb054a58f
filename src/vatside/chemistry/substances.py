"""The substances that the liquor understands: formula masses, and what a mole of each brings to a bath."""

from __future__ import annotations

from vatside.chemistry.alkalis import ALKALIS
from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.formulas import Substance
from vatside.chemistry.reducers import REDUCERS

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
