"""Amounts as people type them: what is understood."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vatside.units import EXAMPLES, KIND_OF_UNIT, UNITS, Amount, Kind, Problem, Spoons, parse_amount

SPOON_TEXTS = [
    ("1 1/2 tsp", 1.5, "tsp"),
    ("1½ tsp", 1.5, "tsp"),
    ("1 ½ tsp", 1.5, "tsp"),
    ("½ tsp", 0.5, "tsp"),
    ("11½ tsp", 11.5, "tsp"),
    ("1⅛tsp", 1.125, "tsp"),
    ("1-1/2 tsp", 1.5, "tsp"),
    ("1-½ tsp", 1.5, "tsp"),
    ("1 and 1/2 tsp", 1.5, "tsp"),
    ("1 & ½ tsp", 1.5, "tsp"),
    ("3/4 tsp", 0.75, "tsp"),
    ("3⁄4 tsp", 0.75, "tsp"),
    ("3 / 4 tsp", 0.75, "tsp"),
    ("3/2 tsp", 1.5, "tsp"),
    ("10/2 tsp", 5.0, "tsp"),
    ("1 tsp.", 1.0, "tsp"),
    ("2 teaspoons", 2.0, "tsp"),
    ("2 level teaspoons", 2.0, "tsp"),
    ("2 TSP", 2.0, "tsp"),
    ("1 Tbsp", 1.0, "tbsp"),
    ("2 tablespoons", 2.0, "tbsp"),
    ("2 tbs", 2.0, "tbsp"),
    ("2 cups", 2.0, "cup"),
    ("3 fl oz", 3.0, "fl_oz"),
    ("3 fl. oz.", 3.0, "fl_oz"),
    ("3 floz", 3.0, "fl_oz"),
    ("3 FL OZ", 3.0, "fl_oz"),
    ("3 fluid ounces", 3.0, "fl_oz"),
    ("1 pt", 1.0, "pint"),
    ("2 quarts", 2.0, "quart"),
    ("1.5 gallons", 1.5, "gal"),
    ("250 ml", 250.0, "mL"),
    ("250 ML", 250.0, "mL"),
    ("250 cc", 250.0, "mL"),
    ("1.5 l", 1.5, "L"),
    ("1.5 litres", 1.5, "L"),
    ("1.5 liters", 1.5, "L"),
]


@pytest.mark.parametrize(("text", "value", "unit"), SPOON_TEXTS)
@pytest.mark.parametrize("kind", [Kind.VOLUME, Kind.POWDER])
def test_spoons_and_volumes(text: str, kind: Kind, value: float, unit: str) -> None:
    """Spoons, cups, liquid measures and litres are read, for volumes and for powders alike."""
    assert parse_amount(text, kind) == Amount(value, unit)


@pytest.mark.parametrize(
    ("text", "kind", "value", "unit"),
    [
        ("½ lb", Kind.MASS, 0.5, "lb"),
        ("1 lb 4 oz", Kind.MASS, 1.25, "lb"),
        ("1lb 4oz", Kind.MASS, 1.25, "lb"),
        ("1 lb. 4 oz.", Kind.MASS, 1.25, "lb"),
        ("1 lb, 4 oz", Kind.MASS, 1.25, "lb"),
        ("1 lb and 4 oz", Kind.MASS, 1.25, "lb"),
        ("1 lb .5 oz", Kind.MASS, 1.03125, "lb"),
        ("2 pounds", Kind.MASS, 2, "lb"),
        ("1 kg 250 g", Kind.MASS, 1.25, "kg"),
        ("2 x 100 g", Kind.MASS, 200, "g"),
        ("2x100g", Kind.MASS, 200, "g"),
        ("2 × 100 g", Kind.MASS, 200, "g"),
        ("2*100 g", Kind.MASS, 200, "g"),
        ("2 X 100 g", Kind.MASS, 200, "g"),
        ("3 x ½ lb", Kind.MASS, 1.5, "lb"),
        ("2 x 1 lb 4 oz", Kind.MASS, 2.5, "lb"),
        ("1,5 g", Kind.MASS, 1.5, "g"),
        ("0,250 kg", Kind.MASS, 0.25, "kg"),
        ("1500,250 g", Kind.MASS, 1500.25, "g"),
        ("1.500 kg", Kind.MASS, 1.5, "kg"),
        (".5 g", Kind.MASS, 0.5, "g"),
        ("5. g", Kind.MASS, 5, "g"),
        ("007 g", Kind.MASS, 7, "g"),
        ("5 G", Kind.MASS, 5, "g"),
        ("5 KG", Kind.MASS, 5, "kg"),
        ("500 mg", Kind.MASS, 500, "mg"),
        ("20 grams", Kind.MASS, 20, "g"),
        ("1 kilo", Kind.MASS, 1, "kg"),
        ("  5\u00a0g \n", Kind.MASS, 5, "g"),
        ("0 g", Kind.MASS, 0, "g"),
        ("140 F", Kind.TEMPERATURE, 140, "degF"),
        ("60C", Kind.TEMPERATURE, 60, "degC"),
        ("60 °C", Kind.TEMPERATURE, 60, "degC"),
        ("60º C", Kind.TEMPERATURE, 60, "degC"),
        ("60 ℃", Kind.TEMPERATURE, 60, "degC"),
        ("60 c", Kind.TEMPERATURE, 60, "degC"),
        ("60 degrees celsius", Kind.TEMPERATURE, 60, "degC"),
        ("140 degrees F", Kind.TEMPERATURE, 140, "degF"),
        ("-5 °C", Kind.TEMPERATURE, -5, "degC"),
        ("−5 C", Kind.TEMPERATURE, -5, "degC"),
        ("-22 F", Kind.TEMPERATURE, -22, "degF"),
        ("-0 C", Kind.TEMPERATURE, 0, "degC"),
        ("20 min", Kind.TIME, 20, "min"),
        ("20m", Kind.TIME, 20, "min"),
        ("20 minutes", Kind.TIME, 20, "min"),
        ("90 s", Kind.TIME, 90, "s"),
        ("2 hours", Kind.TIME, 2, "h"),
        ("1h 30", Kind.TIME, 90, "min"),
        ("1h30", Kind.TIME, 90, "min"),
        ("1 h 30 min", Kind.TIME, 90, "min"),
        ("1 hr 30 mins", Kind.TIME, 90, "min"),
        ("1:30", Kind.TIME, 90, "min"),
        ("0:05", Kind.TIME, 5, "min"),
        ("1:30 h", Kind.TIME, 90, "min"),
        ("1 h 20", Kind.TIME, 80, "min"),
        ("2 days 3 h", Kind.TIME, 51, "h"),
        ("1 min 30 s", Kind.TIME, 90, "s"),
        ("1½ h", Kind.TIME, 1.5, "h"),
        ("40 %", Kind.PERCENT, 40, "%"),
        ("40%", Kind.PERCENT, 40, "%"),
        ("0.8% owf", Kind.PERCENT, 0.8, "%"),
        ("0,8 % owf", Kind.PERCENT, 0.8, "%"),
        ("10 per cent", Kind.PERCENT, 10, "%"),
        ("1.5 kW", Kind.POWER, 1.5, "kW"),
        ("1500 watts", Kind.POWER, 1500, "W"),
        ("30 L/kg", Kind.RATIO, 30, "L/kg"),
        ("30 l / kg", Kind.RATIO, 30, "L/kg"),
        ("30 litres per kilo", Kind.RATIO, 30, "L/kg"),
        ("1:30", Kind.RATIO, 30, "L/kg"),
        ("1 : 30", Kind.RATIO, 30, "L/kg"),
        ("30:1", Kind.RATIO, 30, "L/kg"),
        ("1:7,5", Kind.RATIO, 7.5, "L/kg"),
        ("2 g/L", Kind.CONCENTRATION, 2, "g/L"),
        ("2 grams per litre", Kind.CONCENTRATION, 2, "g/L"),
        ("30 cm", Kind.LENGTH, 30, "cm"),
        ("1.2 m", Kind.LENGTH, 1.2, "m"),
        ("12 inches", Kind.LENGTH, 12, "in"),
        ("12 in.", Kind.LENGTH, 12, "in"),
        ('12"', Kind.LENGTH, 12, "in"),
        ("1 ft 6 in", Kind.LENGTH, 1.5, "ft"),
        ("1′6″", Kind.LENGTH, 1.5, "ft"),
        ("12", Kind.NUMBER, 12, ""),
        ("1 1/2", Kind.NUMBER, 1.5, ""),
    ],
)
def test_every_kind(text: str, kind: Kind, value: float, unit: str) -> None:
    """Each kind of amount is read as a person writes it."""
    assert parse_amount(text, kind) == Amount(value, unit)


@pytest.mark.parametrize(
    ("text", "kind", "unit", "expected"),
    [
        ("40", Kind.PERCENT, "%", Amount(40, "%")),
        ("60", Kind.TEMPERATURE, "degF", Amount(60, "degF")),
        ("60°", Kind.TEMPERATURE, "degC", Amount(60, "degC")),
        ("-5", Kind.TEMPERATURE, "degC", Amount(-5, "degC")),
        ("2 x 100", Kind.MASS, "g", Amount(200, "g")),
        ("1 1/2", Kind.POWDER, "tsp", Amount(1.5, "tsp")),
        ("3 oz", Kind.MASS, "g", Amount(3, "oz")),
        ("20", Kind.TIME, "min", Amount(20, "min")),
    ],
)
def test_a_bare_number_takes_the_unit_of_the_field(text: str, kind: Kind, unit: str, expected: Amount) -> None:
    """The field's unit is taken when only a number was typed, and only then."""
    assert parse_amount(text, kind, unit=unit) == expected


