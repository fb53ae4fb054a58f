"""Amounts as people type them: what is refused, and the sentence that says what would be right."""

from __future__ import annotations

import time
import unicodedata
from math import isfinite

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from vatside.units import BASE_UNITS, Kind, Problem, Spoons, convert, fits, parse_amount
from vatside.units.parse import COLDEST, LARGEST

ZERO_WIDTH, RIGHT_TO_LEFT, BELL = "\u200b", "\u202e", "\x07"


@pytest.mark.parametrize(
    ("text", "kind", "sentence"),
    [
        # Two meanings: both are named.
        ("1,500 g", Kind.MASS, "1,500 could be 1.5 or 1500: write 1.5 g or 1500 g"),
        ("12,050 °C", Kind.TEMPERATURE, "12,050 could be 12.05 or 12050: write 12.05 °C or 12050 °C"),
        ("1,500", Kind.NUMBER, "1,500 could be 1.5 or 1500: write 1.5 or 1500"),
        ("11/2 tsp", Kind.POWDER, "11/2 could be 5.5 or 1 1/2: write one of these"),
        ("13/4 tsp", Kind.POWDER, "13/4 could be 3.25 or 1 3/4: write one of these"),
        ("3 T", Kind.POWDER, "t and T are easily confused: write tsp or tbsp"),
        ("3 t", Kind.POWDER, "t and T are easily confused: write tsp or tbsp"),
        ("2 C", Kind.VOLUME, "c could be cups or degrees Celsius: write cup or °C"),
        ("5 gr", Kind.MASS, "gr could be grams or grains: write g"),
        ("60°", Kind.TEMPERATURE, "say which degrees: write °C or °F"),
        ("1 lb.5 oz", Kind.MASS, "b.5 could mean 5 or 0.5: put a space before the number"),
        ("2 x.5 kg", Kind.MASS, "x.5 could mean 5 or 0.5: put a space before the number"),
        ("34:10", Kind.TIME, "34:10 could be minutes and seconds: write 34 min or 34 h 10 min"),
        # A slip of the hand: what would be right is named.
        ("1,500.5 g", Kind.MASS, "1,500.5 has too many points and commas: write 1500.5 without a thousands mark"),
        ("1.500,5 g", Kind.MASS, "1.500,5 has too many points and commas: write 1500.5 without a thousands mark"),
        ("1.2.3 g", Kind.MASS, "1.2.3 has too many points and commas: write it with one decimal point at most"),
        (",5 g", Kind.MASS, "write 0.5 for ,5"),
        ("1 3/2 tsp", Kind.POWDER, "1 3/2 could be misread: write the part after 1 as less than one"),
        ("2-4 tsp", Kind.POWDER, "write one number, not 2 to 4"),
        ("2 – 4 tsp", Kind.POWDER, "write one number, not 2 to 4"),
        ("7−½ tsp", Kind.POWDER, "write one number, not 7 to 1/2"),
        ("2 to 4 tsp", Kind.POWDER, "write one number, not 2 to 4"),
        ("4 oz 1 lb", Kind.MASS, "write lb before oz, or one amount only"),
        ("1 g 1 g", Kind.MASS, "write g only once"),
        ("1 lb 4", Kind.MASS, "what is the last 4? write a unit after it"),
        ("1 h 75", Kind.TIME, "75 cannot be the minutes after 1 h: write a unit after each"),
        ("1 h 30.5", Kind.TIME, "30.5 cannot be the minutes after 1 h: write a unit after each"),
        ("1.5 h 30", Kind.TIME, "30 cannot be the minutes after 1.5 h: write a unit after each"),
        ("1:5", Kind.TIME, "with a colon, write hours and two digits of minutes, such as 1:30 for 1 h 30 min"),
        ("1:75", Kind.TIME, "with a colon, write hours and two digits of minutes, such as 1:30 for 1 h 30 min"),
        ("1:30:00", Kind.TIME, "with a colon, write hours and two digits of minutes, such as 1:30 for 1 h 30 min"),
        ("2:60", Kind.RATIO, "write a liquor ratio as 1:30 or 30 L/kg"),
        ("1:0", Kind.RATIO, "write a liquor ratio as 1:30 or 30 L/kg"),
        ("10 g 1 tsp", Kind.POWDER, "a mass and a number of spoons cannot be added: write one of them"),
        ("60 C 10 C", Kind.TEMPERATURE, "write one amount only: a temperature, such as 60 °C"),
        ("2 dl", Kind.VOLUME, "write mL: 1 dl is 100 mL"),
        ("1e3 g", Kind.MASS, "write the number in full, such as 1500"),
        ("1/0 g", Kind.MASS, "1/0 divides by zero"),
        ("1 1/0 g", Kind.MASS, "1/0 divides by zero"),
        ("40", Kind.PERCENT, "40 of what? write a percentage, such as 40 %"),
        ("", Kind.TIME, "type a length of time, such as 20 min or 1 h 30"),
        ("   ", Kind.MASS, "type a mass, such as 250 g"),
        # Below zero, too cold, too much.
        ("-5 g", Kind.MASS, "-5 g is less than nothing: write a mass, such as 250 g"),
        ("-31 °C", Kind.TEMPERATURE, "-31 °C is colder than any room: the lowest is -30 °C"),
        ("-40 F", Kind.TEMPERATURE, "-40 °F is colder than any room: the lowest is -30 °C"),
        ("10000000000 g", Kind.MASS, "this number is too large for anything on a dye day"),
        ("0x10 g", Kind.MASS, "0 x does not count anything: write a mass, such as 250 g"),
        ("2 x 60 C", Kind.TEMPERATURE, "2 x does not count anything: write a temperature, such as 60 °C"),
        # Another kind of amount than the field takes.
        ("50 g", Kind.TEMPERATURE, "50 g is a mass; here a temperature is wanted, such as 50 °C"),
        ("50 C", Kind.MASS, "c could be cups or degrees Celsius: write cup or °C"),
        ("50 °C", Kind.MASS, "50 °C is a temperature; here a mass is wanted, such as 50 g"),
        ("3 oz", Kind.VOLUME, "3 oz is a mass; here a volume is wanted, such as 3 fl oz"),
        ("1 M", Kind.CONCENTRATION, "1 m is a length; here a concentration is wanted, such as 1 g/L"),
        (
            "20 min",
            Kind.POWDER,
            "20 min is a length of time; here a mass or a number of spoons is wanted, such as 20 g",
        ),
        ("1:30", Kind.MASS, "1:30 is a time or a liquor ratio; here a mass is wanted, such as 250 g"),
        ("5 %", Kind.NUMBER, "5 % is a percentage; here a plain number is wanted, such as 5"),
        # No amount at all.
        ("g", Kind.MASS, "“g” cannot be read: write a mass, such as 250 g"),
        ("pH", Kind.NUMBER, "“pH” cannot be read: write a plain number, such as 12"),
        ("nan g", Kind.MASS, "“nan g” cannot be read: write a mass, such as 250 g"),
        ("inf g", Kind.MASS, "“inf g” cannot be read: write a mass, such as 250 g"),
        ("--5 °C", Kind.TEMPERATURE, "“--5 °C” cannot be read: write a temperature, such as 60 °C"),
        ("9**9**9**9 g", Kind.MASS, "“9**9**9**9 g” cannot be read: write a mass, such as 250 g"),
        ("2 x", Kind.MASS, "“2 x” cannot be read: write a mass, such as 250 g"),
        ("1.5 m in 60 s", Kind.TIME, "“m in” is no unit known here: write a length of time, such as 20 min or 1 h 30"),
        ("3 pinches", Kind.VOLUME, "“pinches” is no unit known here: write a volume, such as 1.5 L"),
        ("5² g", Kind.MASS, "“² g” is no unit known here: write a mass, such as 250 g"),
    ],
)
def test_refused_with_what_would_be_right(text: str, kind: Kind, sentence: str) -> None:
    """A text that is no amount, or could be two, is refused in words that help."""
    assert parse_amount(text, kind) == Problem(sentence)


