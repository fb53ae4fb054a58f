"""A reading: what the dyer measured and saw of the vat at one moment, everything in it optional; and its form."""

from __future__ import annotations

import re
from collections.abc import Callable
from enum import StrEnum
from typing import Any, cast

from attrs import Attribute, evolve, field, fields, frozen

from vatside.catalogue.findings import LOOKS, Bottom, Clarity, Cloth, Colour, Feel, Smell, Strip, Surface
from vatside.forms.field import Field
from vatside.forms.field import show as show_value
from vatside.plan.paths import FieldValue
from vatside.plan.sheet import Stage
from vatside.units import Amount, Kind, fits, show_amount, to_base

TEMPERATURES = (0.0, 100.0)
PH_RANGE = (0.0, 14.5)
SECONDS = (0.0, 3600.0)
MILLIVOLTS = (-1500.0, 1000.0)


class PHBy(StrEnum):
    """What the pH was read with."""

    STRIP = "strip"
    METER = "meter"


PH_ERROR = {PHBy.STRIP: 0.5, PHBy.METER: 0.15}
"""How far off a careful reading in alkali may be, pH: common practice, no source."""


def _within(low: float, high: float, what: str) -> Callable[[Any, Attribute[Any], float | None], None]:
    def check(_owner: object, _attribute: object, value: float | None) -> None:
        if value is not None and not low <= value <= high:
            raise ValueError(f"{what} lies between {low:g} and {high:g}, not at {value:g}")

    return check


def _temperature(_owner: object, _attribute: object, value: Amount | None) -> None:
    if value is None:
        return
    if not fits(value.unit, Kind.TEMPERATURE):
        raise ValueError(f"{show_amount(value)} is no temperature")
    low, high = TEMPERATURES
    if not low <= to_base(value, Kind.TEMPERATURE) <= high:
        raise ValueError(f"the vat's temperature lies between {low:g} and {high:g} °C, not at {show_amount(value)}")


@frozen
class Reading:
    """What was measured and seen; None (or empty) where the dyer did not look."""

    temperature: Amount | None = field(default=None, validator=_temperature)
    """Of the vat, 0 to 100 degrees C."""
    pH: float | None = field(default=None, validator=_within(*PH_RANGE, "a pH"))  # noqa: N815  (chemistry's own symbol)
    pH_temperature: Amount | None = field(default=None, validator=_temperature)  # noqa: N815  (chemistry's own symbol)
    """Of the sample while its pH was read; None: as warm as the vat."""
    pH_by: PHBy = PHBy.STRIP  # noqa: N815  (chemistry's own symbol)
    redox: float | None = field(default=None, validator=_within(*MILLIVOLTS, "the redox potential in mV"))
    """Millivolts against silver chloride."""
    colour: Colour | None = None
    clarity: Clarity | None = None
    surface: Surface | None = None
    strip: Strip | None = None
    """The test strip as it leaves the vat."""
    seconds: float | None = field(default=None, validator=_within(*SECONDS, "the time a strip takes in seconds"))
    """Until the strip has turned blue in the air."""
    smell: Smell | None = None
    feel: Feel | None = None
    bottom: Bottom | None = None
    cloth: tuple[Cloth, ...] = ()
    """All that the dyed cloth shows."""

    @property
    def celsius(self) -> float | None:
        """Temperature of the vat, degrees C."""
        return None if self.temperature is None else to_base(self.temperature, Kind.TEMPERATURE)

    @property
    def sample_celsius(self) -> float | None:
        """Temperature of the pH sample, degrees C; the vat's where nothing else was said."""
        if self.pH_temperature is None:
            return self.celsius
        return to_base(self.pH_temperature, Kind.TEMPERATURE)

    @property
    def is_empty(self) -> bool:
        """Tell whether nothing was measured or seen."""
        return evolve(self, pH_by=PHBy.STRIP, pH_temperature=None) == Reading()


LOOK_NAMES = ("colour", "clarity", "surface", "strip", "smell", "feel", "bottom", "cloth")
"""The parts of a reading that are chosen from a list."""


def looks(reading: Reading, about: str) -> tuple[str, ...]:
    """Give what was seen of one look, as words; empty if the dyer did not look."""
    value = getattr(reading, about)
    if value is None:
        return ()
    return tuple(str(item.value) for item in value) if isinstance(value, tuple) else (str(value.value),)


def parts() -> tuple[str, ...]:
    """Names of the parts of a reading, in the order in which they are asked for."""
    return tuple(item.name for item in fields(Reading))


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
    found = _BARE.fullmatch(typed)
    return found is not None and float(found[1].replace(",", ".")) <= 14


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
