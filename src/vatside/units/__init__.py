"""Amounts in and out: what a person writes, what the arithmetic uses, what the screen shows.

pint is imported at the first conversion that `factors` does not know, not here.
"""

from __future__ import annotations

from vatside.units.amount import BASE_UNITS, Amount, Kind, Problem, Spoons
from vatside.units.conversion import (
    convert,
    is_spoon,
    spoon_millilitres,
    teaspoons,
    to_base,
)
from vatside.units.names import EXAMPLES, KIND_OF_UNIT, KIND_WORDS, UNITS, fits
from vatside.units.parse import parse_amount, times
from vatside.units.show import (
    Spoonful,
    printed_grams,
    show_amount,
    show_concentration,
    show_count,
    show_countdown,
    show_mass,
    show_minutes,
    show_percent,
    show_temperature,
    show_value,
    show_volume,
    spoonfuls,
)

__all__ = [
    "BASE_UNITS",
    "EXAMPLES",
    "KIND_OF_UNIT",
    "KIND_WORDS",
    "UNITS",
    "Amount",
    "Kind",
    "Problem",
    "Spoonful",
    "Spoons",
    "convert",
    "fits",
    "is_spoon",
    "parse_amount",
    "printed_grams",
    "show_amount",
    "show_concentration",
    "show_count",
    "show_countdown",
    "show_mass",
    "show_minutes",
    "show_percent",
    "show_temperature",
    "show_value",
    "show_volume",
    "spoon_millilitres",
    "spoonfuls",
    "teaspoons",
    "times",
    "to_base",
]
