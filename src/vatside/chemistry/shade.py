"""The colour of a fibre that holds so much indigotin, and how strongly one lot of a dye colours beside another.

The colour is an estimate, to be replaced by the dyer's own swatches.
K/S of the dyed cloth is that of the undyed one and the dye's, which grows in proportion to the depth while that is low
and flattens as the fibre fills: most * (1 - exp(-yield * depth / most)). Its curve over the wavelengths is one peak
with a long slope towards the blue, a rise towards the ultraviolet and a floor [IndigoShade] [KubelkaMunk].
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache
from math import exp, sqrt

from attrs import evolve, frozen

from vatside.chemistry.colour import WAVELENGTHS, Lab, delta_e_76, k_over_s, lab, reflectance, xyz_of_lab
from vatside.chemistry.errors import require_not_negative, require_positive, require_within

BLUE_SIDE_NM, RED_SIDE_NM = 85.0, 42.0
"""Half-widths of the peak (one standard deviation) on its two sides, nm [IndigoShade]: a guess."""
NEAR_ULTRAVIOLET = 0.35
"""Height of the rise towards the ultraviolet, as a share of the peak [IndigoShade]: a guess."""
ULTRAVIOLET_NM, ULTRAVIOLET_WIDTH_NM = 350.0, 40.0
"""Where that rise has its top, and its half-width, nm [IndigoShade]: a guess."""
FLOOR = 0.12
"""What the dye absorbs everywhere, as a share of the peak [IndigoShade]: a guess."""
WHITE_FROM_NM, WHITE_TO_NM = 400.0, 700.0
"""Between these the undyed fibre's reflectance is a straight line, nm."""

DEEPEST = 12.0
"""No depth beyond this is looked for, % on weight of fibre."""
PALEST = 0.01
"""Nor any below this."""


@frozen
class Shade:
    """How indigo looks on one kind of fibre."""

    yield_: float
    """K/S at the peak for each % of indigotin on the fibre, while the depth is low."""
    most: float
    """K/S at the peak that no depth exceeds."""
    peak_nm: float
    """Where a pale shade absorbs most."""
    shift_nm: float
    """By how much that moves towards the blue in the deepest shade."""
    half_shift: float
    """K/S at which half of the move is made."""
    white_400: float
    """Reflectance of the undyed fibre at 400 nm."""
    white_700: float
    """Reflectance of the undyed fibre at 700 nm."""


def ks_at_peak(depth: float, shade: Shade) -> float:
    """Give the dye's K/S at its peak for a depth (indigotin, % on weight of fibre) [IndigoShade].

    Raises `OutOfRange` below zero.
    """
    require_not_negative("depth", depth, "%")
    return shade.most * (1 - exp(-shade.yield_ * depth / shade.most))


def spectrum(depth: float, shade: Shade) -> tuple[float, ...]:
    """Give the reflectance of a fibre dyed to a depth (%), for each wavelength [IndigoShade] [KubelkaMunk]."""
    ks = ks_at_peak(depth, shade)
    peak = peak_at(ks, shade)
    top = _curve(peak, peak)
    return tuple(reflectance(k_over_s(_white(nm, shade)) + ks * _curve(nm, peak) / top) for nm in WAVELENGTHS)


def peak_at(ks: float, shade: Shade) -> float:
    """Give the wavelength (nm) at which a shade of this K/S absorbs most."""
    return shade.peak_nm - shade.shift_nm * ks / (ks + shade.half_shift)


def _curve(nm: float, peak: float) -> float:
    width = BLUE_SIDE_NM if nm < peak else RED_SIDE_NM
    rise = NEAR_ULTRAVIOLET * exp(-(((nm - ULTRAVIOLET_NM) / ULTRAVIOLET_WIDTH_NM) ** 2) / 2)
    return exp(-(((nm - peak) / width) ** 2) / 2) + rise + FLOOR


def _white(nm: float, shade: Shade) -> float:
    along = min(max((nm - WHITE_FROM_NM) / (WHITE_TO_NM - WHITE_FROM_NM), 0.0), 1.0)
    return shade.white_400 + along * (shade.white_700 - shade.white_400)


@lru_cache(maxsize=512)
def colour_of(depth: float, shade: Shade) -> Lab:
    """Give the L*a*b* of a fibre dyed to a depth (indigotin, % on weight of fibre) [IndigoShade] [CIE15]."""
    return lab(spectrum(depth, shade))


@frozen
class Nearest:
    """The depth whose colour comes closest to a recorded one."""

    depth: float
    """%."""
    delta_e: float
    """How far that colour still is, CIE 1976 units: large for a colour that is no blue of this fibre."""


_STEPS = 48
_FINE = 30
_GOLDEN = (sqrt(5) - 1) / 2


def nearest_depth(seen: Lab, shade: Shade) -> Nearest:
    """Give the depth (0.01 to 12 %) whose colour is closest to one that was recorded, CIE 1976 [IndigoShade]."""

    def away(depth: float) -> float:
        return delta_e_76(seen, colour_of(depth, shade))

    ratio = (DEEPEST / PALEST) ** (1 / _STEPS)
    grid = [PALEST * ratio**step for step in range(_STEPS + 1)]
    best = min(grid, key=away)
    depth = _lowest(away, max(best / ratio, PALEST), min(best * ratio, DEEPEST))
    return Nearest(depth, away(depth))


