"""What a plan can be told: every editable row, how its text is read, and how it is printed.

A path is either a place in the plan (`water.hot`, `lots.a.mass`, `shelf.indigo.purity`) or the id of a
figure that can be fixed by hand (`stock.pigment`).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import datetime
from functools import cache

from vatside.catalogue.dyeing import ladder
from vatside.forms import dye_rows, vat_rows
from vatside.forms import rows as field_table
from vatside.forms.rows import Field
from vatside.plan import tubs
from vatside.plan.hour_words import read_hour
from vatside.plan.measures import powder
from vatside.plan.paths import OTHERS, FieldValue, get_value, is_pin, set_value
from vatside.plan.piece_names import names_problem, parted, said
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.units import (
    BASE_UNITS,
    Amount,
    Kind,
    Problem,
    parse_amount,
    show_amount,
    show_count,
    show_value,
    to_base,
)

__all__ = ["Field", "FieldValue", "base_value", "field", "fields", "get_value", "is_pin", "read", "set_value", "show"]

LONGEST_TEXT = 80
"""Characters of a name or title."""

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
    value = get_value(plan, path)
    if value is None:
        return ""
    return (
        show_amount(value)
        if isinstance(value, Amount)
        else str(value).replace("T", " ")
        if _is_clock(path)
        else str(value)
    )


def _is_clock(path: str) -> bool:
    return path in ("ready_by", "stock_kept.made", "stock_kept.taken")


def read(plan: Plan, path: str, text: str, now: datetime | None = None) -> FieldValue | Problem:
    """Read what a person typed into a field: a value that fits it, or what is wrong in words.

    An hour is dated from `now` (naive local), so that the plan alone says the day; without it `sat 14:00` is refused.

    What stands there already is let through as it is: other spoons, or a heavier spoon, can have carried it past its
    range since it was typed.
    """
    row = field(plan, path)
    typed = text.strip()
    if not typed and "" in dict(row.choices):
        return ""
    if not typed:
        return None if row.optional else Problem(f"{row.label}: nothing stands here; {_wanted(row)}")
    if row.clock:
        return _read_clock(row, typed, now)
    if typed == show(plan, path):
        return get_value(plan, path)
    if row.choices:
        return _read_choice(row, typed)
    if row.whole:
        return _read_whole(row, typed)
    if row.names or path == OTHERS:
        return _read_names(plan, row, typed) if row.names else _read_tubs(plan, row, typed)
    if row.kind is None:
        return _read_text(row, typed)
    if path.startswith("lots.") and path.endswith(".depth") and typed.casefold() in depths():
        return Amount(depths()[typed.casefold()], "%")
    return _read_amount(row, row.kind, typed, plan)


@cache
def depths() -> dict[str, float]:
    """Give the depths that have a name, % on weight of fibre."""
    return {rung.name: rung.depth for rung in ladder()}


def _read_choice(row: Field, typed: str) -> str | Problem:
    low = typed.casefold()
    for key, name in row.choices:
        if low in (key.casefold(), name.casefold()):
            return key
    starts = [key for key, name in row.choices if name.casefold().startswith(low)]
    if len(starts) == 1:
        return starts[0]
    which = f"could be {_names(row, starts)}" if starts else f"is none of {_names(row)}"
    return Problem(f"{row.label}: {_clean(typed)} {which}; write one of them")


def _names(row: Field, keys: Sequence[str] | None = None) -> str:
    """List the choices as a person reads them."""
    return ", ".join(name for key, name in row.choices if keys is None or key in keys)


def _read_clock(row: Field, typed: str, now: datetime | None) -> str | Problem:
    found = read_hour(typed, now)
    return Problem(f"{row.label}: {found.text}") if isinstance(found, Problem) else found


def _read_whole(row: Field, typed: str) -> int | Problem:
    if not re.fullmatch(r"\d{1,6}", typed, re.ASCII) or not row.low <= int(typed) <= row.high:
        return Problem(f"{row.label}: {_clean(typed)} cannot be; a whole number from {row.low:g} to {row.high:g}")
    return int(typed)


def _read_text(row: Field, typed: str) -> str | Problem:
    if not typed.isprintable():
        return Problem(f"{row.label}: it holds characters that cannot be shown; type it again without them")
    if len(typed) > LONGEST_TEXT:
        return Problem(f"{row.label}: {len(typed)} letters are too many; at most {LONGEST_TEXT}")
    return typed


def _read_names(plan: Plan, row: Field, typed: str) -> str | Problem:
    names, pieces = parted(typed), get_value(plan, row.path.replace(".names", ".pieces"))
    problem = names_problem(names)
    if problem:
        return Problem(f"{row.label}: {problem}")
    if isinstance(pieces, int) and len(names) > pieces:
        return Problem(f"{row.label}: {len(names)} names for {show_count(pieces, 'piece')}; one for each at most")
    return said(names)


def _read_tubs(plan: Plan, row: Field, typed: str) -> str | Problem:
    found = tubs.parted(typed, plan.spoons)
    return Problem(f"{row.label}: {_printable(found.text)}") if isinstance(found, Problem) else tubs.said(found)


def _read_amount(row: Field, kind: Kind, typed: str, plan: Plan) -> Amount | Problem:
    amount = parse_amount(typed, kind, unit=row.unit, spoons=plan.spoons)
    if isinstance(amount, Problem):
        return Problem(f"{row.label}: {_printable(amount.text)}")
    value = base_value(plan, row, amount)
    counted = kind is Kind.NUMBER and not value.is_integer()
    low, high = row.typed or (row.low, row.high)
    if counted or not low <= value <= high:
        return Problem(f"{row.label}: {show_amount(amount)} cannot be; {_wanted(row)}")
    return amount


def base_value(plan: Plan, row: Field, amount: Amount) -> float:
    """Turn an amount that a row of a kind takes into the base unit of its kind; spoons weigh what the shelf says."""
    if row.powder:
        return powder(plan, row.powder).grams(amount, plan.spoons)
    return to_base(amount, row.kind or Kind.NUMBER, plan.spoons)


def _wanted(row: Field) -> str:
    """Say what would be right."""
    if row.choices:
        return f"write one of {_names(row)}"
    if row.kind is None:
        return row.help or "write something"
    unit, what = BASE_UNITS[row.kind], "a whole number " if row.kind is Kind.NUMBER else ""
    low, high = row.typed or (row.low, row.high)
    between = f"between {_limit(low, unit)} and {_limit(high, unit)}"
    return f"a level spoon of powder weighs {between}" if row.typed else f"{what}{between}"


def _limit(value: float, unit: str) -> str:
    """Print an end of a range, which is a round number."""
    return re.sub(r"\.0+(?!\d)", "", show_value(value, unit))


def _clean(typed: str) -> str:
    """Quote what was typed without letting it play tricks on the screen."""
    return _printable(typed[:40])


def _printable(text: str) -> str:
    return "".join(letter if letter.isprintable() else "?" for letter in text)
