"""The form of a reading: its rows, and what stands in them."""

from __future__ import annotations

import re
from enum import StrEnum
from typing import Any, cast

from attrs import evolve

from vatside.catalogue.looks import LOOKS
from vatside.forms.field import Field
from vatside.forms.field import show as show_value
from vatside.plan.plan import FieldValue
from vatside.plan.sheet import Stage
from vatside.units import Amount, Kind, fits, to_base
from vatside.vat.reading import MILLIVOLTS, PH_RANGE, SECONDS, TEMPERATURES, PHBy, Reading, looks

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
    "cloth": "the row below takes one more",
}


_BARE = re.compile(r"\s*(\d{1,2}(?:[.,]\d{1,2})?)\s*", re.ASCII)


def may_be_ph(typed: str) -> bool:
    """Tell whether what was written for a warmth reads like a pH: a number without a unit, as low as a pH is.

    A vat in work stands above 30 °C, one that was kept at room warmth; a bare number up to 14 is a pH there.
    """
    match = _BARE.fullmatch(typed)
    return match is not None and float(match[1].replace(",", ".")) <= 14


def reading_fields() -> tuple[Field, ...]:
    """Give the rows of the form, numbers first; all are optional."""
    return (*_numbers(), *(_look(name) for name in LOOKS))


def _numbers() -> tuple[Field, ...]:
    at, number = Stage.VAT, Kind.NUMBER
    return (
        Field("temperature", "Vat at", at, Kind.TEMPERATURE, "degC", *TEMPERATURES, optional=True),
        Field("pH", "pH", at, number, "", *PH_RANGE, decimal=True, optional=True),
        Field(
            "pH_temperature", "Sample at", at, Kind.TEMPERATURE, "degC", *TEMPERATURES, optional=True,
            help="how warm the pH sample was; empty: as warm as the vat",
        ),
        Field("pH_by", "pH read by", at, choices=tuple((item.value, item.value) for item in PHBy)),
        Field(
            "seconds", "Strip turns in", at, Kind.TIME, "s", SECONDS[0] / 60, SECONDS[1] / 60, optional=True,
            help="until it is blue; space is the stopwatch",
        ),
        Field(
            "redox", "Redox, mV", at, number, "", *MILLIVOLTS, decimal=True, optional=True,
            help="against silver chloride",
        ),
    )  # fmt: skip


def _look(name: str) -> Field:
    choices = tuple((str(item.value), str(item.value)) for item in LOOKS[name])
    return Field(name, LABELS[name], Stage.VAT, choices=choices, optional=True, help=HELP.get(name, ""))


def reading_field(name: str) -> Field:
    """Give one row; KeyError if a reading has none of that name."""
    for row in reading_fields():
        if row.path == name:
            return row
    raise KeyError(name)


def value(reading: Reading, name: str) -> FieldValue:
    """Give what a row holds; of several choices the first."""
    held = getattr(reading, name)
    if isinstance(held, tuple):
        held = held[0] if held else None
    if isinstance(held, StrEnum):
        return str(held.value)
    return Amount(held, "s" if name == "seconds" else "") if isinstance(held, float | int) else held


def show(reading: Reading, name: str) -> str:
    """Print what stands in a row; empty where the dyer did not look."""
    return ", ".join(looks(reading, name)) if name in LOOKS else show_value(reading_field(name), value(reading, name))


def with_value(reading: Reading, name: str, value: FieldValue) -> Reading:
    """Give the reading with one row changed; None or "" empties it. ValueError for what cannot be."""
    part: Any = value
    if name in LOOKS:
        part = LOOKS[name](str(value)) if value else None
    elif name == "pH_by":
        part = PHBy(str(value)) if value else PHBy.STRIP
    elif isinstance(value, Amount) and not fits(value.unit, Kind.TEMPERATURE):
        part = to_base(value, Kind.TIME) * 60 if name == "seconds" else value.value
    if name == "cloth":
        part = (part,) if part else ()
    return cast(Reading, evolve(cast(Any, reading), **{name: part}))
