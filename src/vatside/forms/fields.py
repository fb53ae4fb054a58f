"""The form of a plan: every editable row, how its text is read, and how it is printed.

A path is either a place in the plan (`water.hot`, `lots.a.mass`, `shelf.indigo.purity`) or the id of a
figure that can be fixed by hand (`stock.pigment`).
"""

from __future__ import annotations

from datetime import datetime
from functools import cache

from vatside.catalogue.dyeing import ladder
from vatside.forms import dye_rows, vat_rows
from vatside.forms import rows as field_table
from vatside.forms.field import LONGEST_TEXT, Field, refused
from vatside.forms.field import read as read_row
from vatside.forms.field import show as show_value
from vatside.plan import tubs
from vatside.plan.away import away_problem
from vatside.plan.hour_words import read_hour
from vatside.plan.measures import powder
from vatside.plan.paths import AWAY, OTHERS, POTS, FieldValue, get_value, is_pin, set_value
from vatside.plan.piece_names import names_problem, parted, said
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.units import Amount, Kind, Problem, show_count, to_base

__all__ = ["LONGEST_TEXT", "Field", "FieldValue", "base_value", "field", "fields", "get_value", "is_pin", "read",
           "set_value", "show"]  # fmt: skip

_ROWS = {
    Stage.PLAN: field_table.plan_rows,
    Stage.SCOUR: field_table.scour_rows,
    Stage.STOCK: field_table.stock_rows,
    Stage.VAT: vat_rows.vat_rows,
    Stage.DIP: dye_rows.dip_rows,
    Stage.FINISH: dye_rows.finish_rows,
}


def fields(plan: Plan, stage: Stage, *, hidden: bool = False) -> tuple[Field, ...]:
    """Give the rows of a stage's form; with `hidden`, also those that are only reached by path."""
    rows = _ROWS[stage](plan) if stage in _ROWS else ()
    return tuple(row for row in rows if hidden or row.shown)


def field(plan: Plan, path: str) -> Field:
    """Give the row at a path; KeyError if the plan has none."""
    for stage in _ROWS:
        for row in fields(plan, stage, hidden=True):
            if row.path == path:
                return row
    raise KeyError(path)


def show(plan: Plan, path: str) -> str:
    """Print what stands in a field; empty for a figure that follows the plan."""
    return show_value(field(plan, path), get_value(plan, path))


def read(plan: Plan, path: str, text: str, now: datetime | None = None) -> FieldValue | Problem:
    """Read what a person typed into a field: a value that fits it, or what is wrong in words.

    An hour is dated from `now` (naive local), so that the plan alone says the day; without it `sat 14:00` is refused.

    What stands there already is let through as it is: other spoons, or a heavier spoon, can have carried it past its
    range since it was typed.
    """
    row = field(plan, path)
    typed = text.strip()
    if typed and row.clock:
        hour = read_hour(typed, now)
        return refused(row, hour.text) if isinstance(hour, Problem) else hour
    if typed and typed == show_value(row, get_value(plan, path)):
        return get_value(plan, path)
    if typed and row.names:
        return _read_names(plan, row, typed)
    if typed and path == AWAY and (wrong := away_problem(typed)):
        return refused(row, wrong.text)
    if typed and path in (OTHERS, POTS):
        return _read_tubs(plan, row, typed)
    if path.startswith("lots.") and path.endswith(".depth") and typed.casefold() in depths():
        return Amount(depths()[typed.casefold()], "%")
    return read_row(row, typed, spoons=plan.spoons, base=lambda amount: base_value(plan, row, amount))


@cache
def depths() -> dict[str, float]:
    """Give the depths that have a name, % on weight of fibre."""
    return {rung.name: rung.depth for rung in ladder()}


def _read_names(plan: Plan, row: Field, typed: str) -> str | Problem:
    names, pieces = parted(typed), get_value(plan, row.path.replace(".names", ".pieces"))
    problem = names_problem(names)
    if problem:
        return refused(row, problem)
    if isinstance(pieces, int) and len(names) > pieces:
        return refused(row, f"{len(names)} names for {show_count(pieces, 'piece')}; one for each at most")
    return said(names)


def _read_tubs(plan: Plan, row: Field, typed: str) -> str | Problem:
    sizes = tubs.parted(typed, plan.spoons)
    return refused(row, sizes.text) if isinstance(sizes, Problem) else tubs.said(sizes)


def base_value(plan: Plan, row: Field, amount: Amount) -> float:
    """Turn an amount that a row of a kind takes into the base unit of its kind; spoons weigh what the shelf says."""
    if row.powder:
        return powder(plan, row.powder).grams(amount, plan.spoons)
    return to_base(amount, row.kind or Kind.NUMBER, plan.spoons)


def row_name(row: Field) -> str:
    """Name a row with its group, or else with its stage: two stages have a rest.

    The plan's own rows stand for themselves.
    """
    if row.stage is Stage.SCOUR and row.group:
        return f"Scour, {row.group}: {row.label}"
    if row.group:
        return f"{row.group}: {row.label}"
    return row.label if row.stage is Stage.PLAN else f"{row.stage.value.capitalize()}: {row.label}"
