"""How much a dip lays on, and how the vat weakens."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vatside.catalogue.dyeing import uptakes
from vatside.recipe.uptake import (
    CLOSE_ENOUGH,
    MOST_DIPS,
    Result,
    Take,
    Tank,
    dip_round,
    dip_until,
    fit_takes,
    starting_takes,
    strength_for,
    time_factor,
)

HAND = Take(carried=1.2, takes=1.0, minutes=5, rinsed=0.0)
TANKS = st.builds(Tank, st.floats(1, 200), st.floats(0.01, 5))
TAKES = st.builds(Take, st.floats(0.2, 2.5), st.floats(0, 30), st.floats(0.5, 60), st.floats(0, 0.5))


def test_the_worked_example() -> None:
    """By hand: 2 g/L, 1.2 L/kg carried and 1 taken lay on 2 x 2.2 = 4.4 g on a kilogram."""
    assert HAND.laid(2.0) == pytest.approx(4.4)


def test_a_large_vat_lays_on_what_the_formula_says() -> None:
    """In a vat that a piece cannot weaken, one round lays on m = c (P + a)."""
    assert dip_round(Tank(1e7, 2.0), 1, 1.0, HAND).laid == pytest.approx(4.4, rel=1e-5)


def test_a_small_vat_by_hand() -> None:
    """One kilogram in 10 L at 1 g/L: 11.2 L hold 10/11.2 g/L; a takes 1/11.2 of that, 10 L of the rest stay.

    10 g x (10/11.2) x (1 - 1/11.2) = 8.131 g are left, so 1.869 g went on.
    """
    done = dip_round(Tank(10, 1.0), 1, 1.0, HAND)
    assert done.tank.grams == pytest.approx(8.131, abs=0.001)
    assert done.laid == pytest.approx(1.869, abs=0.001)


@given(TANKS, st.integers(1, 40), st.floats(0.01, 2), TAKES)
def test_what_the_vat_loses_is_on_the_pieces(tank: Tank, pieces: int, kg: float, take: Take) -> None:
    """Indigotin is neither made nor lost in a round."""
    done = dip_round(tank, pieces, kg, take)
    assert 0 <= done.tank.grams <= tank.grams
    assert done.tank.grams + done.laid * pieces * kg == pytest.approx(tank.grams)


@given(TANKS, st.integers(1, 20), st.floats(0.01, 0.5), TAKES, st.floats(0.1, 4), st.integers(0, 12))
def test_the_balance_holds_over_many_dips(
    tank: Tank, pieces: int, kg: float, take: Take, depth: float, dips: int
) -> None:
    """Indigotin in = on the fibre + rinsed off + left in the vat."""
    end = dip_until(tank, pieces, kg, take, depth, dips)
    on_fibre = end.depth / 100 * 1000 * pieces * kg
    assert on_fibre + end.rinsed_g + end.tank.grams == pytest.approx(tank.grams)


@given(TANKS, TAKES, st.floats(0.1, 4))
def test_each_dip_lays_on_less(tank: Tank, take: Take, depth: float) -> None:
    """The vat weakens, so every further dip adds less than the one before."""
    depths = [dip_until(tank, 4, 0.1, take, depth, dips).depth for dips in range(6)]
    gains = [later - earlier for earlier, later in pairwise(depths)]
    assert all(first >= second - 1e-12 for first, second in pairwise(gains))


def test_it_stops_when_the_depth_is_reached() -> None:
    """The dips planned are the fewest that come within 5 % of the depth."""
    tank = Tank(40, 1.0)
    end = dip_until(tank, 2, 0.1, HAND, 0.8)
    assert end.depth >= CLOSE_ENOUGH * 0.8
    assert dip_until(tank, 2, 0.1, HAND, 0.8, end.dips - 1).depth < CLOSE_ENOUGH * 0.8


@pytest.mark.parametrize("strength", [0.0, 0.001])
def test_a_vat_without_dye_is_given_up(strength: float) -> None:
    """Where a dip adds next to nothing no number of dips is promised."""
    assert dip_until(Tank(20, strength), 2, 0.1, HAND, 1.0).dips == 0


@given(TANKS, TAKES, st.floats(0.05, 5))
def test_nobody_dips_for_ever(tank: Tank, take: Take, depth: float) -> None:
    """The planned dips stay within what anybody would do."""
    assert 0 <= dip_until(tank, 5, 0.1, take, depth).dips <= MOST_DIPS


def test_the_strength_for_some_dips_does_it_in_those() -> None:
    """A vat of the strength asked for brings the lot to its depth in just so many dips."""
    wanted = strength_for(Tank(20, 0.1), 2, 0.1, HAND, 0.8, 5)
    assert dip_until(Tank(20, wanted), 2, 0.1, HAND, 0.8, 5).depth == pytest.approx(0.8)


def test_a_longer_dip_takes_more_by_the_square_root() -> None:
    """Twenty minutes take twice as much by itself as five; what is carried stays."""
    assert time_factor(20) == pytest.approx(2)
    assert Take(1.2, 1.0, 20, 0).laid(1.0) == pytest.approx(1.2 + 2.0)


def test_no_dip_takes_without_end() -> None:
    """A day in the vat counts no more than a little over half an hour."""
    assert time_factor(1440) == time_factor(40) == 2.5


def test_sugar_vats_take_less() -> None:
    """Colourage 52(6) (2005): sugar and lime give 25 to 30 % less uptake than dithionite."""
    share = starting_takes("cellulose", "fructose") / starting_takes("cellulose", "sodium dithionite")
    assert 0.70 <= share <= 0.75


@pytest.mark.parametrize("group", uptakes())
def test_starting_values_are_marked_as_guesses(group: str) -> None:
    """What a fibre takes by itself has no source, and says so, with a range."""
    fact = uptakes()[group].takes
    assert fact.source == "guess"
    assert fact.low is not None
    assert fact.high is not None


def test_takes_are_fitted_to_results() -> None:
    """By hand: two pieces show 0.3 and 0.5 % beyond what they carried, where 0.1 and 0.2 % go on for each L/kg.

    a = (0.1 x 0.3 + 0.2 x 0.5) / (0.01 + 0.04) = 2.6 L/kg.
    """
    fit = fit_takes([Result(0.1, 0.1, 0.4), Result(0.2, 0.2, 0.7)], start=1.0)
    assert fit.value == pytest.approx(2.6)
    assert fit.count == 2


def test_takes_never_fall_below_nothing() -> None:
    """A piece paler than the liquor it carried brings the fit to zero, not below."""
    assert fit_takes([Result(0.5, 0.2, 0.1)], start=1.0).value == 0.0
