"""Two strips side by side; the numbers worked by hand."""

from __future__ import annotations

import pytest

from vatside.chemistry.colour import Lab
from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.shade import Strip, k_over_s_of, nearly_alike, strength_beside


@pytest.mark.parametrize(
    ("lightness", "ks"),
    [
        # ((40 + 16) / 116)^3 = 0.112509; (1 - 0.112509)^2 / (2 x 0.112509) = 0.787640 / 0.225018 = 3.5003
        (40.0, 3.5003),
        # ((42 + 16) / 116)^3 = 0.5^3 = 0.125; 0.875^2 / 0.25 = 3.0625
        (42.0, 3.0625),
        # ((71 + 16) / 116)^3 = 0.75^3 = 0.421875; 0.578125^2 / 0.84375 = 0.396120
        (71.0, 0.396120),
    ],
)
def test_the_k_over_s_of_a_lightness(lightness: float, ks: float) -> None:
    """By hand from L* to Y to K/S."""
    assert k_over_s_of(Lab(lightness, -2, -24)) == pytest.approx(ks, rel=1e-4)


@pytest.mark.parametrize("lightness", [-1, 100.5, float("nan")])
def test_no_lightness_beyond_black_and_white(lightness: float) -> None:
    """L* lies between 0 and 100."""
    with pytest.raises(OutOfRange, match="between 0 and 100"):
        k_over_s_of(Lab(lightness, 0, 0))


def test_the_strength_is_the_colour_for_each_gram() -> None:
    """Old 3.5 from 1.0 g/L; new 3.0 from 0.75 g/L is 4.0 for each: 4.0 / 3.5 = 1.142857."""
    assert strength_beside(Strip(1.0, 3.5), Strip(0.75, 3.0)) == pytest.approx(1.142857, rel=1e-6)


@pytest.mark.parametrize(("bath", "colour"), [(0, 1), (1, 0), (-1, 1), (1, float("nan")), (float("inf"), 1)])
def test_a_strip_has_dye_and_a_colour(bath: float, colour: float) -> None:
    """Nothing in the bath or nothing on the strip compares with nothing."""
    with pytest.raises(OutOfRange, match="strip"):
        Strip(bath, colour)


def test_strips_a_quarter_apart_are_no_longer_alike() -> None:
    """1.2 times is near enough, 1.3 times is not, to either side."""
    assert nearly_alike(Strip(1, 1.0), Strip(1, 1.2))
    assert not nearly_alike(Strip(1, 1.0), Strip(1, 1.3))
    assert not nearly_alike(Strip(1, 1.3), Strip(1, 1.0))
