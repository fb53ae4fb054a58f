"""The one pint registry, with our own short list of definitions.

pint sees numbers and the names below, never a text that a person typed: it reads `1 1/2 tsp` as half a
teaspoon and `50 C` as coulombs.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING

from vatside.units.amount import Spoons

if TYPE_CHECKING:
    from pint import UnitRegistry

_SI = """
metre = [length]
second = [time]
kilogram = [mass]
kelvin = [temperature]; offset: 0
number = []
"""
# Base units as in the SI Brochure (BIPM); pint wants an offset on the temperature that others lean on.

_METRIC = """
gram = 0.001 * kilogram
milligram = 0.001 * gram
centimetre = 0.01 * metre
millimetre = 0.001 * metre
litre = 0.001 * metre ** 3
millilitre = 0.001 * litre
minute = 60 * second
hour = 60 * minute
day = 24 * hour
watt = kilogram * metre ** 2 / second ** 3
kilowatt = 1000 * watt
percent = 0.01 * number
celsius = kelvin; offset: 273.15
fahrenheit = 5 / 9 * kelvin; offset: 459.67 * 5 / 9
"""
# SI Brochure; NIST SP 811 (2008) B.6 for minute, hour, day and the two temperature scales (from memory).

_AVOIRDUPOIS = """
pound = 0.45359237 * kilogram
ounce = pound / 16
inch = 0.0254 * metre
foot = 12 * inch
"""
# International yard and pound, 1959, exact: NIST Handbook 44 Appendix C (from memory);
# the same pound in the UK Weights and Measures Act 1985, Schedule 1 (from memory).

_US = """
gallon_us = 231 * inch ** 3
quart_us = gallon_us / 4
pint_us = gallon_us / 8
fluid_ounce_us = gallon_us / 128
cup_us = gallon_us / 16
tablespoon_us = fluid_ounce_us / 2
teaspoon_us = tablespoon_us / 3
"""
# Gallon of 231 cubic inches and cup of 8 fluid ounces, exact: NIST Handbook 44, Appendix C (extract seen).
# Spoons as parts of the fluid ounce: NIST SP 430, Metric Household, table 1 (seen).

_IMPERIAL = """
gallon_imperial = 4.54609 * litre
quart_imperial = gallon_imperial / 4
pint_imperial = gallon_imperial / 8
gill_imperial = pint_imperial / 4
fluid_ounce_imperial = pint_imperial / 20
cup_imperial = pint_imperial / 2
tablespoon_imperial = 5 / 8 * fluid_ounce_imperial
teaspoon_imperial = gill_imperial / 24
"""
# Gallon of 4.54609 L with its quart, pint, gill and fluid ounce: UK Weights and Measures Act 1985, Schedule 1
# as first made (from memory; today's text keeps little of it). The cup of half a pint and the tablespoon of
# 5/8 fl oz with its three teaspoons were kitchen practice, never law; the definitions of GNU Units list them
# (seen). The apothecary's teaspoon of 1/8 fl oz is smaller still, and a British spoon bought today is metric.

_WATER = """
calcium_carbonate = 0.1000869 * kilogram
hardness_mg = milligram / litre
hardness_mmol = 0.001 * calcium_carbonate / litre
hardness_meq = hardness_mmol / 2
hardness_calcium = hardness_mmol / 40.078
hardness_bicarbonate = hardness_meq / 61.0168
hardness_german = 10 / 56.0774 * hardness_mmol
hardness_french = 10 * milligram / litre
grain = pound / 7000
hardness_english = grain / gallon_imperial
hardness_us = grain / gallon_us
"""
# All as the calcium carbonate that would be as hard. A German degree is 10 mg of CaO a litre, a French one 10 mg of
# CaCO3, an English (Clark) one a grain of CaCO3 in an imperial gallon: definitions, from memory. Molar masses: CIAAW.

_METRIC_KITCHEN = """
cup_metric = 250 * millilitre
tablespoon_metric = 15 * millilitre
teaspoon_metric = 5 * millilitre
"""
# Kitchen practice of metric countries (from memory).

_AUSTRALIAN = """
cup_australian = 250 * millilitre
tablespoon_australian = 20 * millilitre
teaspoon_australian = 5 * millilitre
"""
# The measuring set of the Standards Association of Australia, as a health office's conversion chart quotes it
# (seen); the standard itself was not in front of us.

_DEFINITIONS = (_SI, _METRIC, _AVOIRDUPOIS, _US, _IMPERIAL, _WATER, _METRIC_KITCHEN, _AUSTRALIAN)

_NAMES: dict[str, str] = {
    "g": "gram",
    "mg": "milligram",
    "kg": "kilogram",
    "oz": "ounce",
    "lb": "pound",
    "mL": "millilitre",
    "L": "litre",
    "degC": "celsius",
    "degF": "fahrenheit",
    "s": "second",
    "min": "minute",
    "h": "hour",
    "day": "day",
    "%": "percent",
    "cm": "centimetre",
    "mm": "millimetre",
    "m": "metre",
    "in": "inch",
    "ft": "foot",
    "g/L": "gram / litre",
    "L/kg": "litre / kilogram",
    "W": "watt",
    "kW": "kilowatt",
    "mg/L CaCO3": "hardness_mg",
    "dH": "hardness_german",
    "fH": "hardness_french",
    "eH": "hardness_english",
    "gpg": "hardness_us",
    "mmol/L": "hardness_mmol",
    "mg/L Ca": "hardness_calcium",
    "meq/L": "hardness_meq",
    "mg/L HCO3": "hardness_bicarbonate",
    "": "number",
}
"""The registry's name for each unit id that means the same everywhere."""

_SPOONS: dict[str, str] = {"tsp": "teaspoon", "tbsp": "tablespoon", "cup": "cup"}
"""Spoons and cups: each of the four systems has its own."""

_MEASURES: dict[str, str] = {"fl_oz": "fluid_ounce", "pint": "pint", "quart": "quart", "gal": "gallon"}
"""Liquid measures: metric and Australian kitchens have none, so there these are imperial."""


def registry_name(unit: str, spoons: Spoons) -> str:
    """Name a unit of the whitelist as the registry knows it; KeyError for any other."""
    if unit in _SPOONS:
        return f"{_SPOONS[unit]}_{spoons.value}"
    if unit in _MEASURES:
        return f"{_MEASURES[unit]}_{'us' if spoons is Spoons.US else 'imperial'}"
    return _NAMES[unit]


@cache
def registry() -> UnitRegistry[Fraction]:
    """Build the registry at the first call; it counts in fractions, so that definitions stay exact."""
    from pint import UnitRegistry

    made: UnitRegistry[Fraction] = UnitRegistry(None, non_int_type=Fraction)
    for block in _DEFINITIONS:
        for line in block.strip().splitlines():
            made.define(line)
    return made
