"""How many dips a lot is taken to want, and what that rests on, in one short line."""

from __future__ import annotations

from vatside.dips.lot import learned_of
from vatside.plan.measures import fibre_of
from vatside.plan.plan import Lot, Plan
from vatside.plan.sheet import Sheet
from vatside.units import show_count

MOST_NAMED = 2
"""Of more lots than this that go by the same words, the others are counted."""


def dips_words(plan: Plan, sheet: Sheet, lot: Lot) -> str:
    """Say how many dips a lot takes, within which it may turn out, and by what: "5 dips (3 to 8): the table alone".

    Whatever the dyer holds herself is said to be hers.
    """
    dips = dips_text(sheet, lot)
    held = {pin.figure for pin in plan.pins}
    if f"dip.{lot.id}.dips" in held:
        return f"{dips}, as you hold them"
    low, high = (round(sheet.value(f"dip.{lot.id}.dips_{end}")) for end in ("low", "high"))
    range_ = f" ({low} to {high})" if low < high else ""
    if f"dip.{lot.id}.factor" in held:
        return f"{dips}{range_}, by the uptake you hold"
    results = learned_of(plan, fibre_of(lot).group).results
    if not results:
        return f"{dips}{range_}: the table alone"
    return f"{dips}{range_}, by {show_count(results, 'result')} of yours"


def dips_text(sheet: Sheet, lot: Lot) -> str:
    """Say how many dips a lot takes, from the piece that gets least to the one that gets most: `3 to 5 dips`."""
    number = dips_number(sheet, lot)
    return f"{number} {'dip' if number == '1' else 'dips'}"


def dips_number(sheet: Sheet, lot: Lot) -> str:
    """Give the same without its noun; 0 where the sheet has no such lot."""
    most = sheet.value(f"dip.{lot.id}.dips")
    fewest = sheet[f"dip.{lot.id}.dips"].fewest if most else None
    return span(most if fewest is None else fewest, most)


def span(fewest: float, most: float) -> str:
    """Say how many dips pieces get: `5`, `3 to 5`."""
    return f"{fewest:.0f} to {most:.0f}" if fewest < most else f"{most:.0f}"


def dips_lines(plan: Plan, sheet: Sheet) -> tuple[str, ...]:
    """Give a line for each lot; lots of which the same is to be said share one."""
    alike: dict[str, list[str]] = {}
    for lot in plan.lots:
        alike.setdefault(dips_words(plan, sheet, lot), []).append(lot.name)
    return tuple(f"{named(names)}: {words}" for words, names in alike.items())


def named(names: list[str]) -> str:
    """Name the first of many lots, and count the others."""
    first, more = names[:MOST_NAMED], len(names) - MOST_NAMED
    return f"{', '.join(first)} and {show_count(more, 'more lot', 'more lots')}" if more > 0 else ", ".join(first)
