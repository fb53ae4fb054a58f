"""The form of a reading: its rows, how typed text is read into it, and how it is printed."""

from __future__ import annotations

from enum import StrEnum
from typing import Any, cast

from attrs import evolve

from vatside.catalogue.looks import LOOKS
from vatside.forms.rows import Field
from vatside.plan.sheet import Stage
from vatside.units import Amount, Kind, Problem, parse_amount, show_amount, to_base
from vatside.vat.reading import MILLIVOLTS, PH_RANGE, SECONDS, TEMPERATURES, PHBy, Reading

Value = Amount | float | StrEnum | tuple[StrEnum, ...] | None
"""What one row of a reading can hold."""

LABELS = {
    "colour": "Liquor is",
    "clarity": "Clarity",
    "surface": "On top",
    "strip": "Strip leaves",
    "smell": "Smells",
    "feel": "Feels",
    "bottom": "At the bottom",
    "cloth": "Cloth shows",
}
HELP = {
    "colour": "a glass of it, from below the film",
    "strip": "scoured cloth, dipped a minute and blotted",
    "smell": "from an arm's length",
    "feel": "between gloved fingers only: lye burns",
    "bottom": "what a stick brings up",
    "cloth": "more than one: part them with commas",
}
MINUS = "-−–"
"""What a minus sign can look like."""
MANY = ("cloth",)
"""Rows that take several choices."""


def fields() -> tuple[Field, ...]:
    """Give the rows of the form, numbers first; all are optional."""
    return (*_numbers(), *(_look(name) for name in LOOKS))


def _numbers() -> tuple[Field, ...]:
    at, number = Stage.VAT, Kind.NUMBER
    return (
        Field("temperature", "Vat at", at, Kind.TEMPERATURE, "degC", *TEMPERATURES, optional=True),
        Field("pH", "pH", at, number, "", *PH_RANGE, optional=True),
        Field(
            "pH_temperature", "Sample at", at, Kind.TEMPERATURE, "degC", *TEMPERATURES, optional=True,
            help="how warm the pH sample was; empty: as warm as the vat",
        ),
        Field("pH_by", "pH read by", at, choices=tuple((item.value, item.value) for item in PHBy)),
        Field(
            "seconds", "Strip turns in", at, Kind.TIME, "s", *SECONDS, optional=True,
            help="until it is blue; space is the stopwatch",
        ),
        Field("redox", "Redox, mV", at, number, "", *MILLIVOLTS, optional=True, help="against silver chloride"),
    )  # fmt: skip


def _look(name: str) -> Field:
    choices = tuple((str(item.value), str(item.value)) for item in LOOKS[name])
    return Field(name, LABELS[name], Stage.VAT, choices=choices, optional=True, help=HELP.get(name, ""))


def field(name: str) -> Field:
    """Give one row; KeyError if a reading has none of that name."""
    for row in fields():
        if row.path == name:
            return row
    raise KeyError(name)


def show(reading: Reading, name: str) -> str:
    """Print what stands in a row; empty where the dyer did not look."""
    value = getattr(reading, name)
    if value is None:
        return ""
    if isinstance(value, Amount):
        return show_amount(value)
    if isinstance(value, tuple):
        return ", ".join(str(item.value) for item in value)
    if isinstance(value, StrEnum):
        return str(value.value)
    return f"{value:g} s" if name == "seconds" else f"{value:g}"


def set_value(reading: Reading, name: str, value: Value) -> Reading:
    """Give the reading with one row changed; None empties it. ValueError for what cannot be."""
    if value is None:
        value = () if name in MANY else PHBy.STRIP if name == "pH_by" else None
    return cast(Reading, evolve(cast(Any, reading), **{name: value}))


def read(name: str, text: str) -> Value | Problem:
    """Read what was typed into a row: a value that fits it, or what is wrong in words. KeyError for no such row."""
    row, typed = field(name), text.strip()
    if not typed:
        return None
    if name in MANY:
        return _several(row, typed)
    if row.choices:
        return _choice(row, typed)
    return _number(row, typed)


def _several(row: Field, typed: str) -> tuple[StrEnum, ...] | Problem:
    found: list[StrEnum] = []
    for part in filter(None, (part.strip() for part in typed.split(","))):
        item = _choice(row, part)
        if isinstance(item, Problem):
            return item
        found.append(item)
    return tuple(dict.fromkeys(found))


def _choice(row: Field, typed: str) -> StrEnum | Problem:
    """Take a choice by its words or by what they begin with."""
    items = LOOKS.get(row.path, PHBy)
    low = typed.casefold()
    same = [item for item in items if str(item.value).casefold() == low]
    starts = same or [item for item in items if str(item.value).casefold().startswith(low)]
    if len(starts) == 1:
        return starts[0]
    which = "could be" if starts else "is none of"
    names = ", ".join(str(item.value) for item in starts or items)
    return Problem(f"{row.label}: {_clean(typed)} {which} {names}; write one of them")


def _number(row: Field, typed: str) -> Amount | float | Problem:
    kind = row.kind or Kind.NUMBER
    below = row.low < 0 and typed[0] in MINUS
    amount = parse_amount(typed[1:] if below else typed, kind, unit=row.unit)
    if isinstance(amount, Problem):
        return Problem(f"{row.label}: {amount.text}")
    value = to_base(amount, kind) * (60 if kind is Kind.TIME else 1) * (-1 if below else 1)
    if not row.low <= value <= row.high:
        unit = {Kind.TEMPERATURE: " °C", Kind.TIME: " s"}.get(kind, "")
        return Problem(f"{row.label}: {_clean(typed)} cannot be; between {row.low:g} and {row.high:g}{unit}")
    return amount if kind is Kind.TEMPERATURE else value


def _clean(typed: str) -> str:
    """Quote what was typed without letting it play tricks on the screen."""
    return "".join(letter if letter.isprintable() else "?" for letter in typed[:40])
