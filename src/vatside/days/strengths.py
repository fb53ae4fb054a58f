"""The same strength from other fibre, where the new vat does not come to it by itself.

A vat is made for its fibre, and most come to the strength of their depth. Where litres or powder were held, or the tubs
left no choice, the vat is filled less or more, or the indigo is held for the liquor there is.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from attrs import evolve

from vatside.plan.measures import total_grams
from vatside.plan.plan import Lot, Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.compute import compute
from vatside.recipe.need import need_of, room_of, tubs
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

    None if the fibre is as much as before, too heavy to hang in so little, or no tub of the plan holds it.
    """
    ratio = fibre_ratio(old, lots)
    filled, need = compute(old).value(FILL) * ratio, need_of(anew(old, lots))
    most = room_of(need, tubs(need)[-1]) * (1 + SAME_SHARE)
    return None if ratio == 1 or not need.least_fill <= filled <= most else filled


def anew(old: Plan, lots: Sequence[Lot]) -> Plan:
    """Give a plan for other lots in a new vat, nothing of it held."""
    return evolve(old, pins=(), kept=None, stock_kept=None, lots=tuple(lots))


def is_same(one: float, other: float) -> bool:
    """Tell whether two strengths are the same."""
    return abs(one - other) <= SAME_SHARE * max(one, other)


def held_for_strength(plan: Plan, sheet: Sheet, wanted: float) -> Iterator[tuple[str, Amount]]:
    """Give the figures and grams to hold so that a plan comes to a strength (g/L): the indigo, and what is held by it.

    Nothing for a vat without dye, or one that comes to it anyway.
    """
    there = sheet.value(STRENGTH)
    factor = wanted / there if there > 0 else 1.0
    if wanted <= 0 or is_same(wanted, there):
        return
    held = {pin.figure for pin in plan.pins}
    for figure in ("stock.pigment", *(figure for figure in OF_STOCK if figure in held)):
        yield figure, Amount(float(f"{sheet.value(figure) * factor:.4g}"), "g")