@pytest.mark.parametrize(("spoons", "tablespoons"), [(Spoons.US, 2 + 1 / 3), (Spoons.AUSTRALIAN, 2.25)])
def test_spoons_add_up_on_their_own_bench(spoons: Spoons, tablespoons: float) -> None:
    """A teaspoon is a third of a US tablespoon and a quarter of an Australian one."""
    amount = parse_amount("2 tbsp 1 tsp", Kind.POWDER, spoons=spoons)
    assert isinstance(amount, Amount)
    assert amount.unit == "tbsp"
    assert amount.value == pytest.approx(tablespoons, rel=1e-15)


@pytest.mark.parametrize("kind", Kind)
def test_examples_are_right(kind: Kind) -> None:
    """Every example that a problem names can itself be typed."""
    for example in EXAMPLES[kind].split(" or "):
        assert isinstance(parse_amount(example, kind), Amount), example


@pytest.mark.parametrize("unit", [unit for unit in UNITS if unit])
def test_printed_units_are_understood(unit: str) -> None:
    """What is printed after a number can be typed after one."""
    assert parse_amount(f"5 {UNITS[unit]}", KIND_OF_UNIT[unit]) == Amount(5, unit)


def whole_or_empty(number: int) -> str:
    """Write a whole part, nothing for zero."""
    return f"{number} " if number else ""


