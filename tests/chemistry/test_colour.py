"""Reflectance, L*a*b* and the colours of a screen."""

from __future__ import annotations

from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vatside.chemistry.colour import (
    BLUE,
    DAYLIGHT,
    GREEN,
    RED,
    WAVELENGTHS,
    Lab,
    hex_code,
    k_over_s,
    lab,
    lab_of_xyz,
    reflectance,
    srgb,
    tristimulus,
    xyz_of_lab,
)
from vatside.chemistry.errors import OutOfRange

LABS = st.builds(Lab, st.floats(0, 100), st.floats(-80, 80), st.floats(-80, 80))


def test_half_the_light_is_a_quarter() -> None:
    """By hand: (1 - 0.5)^2 / (2 x 0.5) = 0.25."""
    assert k_over_s(0.5) == 0.25


def test_a_twentieth_of_the_light_is_nine() -> None:
    """By hand: 0.95^2 / 0.1 = 9.025."""
    assert k_over_s(0.05) == pytest.approx(9.025)


@given(st.floats(0.0001, 1))
def test_reflectance_and_k_over_s_undo_each_other(share: float) -> None:
    """The two formulas are one another's inverse over all that a cloth throws back."""
    assert isclose(reflectance(k_over_s(share)), share, rel_tol=1e-9, abs_tol=1e-12)


@given(st.floats(0, 1e4), st.floats(1e-3, 10))
def test_more_dye_is_darker(ks: float, more: float) -> None:
    """Reflectance falls as K/S grows."""
    assert reflectance(ks + more) < reflectance(ks)


@pytest.mark.parametrize("share", [-0.01, 1.01, float("nan")])
def test_impossible_reflectances_are_refused(share: float) -> None:
    """Nothing throws back less than nothing or more than all."""
    with pytest.raises(OutOfRange):
        k_over_s(share)


def test_every_table_has_a_value_for_each_wavelength() -> None:
    """Eye and daylight are tabulated at the same 41 wavelengths."""
    assert {len(RED), len(GREEN), len(BLUE), len(DAYLIGHT), len(WAVELENGTHS)} == {41}


def test_a_perfect_white_is_white() -> None:
    """All light thrown back is L* 100 without colour, and Y 100."""
    white = (1.0,) * len(WAVELENGTHS)
    assert tristimulus(white)[1] == pytest.approx(100)
    found = lab(white)
    assert (found.L, found.a, found.b) == pytest.approx((100, 0, 0), abs=1e-9)


def test_an_even_grey_has_no_hue() -> None:
    """A fifth of all light thrown back is a grey of L* 51.8: by hand, 116 x 0.2^(1/3) - 16 = 51.84."""
    found = lab((0.2,) * len(WAVELENGTHS))
    assert (found.L, found.a, found.b) == pytest.approx((51.84, 0, 0), abs=0.01)


def test_a_spectrum_of_another_length_is_refused() -> None:
    """Three values are no spectrum."""
    with pytest.raises(OutOfRange, match="41"):
        lab((0.5, 0.5, 0.5))


@given(LABS)
def test_lab_and_xyz_undo_each_other(colour: Lab) -> None:
    """There and back gives the same colour, dark ones included."""
    back = lab_of_xyz(*xyz_of_lab(colour))
    assert (back.L, back.a, back.b) == pytest.approx((colour.L, colour.a, colour.b), abs=1e-9)


@given(LABS)
def test_every_colour_can_be_shown(colour: Lab) -> None:
    """Colours outside what a screen can show come out at its edge."""
    assert all(0 <= part <= 255 for part in srgb(colour))


def test_black_and_white_on_the_screen() -> None:
    """L* 0 is #000000 and L* 100 is #ffffff."""
    assert hex_code(Lab(0, 0, 0)) == "#000000"
    assert hex_code(Lab(100, 0, 0)) == "#ffffff"


def test_blue_lies_at_270_degrees() -> None:
    """A colour with b* alone, below zero, has the hue 270 and its own size as chroma."""
    assert Lab(40, 0, -25).hue == pytest.approx(270)
    assert Lab(40, 0, -25).chroma == 25
