"""What most plans are written in, as exact factors, so that an ordinary day never waits for pint.

The definitions are `registry`'s; a test holds every factor here against pint's own. What is not here, the British and
Australian measures, goes through pint.
"""

from __future__ import annotations

from fractions import Fraction

from vatside.units.amount import Spoons

_POUND_G = Fraction("453.59237")
_INCH_CM = Fraction("2.54")
_GALLON_US_L = 231 * (_INCH_CM / 10) ** 3
_FLUID_OUNCE_US_L = _GALLON_US_L / 128

_CALCIUM_CARBONATE = Fraction("100.0869")
_GRAIN_MG = _POUND_G * 1000 / 7000
_GALLON_IMPERIAL_L = Fraction("4.54609")

_EVERYWHERE: dict[str, Fraction] = {
    "g": Fraction(1),
    "mg": Fraction(1, 1000),
    "kg": Fraction(1000),
    "oz": _POUND_G / 16,
    "lb": _POUND_G,
    "mL": Fraction(1, 1000),
    "L": Fraction(1),
    "degC": Fraction(1),
    "degF": Fraction(5, 9),
    "s": Fraction(1, 60),
    "min": Fraction(1),
    "h": Fraction(60),
    "day": Fraction(1440),
    "%": Fraction(1),
    "cm": Fraction(1),
    "mm": Fraction(1, 10),
    "m": Fraction(100),
    "in": _INCH_CM,
    "ft": 12 * _INCH_CM,
    "g/L": Fraction(1),
    "L/kg": Fraction(1),
    "W": Fraction(1, 1000),
    "kW": Fraction(1),
    "mg/L CaCO3": Fraction(1),
    "dH": 10 * _CALCIUM_CARBONATE / Fraction("56.0774"),
    "fH": Fraction(10),
    "eH": _GRAIN_MG / _GALLON_IMPERIAL_L,
    "gpg": _GRAIN_MG / _GALLON_US_L,
    "mmol/L": _CALCIUM_CARBONATE,
    "mg/L Ca": _CALCIUM_CARBONATE / Fraction("40.078"),
    "meq/L": _CALCIUM_CARBONATE / 2,
    "mg/L HCO3": _CALCIUM_CARBONATE / 2 / Fraction("61.0168"),
    "": Fraction(1),
}
"""One of each in the base unit of its kind."""

_US: dict[str, Fraction] = {
    "tsp": _FLUID_OUNCE_US_L / 6,
    "tbsp": _FLUID_OUNCE_US_L / 2,
    "cup": 8 * _FLUID_OUNCE_US_L,
    "fl_oz": _FLUID_OUNCE_US_L,
    "pint": 16 * _FLUID_OUNCE_US_L,
    "quart": 32 * _FLUID_OUNCE_US_L,
    "gal": _GALLON_US_L,
}
_METRIC: dict[str, Fraction] = {"tsp": Fraction(5, 1000), "tbsp": Fraction(15, 1000), "cup": Fraction(250, 1000)}

FACTORS: dict[tuple[str, Spoons | None], Fraction] = {
    **{(unit, None): factor for unit, factor in _EVERYWHERE.items()},
    **{(unit, Spoons.US): factor for unit, factor in _US.items()},
    **{(unit, Spoons.METRIC): factor for unit, factor in _METRIC.items()},
}
"""Litres, grams and so on in one of a unit; None: whoever's spoons they are."""

_AT_ZERO: dict[str, Fraction] = {"degF": Fraction(-160, 9)}
"""The base unit's number where a unit's own is zero, for those that do not begin together."""


def known(unit: str, spoons: Spoons) -> tuple[Fraction, Fraction] | None:
    """Give scale and offset of a unit to the base unit of its kind; None if only pint knows them."""
    factor = FACTORS.get((unit, None)) or FACTORS.get((unit, spoons))
    return None if factor is None else (factor, _AT_ZERO.get(unit, Fraction(0)))
