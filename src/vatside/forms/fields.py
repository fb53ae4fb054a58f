"""The form of a plan: every editable row, how it is read and printed, and whether a plan is one that it lets through.

A path is either a place in the plan (`water.hot`, `lots.a.mass`, `shelf.indigo.purity`) or the id of a figure that
can be fixed by hand (`stock.pigment`). Files come from anywhere; a figure can only be worked out from a plan within
the form's ranges.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import datetime
from functools import cache

from vatside.catalogue.dyeing import ladder
from vatside.dips.own_results import can_be, in_words
from vatside.forms import rows as field_table
from vatside.forms import stage_rows
from vatside.forms.field import (
    LONGEST_TEXT,
    Field,
    amount_problem,
    choice_problem,
    refused,
    text_problem,
    whole_problem,
)
from vatside.forms.field import in_words as row_words
from vatside.forms.field import read as read_row
from vatside.forms.field import show as show_value
from vatside.plan import paths
from vatside.plan.hours import away_problem, is_hour, read_hour
from vatside.plan.measures import powder
from vatside.plan.paths import (
    AWAY,
    OTHERS,
    POTS,
    get_value,
    is_pin,
    names_parted,
    names_problem,
    names_said,
    set_value,
)
from vatside.plan.plan import FieldValue, Plan, ShelfEntry
from vatside.plan.sheet import Stage
from vatside.units import Amount, Kind, Problem, show_count, to_base

__all__ = ["LONGEST_TEXT", "Field", "FieldValue", "base_value", "field", "fields", "get_value", "is_pin", "read",
           "set_value", "show"]  # fmt: skip

_ROWS = {
    Stage.PLAN: field_table.plan_rows,
    Stage.SCOUR: field_table.scour_rows,
    Stage.STOCK: field_table.stock_rows,
    Stage.VAT: stage_rows.vat_rows,
    Stage.DIP: stage_rows.dip_rows,
    Stage.FINISH: stage_rows.finish_rows,
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
    typed = "" if typed.casefold() == empty_words(row) else typed
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
    if _is_depth(row):
        word, _, number = (part.strip() for part in typed.partition(","))
        word = word.casefold().removesuffix(" blue")
        if word in depths() and not number:
            return Amount(depths()[word], "%")
        typed = number if word in depths() else typed
        if typed and not any(letter.isdigit() for letter in typed):
            return refused(row, f"“{typed}” is no depth; write {', '.join(depths())} or a percentage, such as 0.8 %")
    return read_row(row, typed, spoons=plan.spoons, base=lambda amount: base_value(plan, row, amount))


def empty_words(row: Field) -> str:
    """Give what a row shows while nothing stands in it; typed it means the same. None for a row that is never empty."""
    usual = "none" if row.names else "usual" if row.optional and not row.pin else ""
    return {"ready_by": "any time", OTHERS: "none"}.get(row.path, usual)


def written(plan: Plan, row: Field) -> str:
    """Print what stands in a row as the form does: the name of a choice, and of a depth its word before the number."""
    value = get_value(plan, row.path)
    text = row_words(row, value)
    if not _is_depth(row) or not isinstance(value, Amount) or value.unit != "%":
        return text
    word = next((name for name, depth in depths().items() if depth == value.value), "")
    return f"{word}, {text}" if word else text


def _is_depth(row: Field) -> bool:
    return row.path.startswith("lots.") and row.path.endswith(".depth")


@cache
def depths() -> dict[str, float]:
    """Give the depths that have a name, % on weight of fibre."""
    return {rung.name: rung.depth for rung in ladder()}


def _read_names(plan: Plan, row: Field, typed: str) -> str | Problem:
    names, pieces = names_parted(typed), get_value(plan, row.path.replace(".names", ".pieces"))
    problem = names_problem(names)
    if problem:
        return refused(row, problem)
    if isinstance(pieces, int) and len(names) > pieces:
        return refused(row, f"{len(names)} names for {show_count(pieces, 'piece')}; one for each at most")
    return names_said(names)


def _read_tubs(plan: Plan, row: Field, typed: str) -> str | Problem:
    sizes = paths.tubs_parted(typed, plan.spoons)
    return refused(row, sizes.text) if isinstance(sizes, Problem) else paths.tubs_said(sizes)


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


_LOT_ID = re.compile(r"[A-Za-z0-9_-]{1,32}")

_GONE = re.compile(r"dip\.[A-Za-z0-9_-]{1,32}\.takes")
GONE_TAKES = "Takes by itself in 5 min is no figure any more: the dips go by the practice table and your own colours"
"""What became of the litres that a kilogram was taken to dye in one dip."""

_rows: dict[object, dict[str, Field]] = {}
"""Rows by path, for plans that differ only in values that no row depends on."""
MOST_KEPT = 32
"""Shapes of plans whose rows are kept."""


_last: list[tuple[Plan, tuple[object, ...], dict[str, Field]]] = []
"""The plan last asked about, by itself, its shape and its rows: a change of a plan asks three times, and few changes
change the shape; to look plan or shape up takes longer than all else."""


def rows(plan: Plan) -> dict[str, Field]:
    """Give every row of every form, by path."""
    known = next(iter(_last), None)
    if known is None or known[0] is not plan:
        shape = _shape(plan)
        known = (plan, shape, known[2] if known and known[1] == shape else _rows_of(plan, shape))
        _last[:] = [known]
    return known[2]


def _shape(plan: Plan) -> tuple[object, ...]:
    """Give all that rows depend on."""
    return (
        plan.method,
        plan.vessels.tub.shape,
        bool(plan.vessels.others),
        tuple([(lot.id, lot.name, lot.fibre, lot.second, lot.condition) for lot in plan.lots]),
        tuple([lot.pieces > 1 or bool(lot.names) for lot in plan.lots]),
        plan.water.hardness is None,
        tuple([entry.material for entry in plan.shelf]),
        plan.kept is None,
        plan.stock_kept is None,
        plan.place,
    )


def _rows_of(plan: Plan, shape: tuple[object, ...]) -> dict[str, Field]:
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
    known = rows(plan)
    return {path: value for name, value in values.items() if (path := f"shelf.{place}.{name}") in known}


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
    known = rows(plan)
    for pin in plan.pins:
        row = known.get(pin.figure)
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


def _values(plan: Plan, form_rows: Iterable[Field]) -> list[str]:
    problems = (value_problem(plan, row, get_value(plan, row.path)) for row in form_rows)
    return [problem for problem in problems if problem]


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
        return (
            f"{row.label}: must be text" if not isinstance(value, str) else names_problem(names_parted(value)) or None
        )
    if row.kind is None:
        return _text_problem(row, value)
    return amount_problem(row, row.kind, value, spoons=plan.spoons)


def _tubs_problem(plan: Plan, row: Field, value: FieldValue) -> str | None:
    if not isinstance(value, str):
        return f"{row.label}: must be text"
    sizes = paths.tubs_parted(value, plan.spoons)
    return f"{row.label}: {sizes.text}" if isinstance(sizes, Problem) else None


def _text_problem(row: Field, value: FieldValue) -> str | None:
    if isinstance(value, str) and not value.strip():
        return f"{row.label}: nothing stands here"
    if isinstance(value, str) and row.path == AWAY and (wrong := away_problem(value)):
        return f"{row.label}: {wrong.text}"
    if isinstance(value, str) and row.clock and not is_hour(value):
        return f"{row.label}: {value!r} is no time that there is; 10:00 or 2026-05-02T10:00 would be"
    return text_problem(row, value)
