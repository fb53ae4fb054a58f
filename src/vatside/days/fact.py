"""A fact: one thing of a day, with a name to find its like on another day by."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from attrs import frozen

from vatside.plan.figure_text import two_digits
from vatside.units import show_concentration, show_minutes, show_percent, show_temperature

SHOW: Mapping[str, Callable[[float], str]] = {
    "g/L": show_concentration,
    "%": lambda percent: show_percent(two_digits(percent)),
    "degC": show_temperature,
    "min": show_minutes,
    "pH": lambda acidity: f"{acidity:.1f}",
    "": lambda number: f"{number:.0f}",
}
"""How a quantity of each unit is printed."""


@frozen
class Fact:
    """One thing of a day."""

    id: str
    """By which its like is found; of a lot, `PLACE.LOT`."""
    label: str
    text: str
    """Printed, with its unit; empty where there is nothing to say."""
    value: float | None = None
    """In `unit`; None for what is told in words only."""
    unit: str = ""


def quantity(fact_id: str, label: str, value: float, unit: str) -> Fact:
    """Make a fact of a number; KeyError for a unit that has no way of being printed."""
    return Fact(fact_id, label, SHOW[unit](value), value, unit)