def test_long_texts_are_refused() -> None:
    """Five thousand zeros or two thousand brackets are not even looked at."""
    for text in ("1" + 5000 * "0" + " g", 2000 * "(" + "5 g" + 2000 * ")"):
        assert parse_amount(text, Kind.MASS) == Problem("this is too long for an amount: 60 characters at most")


@pytest.mark.parametrize("text", ["1 500 g", "1 4 oz", "1.5 1/2 g", "1 and 500 g", "3/1.5 g", "½ ½ g"])
def test_two_numbers_side_by_side(text: str) -> None:
    """Two numbers with one unit are never joined, multiplied or dropped."""
    problem = parse_amount(text, Kind.MASS)
    assert isinstance(problem, Problem)
    assert "stand side by side: write one number without a space, or a unit after each" in problem.text


@pytest.mark.parametrize("hidden", [ZERO_WIDTH, RIGHT_TO_LEFT, BELL, "\x1b[31m", "\x00", "\ud800", "\ue000"])
def test_hidden_characters_are_refused_and_not_repeated(hidden: str) -> None:
    """Control, bidi, private and half characters are refused, and the sentence does not carry them on."""
    problem = parse_amount(f"5{hidden} g", Kind.MASS)
    assert problem == Problem("there is a hidden character in this text: clear it and type the amount again")


