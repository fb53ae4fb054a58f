"""Dosing a new lot of pigment so that it strikes like the one that the dyer knows."""

from __future__ import annotations

from vatside.session.shelf.events import ItemChanged
from vatside.units import Amount

WEAKEST, STRONGEST = 0.1, 10.0
"""Beyond these the strips were not dyed alike, or one of them is no indigo. Ours, no source."""


def strike_factor(old_depth: float, new_depth: float) -> float:
    """Say how a new lot strikes beside the old one: 1.1 is a tenth more colour from the same weight of indigotin.

    Both strips dyed alike, from the same weight of indigotin: the old lot's as it is dosed, the new lot's by its label.
    Depths on one scale that grows with the dye on the strip: % by the dyer's own swatches, or K/S while it is below
    10 (trade practice, form assumed). ValueError for depths that are no depths, or more than ten times apart.
    """
    if not (old_depth > 0 and new_depth > 0):
        raise ValueError("both strips must have taken some colour")
    factor = new_depth / old_depth
    if not WEAKEST <= factor <= STRONGEST:
        raise ValueError("one strip is more than ten times the other: dip both again, alike")
    return factor


def struck(item: str, old_depth: float, new_depth: float) -> ItemChanged:
    """Give the event that lets an item be dosed to match the old lot; ValueError as for `strike_factor`."""
    return ItemChanged(item, "strike", Amount(round(100 * strike_factor(old_depth, new_depth), 1), "%"))
