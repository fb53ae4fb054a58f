"""The whitelist of units: what each measures, how it is printed, and how people spell it."""

from __future__ import annotations

import re

from vatside.units.amount import Kind, Problem

UNITS: dict[str, str] = {
    "g": "g",
    "mg": "mg",
    "kg": "kg",
    "oz": "oz",
    "lb": "lb",
    "mL": "mL",
    "L": "L",
    "tsp": "tsp",
    "tbsp": "tbsp",
    "cup": "cup",
    "fl_oz": "fl oz",
    "pint": "pint",
    "quart": "quart",
    "gal": "gal",
    "degC": "°C",
    "degF": "°F",
    "s": "s",
    "min": "min",
    "h": "h",
    "day": "d",
    "%": "%",
    "cm": "cm",
    "mm": "mm",
    "m": "m",
    "in": "in",
    "ft": "ft",
    "g/L": "g/L",
    "L/kg": "L/kg",
    "W": "W",
    "kW": "kW",
    "mg/L CaCO3": "mg/L CaCO₃",
    "dH": "°dH",
    "fH": "°f",
    "eH": "°e",
    "gpg": "gpg",
    "mmol/L": "mmol/L",
    "mg/L Ca": "mg/L Ca",
    "meq/L": "meq/L",
    "mg/L HCO3": "mg/L HCO₃",
    "": "",
}
"""Every unit id that an amount can carry, and its printed form."""

PLURALS: dict[str, str] = {"cup": "cups", "pint": "pints", "quart": "quarts"}
"""The printed forms that change above one."""

KIND_OF_UNIT: dict[str, Kind] = {
    **dict.fromkeys(("g", "mg", "kg", "oz", "lb"), Kind.MASS),
    **dict.fromkeys(("mL", "L", "tsp", "tbsp", "cup", "fl_oz", "pint", "quart", "gal"), Kind.VOLUME),
    **dict.fromkeys(("degC", "degF"), Kind.TEMPERATURE),
    **dict.fromkeys(("s", "min", "h", "day"), Kind.TIME),
    "%": Kind.PERCENT,
    **dict.fromkeys(("cm", "mm", "m", "in", "ft"), Kind.LENGTH),
    "g/L": Kind.CONCENTRATION,
    "L/kg": Kind.RATIO,
    **dict.fromkeys(("W", "kW"), Kind.POWER),
    **dict.fromkeys(("mg/L CaCO3", "dH", "fH", "eH", "gpg", "mmol/L", "mg/L Ca", "meq/L", "mg/L HCO3"), Kind.HARDNESS),
    "": Kind.NUMBER,
}
"""What each unit measures; never `Kind.POWDER`, which takes masses and volumes, nor `Kind.ALKALINITY`."""

_OF_HARDNESS_ALONE = ("mmol/L", "mg/L Ca")
"""Units that count calcium itself: alkalinity has none of them."""

KIND_WORDS: dict[Kind, str] = {
    Kind.MASS: "a mass",
    Kind.VOLUME: "a volume",
    Kind.POWDER: "a mass or a number of spoons",
    Kind.TEMPERATURE: "a temperature",
    Kind.TIME: "a length of time",
    Kind.PERCENT: "a percentage",
    Kind.LENGTH: "a length",
    Kind.CONCENTRATION: "a concentration",
    Kind.RATIO: "a liquor ratio",
    Kind.POWER: "a heating power",
    Kind.HARDNESS: "a hardness of water",
    Kind.ALKALINITY: "an alkalinity of water",
    Kind.NUMBER: "a plain number",
}
"""Each kind as a sentence names it."""