def test_the_field_s_own_unit_is_the_example() -> None:
    """A wrong kind is answered with the unit that the field shows."""
    problem = parse_amount("50 g", Kind.TEMPERATURE, unit="degF")
    assert problem == Problem("50 g is a mass; here a temperature is wanted, such as 50 °F")


PIECES = (
    "0 1 2 7 10 60 500 1,5 1.5 1,500 1/2 3/0 11/2 ½ ⅔ .5 , . / : - − + x × * ** ( ) [ ] % ° °C C F g G kg oz lb "
    "fl tsp t T tbsp cup L ml g/L L/kg per level h m min s d day in ft ' \" W kW owf and to or e nan inf pH "
    "\u200b \u202e \x00 \u0663 ５ ² Ⅷ ℃ K"
)
TOKENS = st.sampled_from(PIECES.split(" "))
GARBAGE = st.one_of(
    st.text(max_size=80),
    st.text(alphabet="0123456789.,/-+x*½:% °CFghLkgtsplboz'\"", max_size=62),
    st.builds(lambda parts, gap: gap.join(parts), st.lists(TOKENS, max_size=8), st.sampled_from(["", " "])),
)


@given(text=GARBAGE, kind=st.sampled_from(Kind), default=st.booleans(), spoons=st.sampled_from(Spoons))
@example(text="\ud83d", kind=Kind.MASS, default=True, spoons=Spoons.US)
@example(text="1/" + 57 * "9" + " g", kind=Kind.MASS, default=True, spoons=Spoons.US)
@example(text=57 * "9" + "/1 g", kind=Kind.MASS, default=True, spoons=Spoons.US)
@example(text="-" + 50 * "9" + " C", kind=Kind.TEMPERATURE, default=True, spoons=Spoons.US)
def test_reading_is_total(text: str, kind: Kind, default: bool, spoons: Spoons) -> None:
    """Any text gives a finite amount of the right kind, or a short sentence without hidden characters."""
    result = parse_amount(text, kind, unit=BASE_UNITS[kind] if default else None, spoons=spoons)
    if isinstance(result, Problem):
        assert 0 < len(result.text) < 250
        assert not any(unicodedata.category(sign).startswith("C") for sign in result.text)
        return
    assert fits(result.unit, kind)
    assert isfinite(result.value)
    assert result.value <= LARGEST
    if kind is Kind.TEMPERATURE:
        assert convert(result.value, result.unit, "degC") >= COLDEST - 1e-9
    else:
        assert result.value >= 0


@pytest.mark.parametrize(
    "text",
    [60 * "9", 30 * "1/", 30 * "1 ", 20 * "9**", 30 * " -", 60 * "x", 30 * "1x", 15 * "1 1/", 60 * "½", 30 * "1,"],
)
def test_no_text_is_slow(text: str) -> None:
    """The worst texts of full length are read in a few milliseconds of the processor's, whatever else goes on."""
    parse_amount("1 lb 4 oz", Kind.MASS)

    def reading() -> float:
        began = time.process_time()
        for kind in Kind:
            parse_amount(text, kind)
        return time.process_time() - began

    assert min(reading() for _ in range(5)) < 0.1
