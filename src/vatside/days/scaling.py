"""Lots and held amounts made larger or smaller for another day, and the same strength from other fibre.

A vat is made for its fibre, and most come to the strength of their depth by themselves. Where litres or powder were
held, or the tubs left no choice, the vat is filled less or more, or the indigo is held for the liquor there is.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil, floor, log10

from attrs import evolve

from vatside.forms.fitting import rows, value_problem
from vatside.plan.measures import total_grams
from vatside.plan.plan import Form, Lot, Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.compute import compute
from vatside.recipe.need import need_of, room_of, tubs
from vatside.units import Amount, show_mass

MOST_PIECES = 999
"""What the form takes of a lot."""
LARGEST_SCALE = 1000.0
"""No day is made larger (or smaller) than this. Ours, no source."""


def scaled_lots(plan: Plan, grams: float) -> tuple[Lot, ...]:
    """Scale all lots of a plan so that they weigh `grams` (air-dry) in all; ValueError unless that makes sense.

    Pieces stay what they are: their number changes, at least one a lot, so the mass may come to somewhat more or less.
    Loose fibre, and a single piece that stays single, are cut to measure.
    """
    factor = grams / total_grams(plan) if total_grams(plan) else 0.0
    if not 1 / LARGEST_SCALE <= factor <= LARGEST_SCALE:
        raise ValueError(f"{show_mass(grams)} of fibre cannot be made of {show_mass(total_grams(plan))}")
    lots = tuple(_scaled_lot(lot, factor) for lot in plan.lots)
    for lot in lots:
        _refuse_what_cannot_be(plan, lot)
    return lots


def _refuse_what_cannot_be(plan: Plan, lot: Lot) -> None:
    """ValueError for a lot that the form would not have let through: such a plan could not be read again."""
    problem = value_problem(plan, rows(plan)[f"lots.{lot.id}.mass"], lot.mass)
    if problem:
        raise ValueError(f"{lot.name}, {problem[:1].lower()}{problem[1:]}")


def _scaled_lot(lot: Lot, factor: float) -> Lot:
    wanted = round(lot.pieces * factor)
    pieces = min(max(wanted, 1), MOST_PIECES)
    to_measure = lot.form is Form.LOOSE or wanted > MOST_PIECES or (lot.pieces == 1 and pieces == 1)
    mass = lot.mass.value
    mass = tidy(mass * factor) if to_measure else float(f"{mass * pieces / max(lot.pieces, 1):.4g}")
    return evolve(lot, mass=Amount(mass, lot.mass.unit), pieces=pieces)


def scaled_pin(value: Amount, before: float, after: float, *, whole: bool = False) -> Amount:
    """Scale a held amount as the worked-out figure went from `before` to `after`; counts go up to a whole number."""
    factor = after / before if before > 0 and after > 0 else 1.0
    if abs(factor - 1) < 1e-9:
        return value
    if whole:
        return Amount(float(ceil(round(value.value * factor, 6))), value.unit)
    if value.unit in ("tsp", "tbsp", "cup"):
        return Amount(max(floor(value.value * factor * 8 + 0.5), 1) / 8, value.unit)
    return Amount(tidy(value.value * factor), value.unit)


def tidy(value: float) -> float:
    """Round to three digits that matter, or to what a scale shows of more."""
    if value == 0:
        return 0.0
    return round(value, max(0, 2 - floor(log10(abs(value)))))


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