EXAMPLES: dict[Kind, str] = {
    Kind.MASS: "250 g",
    Kind.VOLUME: "1.5 L",
    Kind.POWDER: "8 g or 1 1/2 tsp",
    Kind.TEMPERATURE: "60 °C",
    Kind.TIME: "20 min or 1 h 30",
    Kind.PERCENT: "40 %",
    Kind.LENGTH: "30 cm",
    Kind.CONCENTRATION: "2 g/L",
    Kind.RATIO: "30 L/kg or 1:30",
    Kind.POWER: "1.5 kW",
    Kind.HARDNESS: "150 mg/L or 8 °dH",
    Kind.ALKALINITY: "120 mg/L or 2.4 meq/L",
    Kind.NUMBER: "12",
}
"""What can be typed for each kind of amount."""


def fits(unit: str, kind: Kind) -> bool:
    """Whether an amount in this unit can stand where `kind` is wanted; False for an unknown unit."""
    measured = KIND_OF_UNIT.get(unit)
    if kind is Kind.POWDER:
        return measured in (Kind.MASS, Kind.VOLUME)
    if kind is Kind.ALKALINITY:
        return measured is Kind.HARDNESS and unit not in _OF_HARDNESS_ALONE
    return measured is kind


_SPELLINGS: dict[str, str] = {
    "g": "g gm gms gram grams gramme grammes",
    "mg": "mg milligram milligrams milligramme milligrammes",
    "kg": "kg kgs kilo kilos kilogram kilograms kilogramme kilogrammes",
    "oz": "oz ozs ounce ounces",
    "lb": "lb lbs pound pounds",
    "mL": "ml mls millilitre millilitres milliliter milliliters cc",
    "L": "l litre litres liter liters ltr ltrs",
    "tsp": "tsp tsps teaspoon teaspoons teaspoonful teaspoonfuls",
    "tbsp": "tbsp tbsps tbs tblsp tablespoon tablespoons tablespoonful tablespoonfuls",
    "cup": "cup cups cupful cupfuls",
    "fl_oz": "floz fl_oz fl-oz fl_ozs fluid_oz fluid_ounce fluid_ounces fl_ounce fl_ounces",
    "pint": "pint pints pt pts",
    "quart": "quart quarts qt qts",
    "gal": "gal gals gallon gallons",
    "degC": "°c c° ℃ degc deg_c degs_c degree_c degrees_c celsius °celsius deg_celsius degree_celsius degrees_celsius "
    "centigrade degrees_centigrade",
    "degF": "f °f f° ℉ degf deg_f degs_f degree_f degrees_f fahrenheit °fahrenheit deg_fahrenheit degree_fahrenheit "
    "degrees_fahrenheit",
    "s": "s sec secs second seconds",
    "min": "min mins minute minutes",
    "h": "h hr hrs hour hours",
    "day": "d day days",
    "%": "% pct percent per_cent %owf %wof owf wof percent_owf percent_wof per_cent_owf per_cent_wof",
    "cm": "cm cms centimetre centimetres centimeter centimeters",
    "mm": "mm mms millimetre millimetres millimeter millimeters",
    "m": "m metre metres meter meters",
    "in": "in ins inch inches",
    "ft": "ft foot feet",
    "W": "w watt watts",
    "kW": "kw kilowatt kilowatts",
}
"""An underscore stands for a space."""

SPELLINGS: dict[str, str] = {
    word.replace("_", " "): unit for unit, words in _SPELLINGS.items() for word in words.split()
}
"""What people write, in lower case, and the unit it means."""

_WATER: dict[str, str] = {
    "mg/L CaCO3": "mg/l ppm mg/l_caco ppm_caco mg/l_as_caco ppm_as_caco mg_caco/l",
    "dH": "dh °dh °d d dkh °dkh kh dgh °dgh gh german german_degrees",
    "fH": "f °f fh °fh tf th french french_degrees",
    "eH": "e °e eh °eh clark °clark english english_degrees clark_degrees degrees_clark",
    "gpg": "gpg gr/gal gr/gallon grains/gallon grains/gal",
    "meq/L": "meq/l mval/l",
    "mg/L HCO3": "mg/l_hco mg/l_as_hco ppm_hco",
}
"""What water companies and test strips write; the 3 of a carbonate is gone by then."""

