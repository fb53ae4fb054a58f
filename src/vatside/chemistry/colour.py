"""From how much light a cloth throws back to what the eye sees: L*a*b*, and the red, green and blue of a screen.

A spectrum is a tuple of reflectances (0 to 1), one for each of `vatside.chemistry.observer.WAVELENGTHS`. Colours are
for daylight D65 and the observer of 2 degrees throughout.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import atan2, degrees, hypot, sqrt

from attrs import frozen

from vatside.chemistry.errors import OutOfRange, require_not_negative, require_within
from vatside.chemistry.observer import BLUE, DAYLIGHT, GREEN, RED, WAVELENGTHS

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
