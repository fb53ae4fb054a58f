"""Depth as a picture and in words: the ladder of swatches, and the depth of a swatch that was recorded."""

from __future__ import annotations

from math import log

from attrs import frozen

from vatside.catalogue.dyeing import ladder, shades
from vatside.catalogue.values import Fibre
from vatside.chemistry.colour import Lab, delta_e_76, delta_e_2000, difference_of, grade, hex_code
from vatside.chemistry.shade import (
    Fit,
    Nearest,
    Shade,
    colour_of,
    depth_by_grade,
    nearest_depth,
    with_yield,
)

FAR = 10.0
"""A recorded colour farther than this from every depth (CIE 1976) is no plain indigo: a judgement of our own."""


@frozen
class Swatch:
    """One step of the ladder."""

    depth: float
    """Indigotin, % on weight of fibre."""
    name: str
    """In words: for screens without true colour, and for ears."""
    hex: str
    """`#rrggbb`."""
    lab: Lab


def shade_of(fibre: Fibre | str, fit: Fit | None = None) -> Shade:
    """Give how indigo looks on a fibre (or a group of them), with the dyer's own colour yield where there is one."""
    shade = shades()[fibre if isinstance(fibre, str) else fibre.group]
    return with_yield(shade, fit) if fit else shade


def swatches(fibre: Fibre, fit: Fit | None = None) -> tuple[Swatch, ...]:
    """Give the ladder for a fibre, palest first: an estimate until it rests on swatches, see `rests_on`."""
    return tuple(swatch(rung.depth, fibre, fit) for rung in ladder())


def swatch(depth: float, fibre: Fibre, fit: Fit | None = None) -> Swatch:
    """Give the swatch of any depth (%, 0 or more)."""
    colour = colour_of(depth, shade_of(fibre, fit))
    return Swatch(depth, depth_name(depth), hex_code(colour), colour)


def depth_name(depth: float) -> str:
    """Name a depth (%) by the step of the ladder that it is nearest to, in ratio."""
    if depth <= 0:
        return "undyed"
    return min(ladder(), key=lambda rung: abs(log(rung.depth / depth))).name


def rests_on(fit: Fit | None) -> str:
    """Say what the colours or the uptake rest on."""
    if fit is None or fit.count == 0:
        return "an estimate: no result of yours yet"
    own = f"{fit.count} of your own results" if fit.count > 1 else "one result of your own"
    if fit.error is None or fit.error < fit.value / 200 or not fit.value:  # judged alike, they do not say how sure
        return f"from {own}"
    return f"from {own}, ±{100 * fit.error / fit.value:.0f} %"


@frozen
class Picked:
    """The dyer picked the step of the ladder that looks the same."""

    depth: float
    """%."""


@frozen
class Graded:
    """The dyer held it against a step of the ladder and graded the change on the grey scale."""

    depth: float
    """Of the step it was held against, %."""
    grade: float
    """1 to 5 in halves."""
    darker: bool
    """Darker than the step; False: paler."""


Seen = Lab | Picked | Graded
"""How a swatch was recorded: measured, picked, or graded."""


def seen_depth(seen: Seen, fibre: Fibre | str, fit: Fit | None = None) -> Nearest:
    """Give the depth of a recorded swatch (%), and how far from it its colour is (0 where none was measured)."""
    shade = shade_of(fibre, fit)
    if isinstance(seen, Lab):
        return nearest_depth(seen, shade)
    if isinstance(seen, Picked):
        return Nearest(seen.depth, 0.0)
    return Nearest(depth_by_grade(seen.depth, difference_of(seen.grade), seen.darker, shade), 0.0)


def seen_colour(seen: Seen, fibre: Fibre, fit: Fit | None = None) -> Lab:
    """Give the colour of a recorded swatch: as measured, or that of the depth it was taken for."""
    return seen if isinstance(seen, Lab) else colour_of(seen_depth(seen, fibre, fit).depth, shade_of(fibre, fit))


@frozen
class Comparison:
    """How a recorded swatch stands to the depth that was wanted."""

    depth: float
    """What it comes to, %."""
    delta_e: float
    """CIE 1976, from the depth wanted."""
    delta_e_2000: float
    """The same as the eye judges it."""
    grade: float
    """On the grey scale."""
    plain: bool
    """It is a colour that indigo alone makes on this fibre."""

    def words(self, wanted: float) -> str:
        """Say it in one sentence."""
        side = "darker than" if self.depth > wanted else "paler than"
        near = self.grade >= 4.5
        where = "as wanted" if near else f"{side} the {depth_name(wanted)} wanted"
        foreign = "" if self.plain else "; the colour is not that of indigo alone"
        return f"{depth_name(self.depth)}, {where}: grade {self.grade:g}, ΔE {self.delta_e:.1f}{foreign}"


def compare(seen: Seen, wanted: float, fibre: Fibre, fit: Fit | None = None) -> Comparison:
    """Hold a recorded swatch against the depth wanted (%)."""
    nearest = seen_depth(seen, fibre, fit)
    colour, target = seen_colour(seen, fibre, fit), colour_of(wanted, shade_of(fibre, fit))
    apart = delta_e_76(colour, target)
    return Comparison(nearest.depth, apart, delta_e_2000(colour, target), grade(apart), nearest.delta_e <= FAR)


PALE = 0.8
"""A piece that stays below this share of its depth comes out pale: about grade 3 on the grey scale, plain to see."""


def is_pale(reaches: float, wants: float) -> bool:
    """Tell whether a depth is visibly paler than the one wanted (both %)."""
    return wants > 0 and reaches < PALE * wants


WHAT_HELPS = (
    "Bring in stock, a new one once the jar is empty, before the next dip; dip more often; or want a paler blue."
)
"""Where dips are to come."""


WHAT_IS_LEFT = "The planned dips are over: one more, best after fresh stock, or leave it at that."
"""Where none are."""
