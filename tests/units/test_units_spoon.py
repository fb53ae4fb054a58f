"""Level spoons rounded to what a set of measuring spoons can give."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vatside.units import Amount, Kind, Spoons, parse_amount, spoonfuls, teaspoons

COUNTS = st.floats(1 / 16, 2000)
SPOONS = st.sampled_from(Spoons)


@pytest.mark.parametrize(
    ("count", "spoons", "text"),
    [
        (0, Spoons.US, "0 tsp"),
        (0.03, Spoons.US, "less than 1/8 tsp"),
        (0.0625, Spoons.US, "1/8 tsp"),
        (0.18, Spoons.US, "1/8 tsp"),
        (0.19, Spoons.US, "1/4 tsp"),
        (1.49, Spoons.US, "1 1/2 tsp"),
        (5.95, Spoons.US, "6 tsp"),
        (6.3, Spoons.US, "2 tbsp 1/2 tsp"),
        (9.1, Spoons.US, "3 tbsp"),
        (9.1, Spoons.AUSTRALIAN, "2 tbsp 1 tsp"),
        (24, Spoons.US, "1/2 cup"),
        (26.9, Spoons.US, "1/2 cup 1 tbsp"),
        (47.8, Spoons.US, "1 cup"),
        (50, Spoons.METRIC, "1 cup"),
        (75, Spoons.AUSTRALIAN, "1 1/2 cups"),
        (99, Spoons.US, "2 cups 1 tbsp"),
    ],
)
def test_spoons_as_a_person_takes_them(count: float, spoons: Spoons, text: str) -> None:
    """Teaspoons up to six, then tablespoons, then quarter cups, in the sizes of the bench."""
    assert spoonfuls(count, spoons).text == text


@given(count=COUNTS, spoons=SPOONS)
def test_the_text_is_the_number(count: float, spoons: Spoons) -> None:
    """What is printed comes to the rounded number of teaspoons when typed again."""
    spoonful = spoonfuls(count, spoons)
    amount = parse_amount(spoonful.text, Kind.VOLUME, spoons=spoons)
    assert isinstance(amount, Amount)
    assert teaspoons(amount, spoons) == pytest.approx(spoonful.teaspoons, rel=1e-12)


@given(count=COUNTS, spoons=SPOONS)
def test_the_error_is_signed_and_relative(count: float, spoons: Spoons) -> None:
    """The error is the share by which the spoons differ from what was wanted, too much being positive."""
    spoonful = spoonfuls(count, spoons)
    assert count * (1 + spoonful.error) == pytest.approx(spoonful.teaspoons, rel=1e-12)


@given(count=st.floats(1 / 16, 6), spoons=SPOONS)
def test_small_amounts_are_within_a_sixteenth(count: float, spoons: Spoons) -> None:
    """Up to six teaspoons, rounding is to the nearest eighth."""
    rounded = spoonfuls(count, spoons).teaspoons
    assert abs(rounded - count) <= 1 / 16
    assert rounded * 8 == int(rounded * 8)


@given(count=st.floats(1.25, 2000), spoons=SPOONS)
def test_larger_amounts_are_within_five_per_cent(count: float, spoons: Spoons) -> None:
    """From 1 1/4 teaspoons on, no rounding is worth a warning."""
    assert abs(spoonfuls(count, spoons).error) <= 0.05


@given(one=COUNTS, other=COUNTS, spoons=SPOONS)
def test_more_never_gives_less(one: float, other: float, spoons: Spoons) -> None:
    """A larger amount never rounds to fewer spoons, across the changes of measure too."""
    less, more = sorted((one, other))
    assert spoonfuls(less, spoons).teaspoons <= spoonfuls(more, spoons).teaspoons


@given(count=st.floats(0, 1 / 16, exclude_min=True, exclude_max=True))
def test_less_than_half_an_eighth_cannot_be_spooned(count: float) -> None:
    """Below 1/16 of a teaspoon no number of spoons is claimed, and the error is everything."""
    spoonful = spoonfuls(count, Spoons.US)
    assert (spoonful.text, spoonful.teaspoons, spoonful.error) == ("less than 1/8 tsp", 0.0, -1.0)


@pytest.mark.parametrize("count", [-1.0, float("nan"), float("inf")])
def test_impossible_counts_are_refused(count: float) -> None:
    """Spoons below zero or without end are a mistake of the caller."""
    with pytest.raises(ValueError, match="a number of spoons cannot be"):
        spoonfuls(count, Spoons.US)
