"""The same strength from other fibre: the vat filled less or more, or the indigo held for the liquor there is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from attrs import evolve

from vatside.recipe.compute import compute
from vatside.recipe.measures import total_grams
from vatside.recipe.plan import Lot, Plan
from vatside.recipe.sheet import Sheet
from vatside.units import Amount

FILL, STRENGTH = "vat.fill", "vat.strength"
"""What is filled, fibre in, and the indigotin in it."""
SAME_SHARE = 0.005
"""Fibre or strengths that differ by no more than this share are the same. Ours, no source."""
OF_STOCK = ("stock.alkali", "stock.reducer")
"""What goes with the indigo by itself, unless it is held."""


def fibre_ratio(old: Plan, lots: Sequence[Lot]) -> float:
    """Give how much more fibre there is in some lots than in a plan; 1 where nothing is to be compared."""
    before, after = total_grams(old), total_grams(evolve(old, lots=tuple(lots)))
    ratio = after / before if before and after else 1.0
    return 1.0 if abs(ratio - 1) <= SAME_SHARE else ratio


def fill_for(old: Plan, lots: Sequence[Lot]) -> float | None:
    """Give how far to fill the vat (L) so that other lots have the liquor for each gram that those of a plan had.

    None if the fibre is as much as before, or the tub does not hold it.
    """
    ratio = fibre_ratio(old, lots)
    filled = compute(old).value(FILL) * ratio
    return None if ratio == 1 or filled > most_filled(old) * (1 + SAME_SHARE) else filled


def most_filled(plan: Plan) -> float:
    """Give how far the tub of a plan can be filled (L), its headspace left."""
    return compute(evolve(plan, pins=())).value(FILL)


def held_for_strength(plan: Plan, sheet: Sheet, wanted: float) -> Iterator[tuple[str, Amount]]:
    """Give the figures and grams to hold so that a plan comes to a strength (g/L): the indigo, and what is held by it.

    Nothing for a vat without dye, or one that comes to it anyway.
    """
    there = sheet.value(STRENGTH)
    factor = wanted / there if there > 0 else 1.0
    if wanted <= 0 or abs(factor - 1) <= SAME_SHARE:
        return
    held = {pin.figure for pin in plan.pins}
    for figure in ("stock.pigment", *(figure for figure in OF_STOCK if figure in held)):
        yield figure, Amount(float(f"{sheet.value(figure) * factor:.4g}"), "g")