@given(whole=st.integers(0, 999), over=st.integers(1, 15), under=st.integers(2, 16))
def test_mixed_numbers_are_exact(whole: int, over: int, under: int) -> None:
    """A whole number and a proper fraction come to their exact sum."""
    over = over % under or 1
    amount = parse_amount(f"{whole_or_empty(whole)}{over}/{under} tsp", Kind.POWDER)
    assert amount == Amount(float(whole + Fraction(over, under)), "tsp")


@given(hours=st.integers(0, 23), minutes=st.integers(0, 59))
def test_all_spellings_of_a_time_agree(hours: int, minutes: int) -> None:
    """A colon, `h` alone and both units mean the same exact number of minutes."""
    texts = (f"{hours}:{minutes:02}", f"{hours}h {minutes}", f"{hours} h {minutes} min", f"{hours}h{minutes:02}m")
    assert {parse_amount(text, Kind.TIME) for text in texts} == {Amount(60 * hours + minutes, "min")}


@given(number=st.decimals(0, 100_000, places=2))
def test_comma_and_point_are_the_same(number: object) -> None:
    """A decimal comma means a decimal point when no thousands mark could be meant."""
    text = str(number)
    assert parse_amount(f"{text.replace('.', ',')} g", Kind.MASS) == parse_amount(f"{text} g", Kind.MASS)
    assert not isinstance(parse_amount(f"{text} g", Kind.MASS), Problem)
