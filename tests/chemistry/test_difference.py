"""Differences of colours and the grey scale."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vatside.chemistry.colour import GREY_SCALE, Lab, delta_e_76, delta_e_2000, difference_of, exact_grade, grade
from vatside.chemistry.errors import OutOfRange

LABS = st.builds(Lab, st.floats(0, 100), st.floats(-80, 80), st.floats(-80, 80))


def test_a_difference_is_a_distance() -> None:
    """By hand: (3, 4, 12) apart is 13."""
    assert delta_e_76(Lab(50, 0, 0), Lab(53, 4, 12)) == 13


@given(LABS, LABS)
def test_differences_do_not_mind_the_order(one: Lab, other: Lab) -> None:
    """Both formulas are symmetric."""
    assert delta_e_76(one, other) == pytest.approx(delta_e_76(other, one))
    assert delta_e_2000(one, other) == pytest.approx(delta_e_2000(other, one), abs=1e-9)


@given(LABS)
def test_a_colour_does_not_differ_from_itself(colour: Lab) -> None:
    """The same colour twice is no difference."""
    assert delta_e_76(colour, colour) == delta_e_2000(colour, colour) == 0


def test_lightness_alone_in_ciede2000() -> None:
    """By hand for greys of L* 50 and 52: S_L = 1 + 0.015 / sqrt(21) = 1.00327, so 2 / 1.00327 = 1.99348."""
    assert delta_e_2000(Lab(50, 0, 0), Lab(52, 0, 0)) == pytest.approx(1.99348, abs=1e-5)


@pytest.mark.parametrize(("step", "difference"), GREY_SCALE.items())
def test_the_formula_gives_the_steps_of_the_grey_scale(step: float, difference: float) -> None:
    """ISO 105-A02's pairs come out at their own grades by the formula of ISO 105-A05."""
    assert grade(difference) == step


def test_the_two_halves_of_the_scale_meet() -> None:
    """At 3.4 units both formulas give grade 3: 5 - 3.4 / 1.7 = 5 - log2(3.4 / 0.85) = 3."""
    assert exact_grade(3.4) == pytest.approx(3)
    assert exact_grade(3.4001) == pytest.approx(3, abs=1e-4)


@given(st.floats(0, 100), st.floats(0, 20))
def test_a_larger_change_never_grades_better(difference: float, more: float) -> None:
    """Grades fall from 5 to 1 and stay between."""
    assert 1 <= exact_grade(difference + more) <= exact_grade(difference) <= 5


@pytest.mark.parametrize(("asked", "difference"), [(4, 1.7), (3.4, 2.5), (0, 13.6), (9, 0.0)])
def test_a_grade_stands_for_its_step(asked: float, difference: float) -> None:
    """The nearest half step counts, within the scale."""
    assert difference_of(asked) == difference


def test_no_difference_below_zero() -> None:
    """A difference is never negative."""
    with pytest.raises(OutOfRange):
        grade(-1)
