"""A pure substance: its formula, its mass, and what a mole of it brings to a bath."""

from __future__ import annotations

from attrs import frozen


@frozen
class Substance:
    """One pure substance."""

    name: str
    formula: str
    molar_mass: float
    """g/mol [CIAAW]."""
    gives: tuple[tuple[str, float], ...] = ()
    """What a mole brings to a bath: a total of `vatside.chemistry.bath.Bath`, and moles of it."""