def _lowest(value: Callable[[float], float], low: float, high: float) -> float:
    """Find where a function with one low point between two bounds is lowest, by the golden section."""
    left, right = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
    at_left, at_right = value(left), value(right)
    for _ in range(_FINE):
        if at_left < at_right:
            high, right, at_right = right, left, at_left
            left = high - _GOLDEN * (high - low)
            at_left = value(left)
        else:
            low, left, at_left = left, right, at_right
            right = low + _GOLDEN * (high - low)
            at_right = value(right)
    return (low + high) / 2


def depth_by_grade(reference: float, grey_difference: float, darker: bool, shade: Shade) -> float:
    """Give the depth (%) that differs from a reference depth by so much (CIE 1976 units), darker or paler.

    For a swatch compared by eye with the ladder and graded on the grey scale. Where no depth is so far away on that
    side, the deepest or the palest.
    """
    start = colour_of(reference, shade)
    inner, outer = reference, DEEPEST if darker else PALEST
    for _ in range(_FINE):
        middle = sqrt(inner * outer)
        if delta_e_76(start, lab(spectrum(middle, shade))) < grey_difference:
            inner = middle
        else:
            outer = middle
    return sqrt(inner * outer)


@frozen
class Sample:
    """A fibre whose depth is known and whose colour was recorded."""

    depth: float
    """Indigotin on the fibre, %."""
    colour: Lab

    def __attrs_post_init__(self) -> None:
        require_positive("depth of a swatch", self.depth, "%")


@frozen
class Fit:
    """A factor found by least squares, and what it rests on."""

    value: float
    count: int
    """How many results it rests on; 0: a starting value."""
    error: float | None = None
    """Standard error of the value; None where fewer than two results leave it unknown."""


def fit_through_zero(pairs: Iterable[tuple[float, float]], start: float) -> Fit:
    """Fit y = factor * x to (x, y) pairs by least squares; the start where no pair says anything.

    factor = sum(x y) / sum(x x); its standard error from what is left over, with one degree of freedom used.
    """
    points = [(x, y) for x, y in pairs if x > 0]
    squares = sum(x * x for x, _ in points)
    if not squares:
        return Fit(start, 0)
    value = sum(x * y for x, y in points) / squares
    if len(points) < 2:
        return Fit(value, len(points))
    left = sum((y - value * x) ** 2 for x, y in points)
    return Fit(value, len(points), sqrt(left / (len(points) - 1) / squares))


def fit_yield(samples: Iterable[Sample], shade: Shade) -> Fit:
    """Fit the colour yield (K/S for each %) to samples of known depth, by least squares in K/S made linear.

    For each sample the depth that this shade would read off its colour, times the shade's yield, is what its dye shows;
    that is proportional to the depth it really has.
    """
    pairs = [(sample.depth, shade.yield_ * nearest_depth(sample.colour, shade).depth) for sample in samples]
    return fit_through_zero(pairs, shade.yield_)


def with_yield(shade: Shade, fit: Fit) -> Shade:
    """Give the shade with a fitted colour yield; a fit to nothing leaves it."""
    return evolve(shade, yield_=fit.value) if fit.count and fit.value > 0 else shade


NEARLY_ALIKE = 1.25
"""Strips whose colours are farther apart than this ratio say it less surely, as K/S flattens with depth. Ours."""


def k_over_s_of(colour: Lab) -> float:
    """Give the K/S of a dyed strip, from the light that its L* throws back [KubelkaMunk] [CIE15].

    R = Y / 100, with Y = 100 ((L* + 16) / 116)^3 from L* 8 on. In proportion to the dye for strips that are nearly
    alike; between strips of 0.4 and 0.5 % on cotton about 2 % off, of 1.6 and 2 % about 5 % off [IndigoShade].
    Raises `OutOfRange` for an L* outside 0..100.
    """
    require_within("L*", colour.L, 0, 100, "")
    return k_over_s(min(xyz_of_lab(colour)[1] / 100, 1.0))


@frozen
class Strip:
    """A strip dyed with one lot of a dye."""

    bath: float
    """Pure dye in its bath, by what the lot is taken to hold, g/L."""
    colour: float
    """On one scale that grows in proportion to the dye: K/S, or depth in %."""

    def __attrs_post_init__(self) -> None:
        require_positive("dye in the bath of a strip", self.bath, "g/L")
        require_positive("colour of a strip", self.colour, "")

    @property
    def each(self) -> float:
        """Colour (K/S, or depth in %) for each g/L of dye in its bath."""
        return self.colour / self.bath


def strength_beside(old: Strip, new: Strip) -> float:
    """Give how a new lot colours beside the old one: 1.1 is a tenth more colour from what should be as much dye.

    Both dyed alike: same fibre, same dips, same vat but for the lot. Ratio of K/S for each g/L [KubelkaMunk].
    """
    return new.each / old.each


def nearly_alike(old: Strip, new: Strip) -> bool:
    """Tell whether two strips are close enough for their ratio to be trusted."""
    return 1 / NEARLY_ALIKE <= new.colour / old.colour <= NEARLY_ALIKE
