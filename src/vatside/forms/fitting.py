"""Whether a plan, or a change to it, is one that the form would have let through.

Files come from anywhere; a figure can only be worked out from a plan within the form's ranges.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from vatside.dips.own_results import can_be, in_words
from vatside.forms.field import Field, amount_problem, choice_problem, text_problem, whole_problem
from vatside.forms.fields import FieldValue, fields, get_value
from vatside.plan import tubs
from vatside.plan.away import away_problem
from vatside.plan.paths import AWAY, OTHERS, POTS
from vatside.plan.piece_names import names_problem, parted
from vatside.plan.plan import Plan, ShelfEntry
from vatside.plan.sheet import Stage
from vatside.plan.wanted_hour import is_hour
from vatside.units import Problem

_LOT_ID = re.compile(r"[A-Za-z0-9_-]{1,32}")

_GONE = re.compile(r"dip\.[A-Za-z0-9_-]{1,32}\.takes")
GONE_TAKES = "Takes by itself in 5 min is no figure any more: the dips go by the practice table and your own colours"
"""What became of the litres that a kilogram was taken to dye in one dip."""

_rows: dict[object, dict[str, Field]] = {}
"""Rows by path, for plans that differ only in values that no row depends on."""
MOST_KEPT = 32
"""Shapes of plans whose rows are kept."""


def rows(plan: Plan) -> dict[str, Field]:
    """Give every row of every form, by path."""
    shape = (
        plan.method,
        plan.vessels.tub.shape,
        tuple((lot.id, lot.name, lot.fibre, lot.second, lot.condition) for lot in plan.lots),
        tuple(lot.pieces > 1 or bool(lot.names) for lot in plan.lots),
        plan.water.hardness is None,
        tuple(entry.material for entry in plan.shelf),
        plan.kept is None,
        plan.stock_kept is None,
        plan.place,
    )
    if shape not in _rows:
        if len(_rows) >= MOST_KEPT:
            _rows.clear()
        _rows[shape] = {row.path: row for stage in Stage for row in fields(plan, stage, hidden=True)}
    return _rows[shape]


def powder_rows(plan: Plan, place: str, entry: ShelfEntry) -> dict[str, FieldValue]:
    """Give what a powder or liquid of the shelf sets in a plan, by path; empty if the plan has no use for it.

    Soaps have no purity to set, and only a role can be filled by one material or another.
    """
    values: dict[str, FieldValue] = {"material": entry.material, "purity": entry.purity, "spoon_mass": entry.spoon_mass}
    return {path: value for name, value in values.items() if (path := f"shelf.{place}.{name}") in rows(plan)}


def is_gone(figure: str) -> bool:
    """Tell whether a figure that an older day could hold is none any more."""
    return _GONE.fullmatch(figure) is not None


def check_change(plan: Plan, path: str, value: FieldValue) -> None:
    """KeyError if the plan has no such row, ValueError in words if it is gone or the value does not fit it."""
    row = rows(plan).get(path)
    if is_gone(path):
        raise ValueError(GONE_TAKES)
    if row is None:
        raise KeyError(path)
    problem = value_problem(plan, row, value)
    if problem:
        raise ValueError(problem)


def check_pins(plan: Plan) -> None:
    """ValueError in words if a pin does not fit its figure; pins of figures that are not there wait."""
    for pin in plan.pins:
        row = rows(plan).get(pin.figure)
        problem = value_problem(plan, row, pin.amount) if row else None
        if problem:
            raise ValueError(problem)


def plan_problems(plan: Plan) -> tuple[str, ...]:
    """Say everything that the form would not have let through."""
    ids = [lot.id for lot in plan.lots]
    # Rows are found by the ids of the lots, and those of the other stages are made from the lots and the method.
    problems = (
        tuple(_lot_problems(ids))
        or tuple(_name_problems(plan))
        or tuple(_learned_problems(plan))
        or tuple(_values(plan, fields(plan, Stage.PLAN, hidden=True)))
    )
    if problems:
        return problems
    return tuple(_values(plan, rows(plan).values()))


def _lot_problems(ids: list[str]) -> Iterator[str]:
    if not ids:
        yield "lots: there must be one at least"
    for lot_id in ids:
        if not _LOT_ID.fullmatch(lot_id):
            yield f"lots: {lot_id!r} is no id of letters and digits"
    if len(set(ids)) < len(ids):
        yield "lots: two have the same id"


def _name_problems(plan: Plan) -> Iterator[str]:
    yield from (f"lots.{lot.id}: {problem}" for lot in plan.lots if (problem := names_problem(lot.names)))


def _learned_problems(plan: Plan) -> Iterator[str]:
    for item in plan.learned:
        if not can_be(item):
            yield f"learned: a fibre takes up {in_words()} times what the table says, {item.group!r} does not"


def _values(plan: Plan, some: Iterable[Field]) -> list[str]:
    found = (value_problem(plan, row, get_value(plan, row.path)) for row in some)
    return [problem for problem in found if problem]


def value_problem(plan: Plan, row: Field, value: FieldValue) -> str | None:
    """Say why a value does not fit a row; None if it does."""
    if value is None:
        return None if row.optional else f"{row.label}: nothing stands here"
    if row.choices:
        return choice_problem(row, value)
    if row.whole:
        return whole_problem(row, value)
    if row.path in (OTHERS, POTS):
        return _tubs_problem(plan, row, value)
    if row.names:
        return f"{row.label}: must be text" if not isinstance(value, str) else names_problem(parted(value)) or None
    if row.kind is None:
        return _text_problem(row, value)
    return amount_problem(row, row.kind, value, spoons=plan.spoons)


def _tubs_problem(plan: Plan, row: Field, value: FieldValue) -> str | None:
    if not isinstance(value, str):
        return f"{row.label}: must be text"
    sizes = tubs.parted(value, plan.spoons)
    return f"{row.label}: {sizes.text}" if isinstance(sizes, Problem) else None


def _text_problem(row: Field, value: FieldValue) -> str | None:
    if isinstance(value, str) and not value.strip():
        return f"{row.label}: nothing stands here"
    if isinstance(value, str) and row.path == AWAY and (wrong := away_problem(value)):
        return f"{row.label}: {wrong.text}"
    if isinstance(value, str) and row.clock and not is_hour(value):
        return f"{row.label}: {value!r} is no time that there is; 10:00 or 2026-05-02T10:00 would be"
    return text_problem(row, value)
