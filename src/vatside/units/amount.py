"""What an amount is: a number with one of our units, as a person wrote it."""

from __future__ import annotations

from enum import StrEnum
from math import isfinite

from attrs import field, frozen


class Spoons(StrEnum):
    """Whose spoons, cups and pints are on the bench."""

    US = "us"
    METRIC = "metric"
    IMPERIAL = "imperial"
    AUSTRALIAN = "australian"


class Kind(StrEnum):
    """What an amount measures; each kind has one base unit (see `BASE_UNITS`)."""

    MASS = "mass"
    VOLUME = "volume"
    POWDER = "powder"
    """A mass or a spoon volume: turning the spoon into grams needs the shelf entry."""
    TEMPERATURE = "temperature"
    TIME = "time"
    PERCENT = "percent"
    LENGTH = "length"
    CONCENTRATION = "concentration"
    RATIO = "ratio"
    """Litres of liquor a kilogram of fibre."""
    POWER = "power"
    HARDNESS = "hardness"
    """Calcium and magnesium in water, as the calcium carbonate that they would make."""
    ALKALINITY = "alkalinity"
    """What water takes of acid, as the calcium carbonate that would take as much; in units of hardness and its own."""
    NUMBER = "number"


BASE_UNITS: dict[Kind, str] = {
    Kind.MASS: "g",
    Kind.VOLUME: "L",
    Kind.POWDER: "g",
    Kind.TEMPERATURE: "degC",
    Kind.TIME: "min",
    Kind.PERCENT: "%",
    Kind.LENGTH: "cm",
    Kind.CONCENTRATION: "g/L",
    Kind.RATIO: "L/kg",
    Kind.POWER: "kW",
    Kind.HARDNESS: "mg/L CaCO3",
    Kind.ALKALINITY: "mg/L CaCO3",
    Kind.NUMBER: "",
}
"""The unit in which each kind of amount enters the arithmetic."""


def _finite(_owner: object, _attribute: object, value: float) -> None:
    if not isfinite(value):
        raise ValueError(f"an amount must be a finite number, not {value}")


@frozen
class Amount:
    """A number and its unit as the dyer wrote them; spoon units take their size from the plan."""

    value: float = field(converter=float, validator=_finite)
    unit: str
    """A unit id: see `vatside.units.UNITS`."""


@frozen
class Problem:
    """Why a text was not understood, in a sentence for the person who typed it."""

    text: str

    def __str__(self) -> str:
        return self.text
