"""The estimated colour of indigo on fibre, and its fit to swatches."""

from __future__ import annotations

from itertools import pairwise

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.effort import examples

from vatside.chemistry.colour import WAVELENGTHS, Lab, delta_e_76
from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.shade import (
    DEEPEST,
    PALEST,
    Sample,
    Shade,
    colour_of,
    depth_by_grade,
    fit_through_zero,
    fit_yield,
    ks_at_peak,
    nearest_depth,
    peak_at,
    spectrum,
    with_yield,
)

COTTON = Shade(yield_=8, most=30, peak_nm=660, shift_nm=0, half_shift=6, white_400=0.75, white_700=0.85)
WOOL = evolve(COTTON, shift_nm=40, white_400=0.5, white_700=0.75)
DEPTHS = st.floats(0.05, 5)


def test_pale_shades_are_in_proportion() -> None:
    """At a hundredth of a percent K/S is the yield times the depth, to a thousandth."""
    assert ks_at_peak(0.01, COTTON) == pytest.approx(0.08, rel=0.002)


def test_deep_shades_flatten() -> None:
    """Twice the dye gives less than twice the K/S, and never more than the most."""
    assert ks_at_peak(4, COTTON) < 1.8 * ks_at_peak(2, COTTON)
    assert ks_at_peak(100, COTTON) <= 30


@given(DEPTHS)
def test_cellulose_absorbs_most_at_660_nm(depth: float) -> None:
    """Park 2023: 660 nm on cellulose at any depth."""
    found = spectrum(depth, COTTON)
    assert WAVELENGTHS[found.index(min(found))] == 660


def test_the_peak_of_wool_moves_to_the_blue() -> None:
    """Son, Shin & Yoo 2010: from 660 towards 620 nm as depth rises, and redder."""
    assert peak_at(0, WOOL) == 660
    assert 620 < peak_at(30, WOOL) < 640
    assert colour_of(3, WOOL).a > colour_of(0.5, WOOL).a


@pytest.mark.parametrize("shade", [COTTON, WOOL])
def test_the_ladder_darkens_step_by_step(shade: Shade) -> None:
    """Each deeper step is darker, and blue throughout."""
    steps = [colour_of(depth, shade) for depth in (0.1, 0.2, 0.4, 0.8, 1.5, 2.5, 4)]
    assert all(pale.L > deep.L for pale, deep in pairwise(steps))
    assert all(220 < step.hue < 290 for step in steps)


@examples(25)
@given(DEPTHS, st.sampled_from([COTTON, WOOL]))
def test_a_recorded_colour_finds_its_depth(depth: float, shade: Shade) -> None:
    """The colour of a depth leads back to that depth."""
    found = nearest_depth(colour_of(depth, shade), shade)
    assert found.depth == pytest.approx(depth, rel=1e-3)
    assert found.delta_e < 0.01


def test_a_foreign_colour_stays_far_away() -> None:
    """A red finds a nearest depth all the same, with a difference that shows it is none."""
    found = nearest_depth(Lab(50, 60, 40), COTTON)
    assert PALEST <= found.depth <= DEEPEST
    assert found.delta_e > 40


@pytest.mark.parametrize("darker", [True, False])
def test_a_graded_swatch_lies_its_grade_away(darker: bool) -> None:
    """Grade 3 is 3.4 units: the depth found is so far from the reference, on the side that was said."""
    depth = depth_by_grade(0.8, 3.4, darker, COTTON)
    assert delta_e_76(colour_of(depth, COTTON), colour_of(0.8, COTTON)) == pytest.approx(3.4, abs=0.01)
    assert (depth > 0.8) is darker


def test_a_fit_worked_by_hand() -> None:
    """Points (1, 3) and (2, 5): factor 13 / 5 = 2.6, rests 0.4 and -0.2, error sqrt(0.2 / 1 / 5) = 0.2."""
    fit = fit_through_zero([(1, 3), (2, 5)], start=1)
    assert fit.count == 2
    assert fit.value == pytest.approx(2.6)
    assert fit.error == pytest.approx(0.2)


def test_a_fit_to_nothing_is_the_start() -> None:
    """Without results the starting value stands and says that it rests on none."""
    fit = fit_through_zero([], start=8)
    assert (fit.value, fit.count, fit.error) == (8, 0, None)
    assert with_yield(COTTON, fit) == COTTON


def test_one_swatch_leaves_the_error_open() -> None:
    """One result gives a factor and no idea how sure it is."""
    assert fit_through_zero([(2, 5)], start=1).error is None


@examples(20)
@given(st.floats(4, 16), st.lists(st.floats(0.1, 2), min_size=1, max_size=4))
def test_the_yield_is_found_again(true_yield: float, depths: list[float]) -> None:
    """Swatches made with another colour yield lead the fit to that yield."""
    samples = [Sample(depth, colour_of(depth, evolve(COTTON, yield_=true_yield))) for depth in depths]
    fit = fit_yield(samples, COTTON)
    assert fit.count == len(depths)
    assert fit.value == pytest.approx(true_yield, rel=0.01)


@pytest.mark.parametrize("depth", [0, -1, float("nan")])
def test_a_swatch_needs_a_depth(depth: float) -> None:
    """A sample without dye says nothing about the yield."""
    with pytest.raises(OutOfRange):
        Sample(depth, Lab(50, 0, -20))
