"""Amounts as they are printed."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vatside.units import (
    KIND_OF_UNIT,
    UNITS,
    Amount,
    Kind,
    convert,
    parse_amount,
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
    to_base,
)


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (1.5, "tsp", "1 1/2 tsp"),
        (1 / 3, "cup", "1/3 cup"),
        (2.5, "cup", "2 1/2 cups"),
        (1, "cup", "1 cup"),
        (1.3, "tsp", "1.3 tsp"),
        (2, "pint", "2 pints"),
        (2, "gal", "2 gal"),
        (3, "fl_oz", "3 fl oz"),
        (1.5, "in", "1 1/2 in"),
        (1.25, "lb", "1.25 lb"),
        (0.1, "g", "0.1 g"),
        (1234567, "g", "1234567 g"),
        (12.3456789, "g", "12.3457 g"),
        (0.00001, "g", "0.00001 g"),
        (60, "degC", "60 °C"),
        (-5, "degC", "-5 °C"),
        (-0.0, "degC", "0 °C"),
        (140, "degF", "140 °F"),
        (90, "min", "1 h 30 min"),
        (1.5, "h", "1 h 30 min"),
        (20, "min", "20 min"),
        (20.5, "min", "20.5 min"),
        (90, "s", "90 s"),
        (150, "s", "2 min 30 s"),
        (36, "h", "36 h"),
        (51, "h", "2 d 3 h"),
        (0, "min", "0 min"),
        (40, "%", "40 %"),
        (30, "L/kg", "30 L/kg"),
        (1.5, "kW", "1.5 kW"),
        (12, "", "12"),
    ],
)
def test_show_amount(value: float, unit: str, text: str) -> None:
    """An amount is printed as a person would have written it."""
    assert show_amount(Amount(value, unit)) == text


@given(value=st.floats(1e-3, 1e5), unit=st.sampled_from(list(UNITS)))
def test_what_is_printed_can_be_typed_again(value: float, unit: str) -> None:
    """A printed amount reads back as the same quantity within the six digits of print."""
    kind = KIND_OF_UNIT[unit]
    again = parse_amount(show_amount(Amount(value, unit)), kind)
    assert isinstance(again, Amount)
    assert to_base(again, kind) == pytest.approx(to_base(Amount(value, unit), kind), rel=5e-6)


@given(eighths=st.integers(1, 400), unit=st.sampled_from(["tsp", "tbsp", "cup", "fl_oz", "pint", "in"]))
def test_eighths_come_back_exactly(eighths: int, unit: str) -> None:
    """An eighth of a spoon is printed as a fraction and read back to the last bit."""
    amount = Amount(eighths / 8, unit)
    assert "." not in show_amount(amount)
    assert parse_amount(show_amount(amount), KIND_OF_UNIT[unit]) == amount


@given(minutes=st.integers(1, 10_000))
def test_whole_minutes_come_back_exactly(minutes: int) -> None:
    """A length of time in whole minutes is read back as the same time."""
    again = parse_amount(show_minutes(minutes), Kind.TIME)
    assert isinstance(again, Amount)
    assert convert(again.value, again.unit, "min") == minutes


@given(value=st.floats(allow_nan=False, allow_infinity=False), unit=st.sampled_from([*UNITS, "mol/L"]))
def test_printing_is_total(value: float, unit: str) -> None:
    """Any finite number is printed, however large or small."""
    for text in (show_amount(Amount(value, unit)), show_value(value, unit)):
        assert "nan" not in text
        assert re.search(r"\d", text)
        assert "-0 " not in f"{text} "


@pytest.mark.parametrize(
    ("grams", "text"),
    [
        (0, "0 g"),
        (0.001, "less than 0.01 g"),
        (0.005, "0.01 g"),
        (0.04, "0.04 g"),
        (0.0949, "0.09 g"),
        (0.096, "0.1 g"),
        (5, "5.0 g"),
        (12.34, "12.3 g"),
        (99.94, "99.9 g"),
        (99.96, "100 g"),
        (227.4, "227 g"),
        (999.4, "999 g"),
        (999.6, "1.00 kg"),
        (1234, "1.23 kg"),
        (-5, "-5.0 g"),
    ],
)
def test_show_mass(grams: float, text: str) -> None:
    """Masses get the digits of the scale that weighs them, with no odd text where the digits change."""
    assert show_mass(grams) == text


@given(grams=st.floats(1e-12, 1e6))
def test_nothing_real_is_printed_as_nothing(grams: float) -> None:
    """A mass above zero never prints as a row of noughts."""
    assert re.search("[1-9]", show_mass(grams))


@given(grams=st.floats(0.095, 1e5))
def test_masses_are_rounded_to_what_is_said(grams: float) -> None:
    """A printed mass lies within half of its last digit."""
    amount = parse_amount(show_mass(grams), Kind.MASS)
    assert isinstance(amount, Amount)
    step = 0.1 if grams < 100 else 1 if grams < 1000 else 10
    assert to_base(amount, Kind.MASS) == pytest.approx(grams, abs=step / 2 * (1 + 1e-9))


@pytest.mark.parametrize(
    ("litres", "text"),
    [
        (0, "0 mL"),
        (0.00001, "less than 0.1 mL"),
        (0.0049, "4.9 mL"),
        (0.25, "250 mL"),
        (0.9994, "999 mL"),
        (0.9996, "1 L"),
        (1.5, "1.5 L"),
        (1.234, "1.23 L"),
        (12.34, "12.3 L"),
        (45.46, "45.5 L"),
        (123.4, "123 L"),
    ],
)
def test_show_volume(litres: float, text: str) -> None:
    """Volumes are in mL below a litre, else in litres with no more digits than a tub can show."""
    assert show_volume(litres) == text


@pytest.mark.parametrize(
    ("celsius", "text"),
    [
        (60.4, "60 °C"),
        (-0.3, "0 °C"),
    ],
)
def test_show_temperature(celsius: float, text: str) -> None:
    """Temperatures are in whole degrees."""
    assert show_temperature(celsius) == text


@pytest.mark.parametrize(
    ("minutes", "text"),
    [
        (0, "0 min"),
        (0.5, "30 s"),
        (0.001, "1 s"),
        (0.999, "1 min"),
        (1.5, "1.5 min"),
        (9.97, "10 min"),
        (20, "20 min"),
        (59.6, "1 h"),
        (60, "1 h"),
        (90, "1 h 30 min"),
        (47 * 60, "47 h"),
        (51 * 60, "2 d 3 h"),
        (48 * 60 + 5, "2 d 5 min"),
    ],
)
def test_show_minutes(minutes: float, text: str) -> None:
    """Lengths of time are printed in the units a person would use."""
    assert show_minutes(minutes) == text


@pytest.mark.parametrize(
    ("seconds", "text"),
    [(0, "0:00"), (-3, "0:00"), (0.2, "0:01"), (9, "0:09"), (2050, "34:10"), (3599.5, "1:00:00"), (3753, "1:02:33")],
)
def test_show_countdown(seconds: float, text: str) -> None:
    """A countdown reads 0:00 only when it is over."""
    assert show_countdown(seconds) == text


@pytest.mark.parametrize(
    ("percent", "text"), [(40, "40 %"), (0.8, "0.8 %"), (12.54, "12.5 %"), (0.01234, "0.0123 %"), (123.4, "123 %")]
)
def test_show_percent(percent: float, text: str) -> None:
    """Percentages get three digits that matter."""
    assert show_percent(percent) == text


@pytest.mark.parametrize(
    ("concentration", "text"), [(2, "2 g/L"), (2.345, "2.35 g/L"), (0.012, "0.012 g/L"), (123.4, "123 g/L")]
)
def test_show_concentration(concentration: float, text: str) -> None:
    """Concentrations get three digits that matter."""
    assert show_concentration(concentration) == text


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (12.5, "g", "12.5 g"),
        (0.5, "L", "500 mL"),
        (49.6, "degC", "50 °C"),
        (90, "min", "1 h 30 min"),
        (0.82, "%", "0.82 %"),
        (30, "cm", "30 cm"),
        (2.5, "g/L", "2.5 g/L"),
        (30, "L/kg", "30 L/kg"),
        (1.5, "kW", "1.5 kW"),
        (10.44, "", "10.4"),
        (3, "skeins", "3 skeins"),
    ],
)
def test_show_value(value: float, unit: str, text: str) -> None:
    """A number in a base unit is printed as fits what it measures."""
    assert show_value(value, unit) == text


@pytest.mark.parametrize(("number", "text"), [(0, "0 dips"), (1, "1 dip"), (2, "2 dips"), (21, "21 dips")])
def test_one_of_a_thing_is_singular(number: int, text: str) -> None:
    """Only one takes the word without an s."""
    assert show_count(number, "dip") == text


def test_a_plural_of_its_own() -> None:
    """Where the plural is not the word with an s, it is given."""
    assert [show_count(number, "entry", "entries") for number in (1, 2)] == ["1 entry", "2 entries"]
