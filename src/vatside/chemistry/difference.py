"""How far apart two colours are, and the grey scale that dyers grade a change by."""

from __future__ import annotations

from math import atan2, cos, degrees, exp, hypot, log2, radians, sin, sqrt

from vatside.chemistry.colour import Lab
from vatside.chemistry.errors import require_not_negative

GREY_SCALE: dict[float, float] = {
    5.0: 0.0,
    4.5: 0.8,
    4.0: 1.7,
    3.5: 2.5,
    3.0: 3.4,
    2.5: 4.8,
    2.0: 6.8,
    1.5: 9.6,
    1.0: 13.6,
}
"""The difference of each step's pair of greys, CIE 1976 units, by grade [ISO105A02]."""

_LINEAR_UP_TO = 3.4
"""Down to grade 3 the scale falls in a straight line, below it by halves [ISO105A05]."""


def delta_e_76(one: Lab, other: Lab) -> float:
    """Give the distance of two colours in L*a*b*, CIE 1976 [CIE15]."""
    return sqrt((one.L - other.L) ** 2 + (one.a - other.a) ** 2 + (one.b - other.b) ** 2)


def grade(delta_e: float) -> float:
    """Give the grey-scale grade (1 to 5 in halves) of a difference in CIE 1976 units [ISO105A05] [ISO105A02].

    5 is no change to be seen. Raises `OutOfRange` below zero.
    """
    return round(2 * exact_grade(delta_e)) / 2


def exact_grade(delta_e: float) -> float:
    """Give the grade before it is rounded to a half, 1 to 5 [ISO105A05]. Raises `OutOfRange` below zero."""
    require_not_negative("difference of two colours", delta_e, "")
    if delta_e <= _LINEAR_UP_TO:
        return 5 - delta_e / 1.7
    return max(5 - log2(delta_e / 0.85), 1.0)


def difference_of(grey_grade: float) -> float:
    """Give the difference, CIE 1976 units, of a grey-scale grade; the nearest half counts [ISO105A02]."""
    return GREY_SCALE[min(max(round(2 * grey_grade) / 2, 1.0), 5.0)]


def delta_e_2000(one: Lab, other: Lab) -> float:
    """Give the difference of two colours as the eye judges it, CIEDE2000 with all factors 1 [CIEDE2000].

    About 1 is just to be seen. Symmetric; the mean hue jumps where two hues lie 180 degrees apart.
    """
    first, second = _stretched(one, other)
    chroma_1, chroma_2 = first.chroma, second.chroma
    mean_L, mean_chroma = (one.L + other.L) / 2, (chroma_1 + chroma_2) / 2
    turn, mean_hue = _hues(first, second)
    by_L = (other.L - one.L) / _weight_L(mean_L)
    by_chroma = (chroma_2 - chroma_1) / (1 + 0.045 * mean_chroma)
    by_hue = 2 * sqrt(chroma_1 * chroma_2) * sin(radians(turn / 2)) / _weight_hue(mean_chroma, mean_hue)
    return sqrt(by_L**2 + by_chroma**2 + by_hue**2 + _rotation(mean_chroma, mean_hue) * by_chroma * by_hue)


def _stretched(one: Lab, other: Lab) -> tuple[Lab, Lab]:
    """Stretch the red-green axis of dull colours."""
    mean = (hypot(one.a, one.b) + hypot(other.a, other.b)) / 2
    stretch = 1 + 0.5 * (1 - _seventh(mean))
    return Lab(one.L, stretch * one.a, one.b), Lab(other.L, stretch * other.a, other.b)


def _seventh(chroma: float) -> float:
    return sqrt(chroma**7 / (chroma**7 + 25**7))


def _hues(one: Lab, other: Lab) -> tuple[float, float]:
    """Give the shorter way round from one hue to the other and the hue halfway, degrees."""
    if not one.chroma * other.chroma:
        # A grey has no hue: the other's counts.
        return 0.0, _hue(one) + _hue(other)
    hue_1, hue_2 = _hue(one), _hue(other)
    gap = hue_2 - hue_1
    turn = gap if abs(gap) <= 180 else gap - 360 if gap > 180 else gap + 360
    total = hue_1 + hue_2
    if abs(gap) > 180:
        total += 360 if total < 360 else -360
    return turn, total / 2


def _hue(colour: Lab) -> float:
    return degrees(atan2(colour.b, colour.a)) % 360 if colour.chroma else 0.0


def _weight_L(mean_L: float) -> float:
    return 1 + 0.015 * (mean_L - 50) ** 2 / sqrt(20 + (mean_L - 50) ** 2)


def _weight_hue(mean_chroma: float, hue: float) -> float:
    bend = (
        1
        - 0.17 * cos(radians(hue - 30))
        + 0.24 * cos(radians(2 * hue))
        + 0.32 * cos(radians(3 * hue + 6))
        - 0.20 * cos(radians(4 * hue - 63))
    )
    return 1 + 0.015 * mean_chroma * bend


def _rotation(mean_chroma: float, hue: float) -> float:
    """Turn the ellipses of blues."""
    angle = 30 * exp(-(((hue - 275) / 25) ** 2))
    return -2 * _seventh(mean_chroma) * sin(radians(2 * angle))
