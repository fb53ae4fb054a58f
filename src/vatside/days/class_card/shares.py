"""What each table of a class gets: its share of pieces, powders, water and heating time."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import ceil

from attrs import evolve

from vatside.days.lot_pairs import FEW
from vatside.plan.batches import batches
from vatside.plan.plan import Plan
from vatside.plan.scour_baths import baths
from vatside.plan.sheet import Figure, Sheet
from vatside.recipe.stages.scour import SLOW_HEATING
from vatside.units import show_count

SHARED_UNITS = ("g", "L")
"""What is divided between the tables; temperatures and times are the same for all, but for those of heating."""
HEATED = ("heating", "kettle")
"""Last parts of the figures whose minutes grow with the water that is heated."""


def split_pieces(pieces: int, tables: int) -> tuple[int, ...]:
    """Give the whole pieces of each table: 4 for 3 tables are 2, 1 and 1."""
    each, over = divmod(pieces, tables)
    return tuple(each + (table < over) for table in range(tables))


def say_pieces(pieces: int, tables: int) -> str:
    """Say in short how many pieces the tables have: `2`, or `2 at 1 table, 1 at 2`."""
    found = split_pieces(pieces, tables)
    if len(set(found)) == 1:
        return str(found[0])
    more, fewer = found.count(found[0]), found.count(found[-1])
    return f"{found[0]} at {show_count(more, 'table')}, {found[-1]} at {fewer}"


def say_uneven(lots: Sequence[tuple[str, int]], tables: int) -> Iterator[str]:
    """Say where pieces (the name of their lots, and how many) do not divide; of many lots in one line."""
    found = [(name, pieces) for name, pieces in lots if pieces % tables]
    if not found:
        return
    named = ", ".join(f"{name} ({pieces})" for name, pieces in found[:FEW])
    more = f" and {len(found) - FEW} more" if len(found) > FEW else ""
    yield (
        f"Pieces do not divide by {tables} tables: {named}{more}. The amounts are for an equal share of the cloth; "
        "a table with more of it takes more in proportion."
    )


def shared(sheet: Sheet, tables: int) -> Sheet:
    """Give the sheet of one table: masses and volumes divided, jars too, as far as they go."""
    return Sheet(tuple(_shared(figure, tables) for figure in sheet.figures), sheet.notices)


def heated(plan: Plan, sheet: Sheet, tables: int) -> Sheet:
    """Give the sheet of one table with the heating of its own pot, on a hob like the plan's; held times stay."""
    slow = {
        f"{key}.heating": (sheet.value(f"{key}.{to}", 0.0) - sheet.value(f"{key}.{start}", 0.0)) / SLOW_HEATING
        for key, start, to in _gentle(plan)
    }
    return evolve(sheet, figures=tuple(_warmed(figure, tables, slow) for figure in sheet.figures))


def _gentle(plan: Plan) -> Iterator[tuple[str, str, str]]:
    """What the figures of a slow heating begin with, and the names of those between which it rises."""
    yield from ((bath.id("")[:-1], "start", "hold_temperature") for bath in baths(plan) if bath.gentle)
    yield from ((batch.id("")[:-1], "wash_start", "wash") for batch in batches(plan) if batch.gentle)


def _warmed(figure: Figure, tables: int, slow: Mapping[str, float]) -> Figure:
    if not figure.id.endswith(HEATED) or figure.unit != "min" or figure.pin is not None:
        return figure
    return evolve(figure, value=max(figure.value / tables, min(slow.get(figure.id, 0.0), figure.value)))


def _shared(figure: Figure, tables: int) -> Figure:
    if figure.id == "stock.jars":
        return evolve(figure, value=float(max(ceil(figure.value / tables), 1)))
    if figure.unit not in SHARED_UNITS:
        return figure
    spoons = None if figure.teaspoons is None else figure.teaspoons / tables
    return evolve(figure, value=figure.value / tables, teaspoons=spoons)
