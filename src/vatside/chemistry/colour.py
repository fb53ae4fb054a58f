"""From how much light a cloth throws back to what the eye sees, and how far apart two colours are.

A spectrum is a tuple of reflectances (0 to 1), one for each of `WAVELENGTHS`. Colours are for daylight D65 and the
observer of 2 degrees throughout, of which the CIE's tables stand here [CIE15].
The colour matching functions are those of the 1931 observer of 2 degrees, rounded to six places; the daylight is D65,
relative to 100 at 560 nm. Summing every 10 nm instead of every nanometre moves the white by less than 0.06 %.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import atan2, cos, degrees, exp, hypot, log2, radians, sin, sqrt

from attrs import frozen

from vatside.chemistry.errors import OutOfRange, require_not_negative, require_within

WAVELENGTHS: tuple[int, ...] = tuple(range(380, 781, 10))
"""nm."""

RED: tuple[float, ...] = (
    0.001368, 0.004243, 0.01431, 0.04351, 0.13438, 0.2839, 0.34828, 0.3362, 0.2908, 0.19536, 0.09564, 0.03201, 0.0049,
    0.0093, 0.06327, 0.1655, 0.2904, 0.43345, 0.5945, 0.7621, 0.9163, 1.0263, 1.0622, 1.0026, 0.85445, 0.6424, 0.4479,
    0.2835, 0.1649, 0.0874, 0.04677, 0.0227, 0.011359, 0.00579, 0.002899, 0.00144, 0.00069, 0.000332, 0.000166,
    8.3e-05, 4.2e-05,
)  # fmt: skip
"""The x-bar function [CIE15]."""
GREEN: tuple[float, ...] = (
    3.9e-05, 0.00012, 0.000396, 0.00121, 0.004, 0.0116, 0.023, 0.038, 0.06, 0.09098, 0.13902, 0.20802, 0.323, 0.503,
    0.71, 0.862, 0.954, 0.99495, 0.995, 0.952, 0.87, 0.757, 0.631, 0.503, 0.381, 0.265, 0.175, 0.107, 0.061, 0.032,
    0.017, 0.00821, 0.004102, 0.002091, 0.001047, 0.00052, 0.000249, 0.00012, 6e-05, 3e-05, 1.5e-05,
)  # fmt: skip
"""The y-bar function, which is also how bright the eye sees each wavelength [CIE15]."""
BLUE: tuple[float, ...] = (
    0.00645, 0.02005, 0.06785, 0.2074, 0.6456, 1.3856, 1.74706, 1.77211, 1.6692, 1.28764, 0.81295, 0.46518, 0.272,
    0.1582, 0.07825, 0.04216, 0.0203, 0.00875, 0.0039, 0.0021, 0.00165, 0.0011, 0.0008, 0.00034, 0.00019, 5e-05,
    2e-05, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0,
)  # fmt: skip
"""The z-bar function [CIE15]."""
DAYLIGHT: tuple[float, ...] = (
    49.9755, 54.6482, 82.7549, 91.486, 93.4318, 86.6823, 104.865, 117.008, 117.812, 114.861, 115.923, 108.811,
    109.354, 107.802, 104.79, 107.689, 104.405, 104.046, 100, 96.3342, 95.788, 88.6856, 90.0062, 89.5991, 87.6987,
    83.2886, 83.6992, 80.0268, 80.2146, 82.2778, 78.2842, 69.7213, 71.6091, 74.349, 61.604, 69.8856, 75.087, 63.5927,
    46.4182, 66.8054, 63.3828,
)  # fmt: skip
"""D65, relative power [CIE15]."""


LEAST_REFLECTANCE = 1e-4
"""No cloth throws back less; keeps K/S finite."""

WHITE = (95.047, 100.0, 108.883)
"""X, Y, Z of D65 for the observer of 2 degrees [CIE15] [IEC61966]."""

_LINEAR_BELOW = (6 / 29) ** 3
"""Where the cube root of L*a*b* gives way to a straight line [CIE15]."""

_TO_SCREEN = (
    (3.2406, -1.5372, -0.4986),
    (-0.9689, 1.8758, 0.0415),
    (0.0557, -0.2040, 1.0570),
)
"""X, Y, Z (white at Y = 1) to linear red, green and blue [IEC61966]."""


@frozen
class Lab:
    """A colour in CIE 1976 L*a*b*."""

    L: float
    """Lightness, 0 black to 100 white."""
    a: float
    """Green below zero, red above."""
    b: float
    """Blue below zero, yellow above."""

    @property
    def chroma(self) -> float:
        """How far from grey."""
        return hypot(self.a, self.b)

    @property
    def hue(self) -> float:
        """Angle of the hue, degrees from red over yellow, 0 to 360; blue lies near 270."""
        return degrees(atan2(self.b, self.a)) % 360


def k_over_s(reflectance: float) -> float:
    """Give K/S, which grows with the dye in a thick cloth, from its reflectance (0..1) [KubelkaMunk].

    Raises `OutOfRange` outside 0..1; below 0.0001 counts as that.
    """
    require_within("reflectance", reflectance, 0, 1, "")
    seen = max(reflectance, LEAST_REFLECTANCE)
    return (1 - seen) ** 2 / (2 * seen)


def reflectance(ks: float) -> float:
    """Give the reflectance (0..1) that belongs to a K/S [KubelkaMunk]. Raises `OutOfRange` below zero."""
    require_not_negative("K/S", ks, "")
    # (1 + K/S) - sqrt(...) loses digits for large K/S; its reciprocal does not.
    return 1 / (1 + ks + sqrt(ks * (ks + 2)))


def tristimulus(spectrum: Sequence[float]) -> tuple[float, float, float]:
    """Give X, Y, Z of a spectrum under D65, with Y = 100 for a perfect white [CIE15]."""
    if len(spectrum) != len(WAVELENGTHS):
        raise OutOfRange(f"A spectrum has {len(WAVELENGTHS)} values here, not {len(spectrum)}.")
    x, y, z = (_sum(weights, spectrum) for weights in _WEIGHTS)
    return x, y, z


def _sum(weights: Iterable[float], spectrum: Iterable[float]) -> float:
    return sum(weight * share for weight, share in zip(weights, spectrum, strict=True))


def _weights() -> tuple[tuple[float, ...], ...]:
    """Weight each wavelength so that a perfect white comes to `WHITE`, whatever the step of the table."""
    lit = [[power * eye for power, eye in zip(DAYLIGHT, eyes, strict=True)] for eyes in (RED, GREEN, BLUE)]
    return tuple(tuple(white / sum(row) * value for value in row) for white, row in zip(WHITE, lit, strict=True))


_WEIGHTS = _weights()


def lab(spectrum: Sequence[float]) -> Lab:
    """Give the L*a*b* of a spectrum under D65 for the observer of 2 degrees [CIE15]."""
    return lab_of_xyz(*tristimulus(spectrum))


def lab_of_xyz(x: float, y: float, z: float) -> Lab:
    """Give the L*a*b* of X, Y, Z (white at Y = 100) [CIE15]."""
    fx, fy, fz = (_compressed(value / white) for value, white in zip((x, y, z), WHITE, strict=True))
    return Lab(116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz))


def xyz_of_lab(colour: Lab) -> tuple[float, float, float]:
    """Give X, Y, Z (white at Y = 100) of an L*a*b* [CIE15]."""
    fy = (colour.L + 16) / 116
    x, y, z = (
        white * _expanded(value)
        for value, white in zip((fy + colour.a / 500, fy, fy - colour.b / 200), WHITE, strict=True)
    )
    return x, y, z


def _compressed(ratio: float) -> float:
    return ratio ** (1 / 3) if ratio > _LINEAR_BELOW else ratio * (29 / 6) ** 2 / 3 + 4 / 29


def _expanded(value: float) -> float:
    return value**3 if value > 6 / 29 else 3 * (6 / 29) ** 2 * (value - 4 / 29)


def srgb(colour: Lab) -> tuple[int, int, int]:
    """Give red, green and blue (0..255) for a screen; what it cannot show is brought to its edge [IEC61966]."""
    xyz = [value / 100 for value in xyz_of_lab(colour)]
    red, green, blue = (_screen_value(_sum(row, xyz)) for row in _TO_SCREEN)
    return red, green, blue


def _screen_value(linear: float) -> int:
    light = min(max(linear, 0.0), 1.0)
    encoded = 12.92 * light if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055
    return round(255 * encoded)


def hex_code(colour: Lab) -> str:
    """Give the colour for a screen as `#rrggbb` [IEC61966]."""
    return "#{:02x}{:02x}{:02x}".format(*srgb(colour))


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
    """The rotation term R_T of CIEDE2000, which turns the tolerance ellipses in the blue region."""
    angle = 30 * exp(-(((hue - 275) / 25) ** 2))
    return -2 * _seventh(mean_chroma) * sin(radians(2 * angle))