LOCAL_SPELLINGS: dict[tuple[Kind, str], str] = {
    (Kind.TEMPERATURE, "c"): "degC",
    (Kind.TIME, "m"): "min",
    (Kind.LENGTH, '"'): "in",
    (Kind.LENGTH, "'"): "ft",
    **{
        (kind, word.replace("_", " ")): unit
        for kind in (Kind.HARDNESS, Kind.ALKALINITY)
        for unit, words in _WATER.items()
        for word in words.split()
    },
    (Kind.HARDNESS, "mmol/l"): "mmol/L",
    (Kind.HARDNESS, "mg/l ca"): "mg/L Ca",
    (Kind.ALKALINITY, "mmol/l"): "meq/L",
}
"""Spellings whose meaning depends on what is wanted."""

CONFUSABLE: dict[str, str] = {
    "e": "write the number in full, such as 1500",
    "t": "t and T are easily confused: write tsp or tbsp",
    "c": "c could be cups or degrees Celsius: write cup or °C",
    "gr": "gr could be grams or grains: write g",
    "dsp": "a dessertspoon has no fixed size here: write tsp or tbsp",
    "dessertspoon": "a dessertspoon has no fixed size here: write tsp or tbsp",
    "cl": "write mL: 1 cl is 10 mL",
    "dl": "write mL: 1 dl is 100 mL",
    "k": "write °C or °F",
    "kelvin": "write °C or °F",
    "°": "say which degrees: write °C or °F",
    "deg": "say which degrees: write °C or °F",
    "degree": "say which degrees: write °C or °F",
    "degrees": "say which degrees: write °C or °F",
    "ton": "write kg",
    "stone": "write lb",
    "spoon": "say which spoon: write tsp or tbsp",
    "spoons": "say which spoon: write tsp or tbsp",
    "heaped tsp": "only level spoons can be counted: write tsp",
    "heaped tbsp": "only level spoons can be counted: write tbsp",
    "wk": "write days",
    "week": "write days",
    "weeks": "write days",
    "ppm": "write g/L: 1000 ppm in water is about 1 g/L",
    "ml/g": "write L/kg: 30 mL/g is 30 L/kg",
    "gpl": "write g/L",
}
"""Spellings that are refused, and what would be right."""


_PER = re.compile(r"\bper\b(?! cent)")
_CLOSED_UP = re.compile(r" ?([/°%]) ?")
_LEVEL_SPOON = re.compile(r"level (?=t|cup)")
_BARE_DEGREES = ("°", "deg", "degree", "degrees")


def read_unit(text: str, kind: Kind, default: str | None = None) -> str | Problem:
    """Find the unit id for a spelling; what is wanted (`kind`) settles `C` and `m`.

    `default` is the unit of a bare number: `60°` takes it. A Problem names what would be right.
    """
    key = _key(text)
    if kind is Kind.TEMPERATURE and default and key in _BARE_DEGREES:
        return default
    local = LOCAL_SPELLINGS.get((kind, key))
    if local is not None:
        return local
    if key in CONFUSABLE:
        return Problem(CONFUSABLE[key])
    return SPELLINGS.get(key) or _quotient(key) or _unknown(text, kind)


def _unknown(text: str, kind: Kind) -> Problem:
    return Problem(f"“{text}” is no unit known here: write {KIND_WORDS[kind]}, such as {EXAMPLES[kind]}")


def _key(text: str) -> str:
    lowered = _CLOSED_UP.sub(r"\1", _PER.sub("/", text.lower()))
    return _LEVEL_SPOON.sub("", lowered)


def _quotient(key: str) -> str | None:
    """Read `g/l` and its like from the spellings of its two parts."""
    over, slash, under = key.partition("/")
    unit = f"{SPELLINGS.get(over)}{slash}{SPELLINGS.get(under)}"
    return unit if unit in UNITS else None
