"""How much indigo one dip lays on, and how the vat weakens by it.

Grams a kilogram of fibre = strength × (litres carried out a kilogram + what the fibre takes by itself, in litres whose
dye goes on): m = c × P + a × c. P is what a wet piece holds after pressing; a is a starting value without a source
until the dyer's own results replace it.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import sqrt

from attrs import frozen

from vatside.catalogue.dyeing import reducer_shares, uptakes
from vatside.chemistry.shade import Fit, fit_through_zero

REFERENCE_MIN = 5.0
"""The length of dip that `takes` is given for, minutes."""
MOST_GAIN = 2.5
"""However long the dip, no more than this many times as much as in five minutes: a guess."""


def time_factor(minutes: float) -> float:
    """Give how much more (or less) than in five minutes goes on in a dip of another length: its square root, a guess.

    Dye that wanders into a fibre does so with the square root of time while it has not come far.
    """
    return min(sqrt(max(minutes, 0.0) / REFERENCE_MIN), MOST_GAIN)


def starting_takes(group: str, reducer: str) -> float:
    """Give the starting value of a, L/kg in five minutes, for a group of fibres and a reducer (a substance)."""
    share = reducer_shares().get(reducer)
    return uptakes()[group].takes.value * (share.value if share else 1.0)


@frozen
class Take:
    """What a piece takes in one dip."""

    carried: float
    """Litres it holds after pressing, for each kilogram: P."""
    takes: float
    """Litres whose dye goes on by itself in five minutes, for each kilogram: a."""
    minutes: float
    """Length of the dip."""
    rinsed: float
    """Share of what is laid on that the rinses take off again."""

    @property
    def substantive(self) -> float:
        """What goes on by itself in this dip, L/kg."""
        return self.takes * time_factor(self.minutes)

    def laid(self, strength: float) -> float:
        """Give grams of indigotin laid on a kilogram from a large vat (strength in g/L), before rinsing: m."""
        return strength * (self.carried + self.substantive)


@frozen
class Tank:
    """A vat as litres and strength, for looking ahead; the account of the liquor knows it better."""

    litres: float
    strength: float
    """Reduced indigotin, g/L."""

    @property
    def grams(self) -> float:
        """Indigotin in it, g."""
        return self.litres * self.strength


def kept(litres: float, piece_kg: float, take: Take) -> float:
    """Give the share of the vat's dye that is still there after one piece.

    The piece brings its water in, takes dye by itself, and carries as much liquor out as it brought.
    """
    water = take.carried * piece_kg
    full = litres + water
    left = max(1 - take.substantive * piece_kg / full, 0.0)
    return litres / full * left


@frozen
class Round:
    """One dip of every piece of a lot."""

    tank: Tank
    laid: float
    """Laid on, mean of the pieces, g/kg, before rinsing."""


def dip_round(tank: Tank, pieces: int, piece_kg: float, take: Take) -> Round:
    """Dip some like pieces one after the other; what is laid on them is what the tank has lost."""
    if pieces < 1 or piece_kg <= 0 or tank.litres <= 0:
        return Round(tank, 0.0)
    after = Tank(tank.litres, tank.strength * kept(tank.litres, piece_kg, take) ** pieces)
    return Round(after, (tank.grams - after.grams) / (pieces * piece_kg))


@frozen
class Outcome:
    """What so many dips of a lot come to."""

    dips: int
    depth: float
    """Indigotin on the fibre after rinsing, mean of the pieces, %."""
    first: float
    """Of it by the first dip, %."""
    tank: Tank
    rinsed_g: float
    """What the rinses take off again, g."""


CLOSE_ENOUGH = 0.95
"""A depth counts as reached from this share on: less than a just visible difference."""
MOST_DIPS = 40
"""Nobody dips more often: a judgement of our own."""
WORTH_A_DIP = 0.01
"""A dip that adds less than this share of what is wanted is not worth it: a judgement of our own."""


def dip_until(
    tank: Tank, pieces: int, piece_kg: float, take: Take, depth: float, dips: int | None = None, had: float = 0.0
) -> Outcome:
    """Dip a lot until it comes to a depth (%), or so many times as `dips` says; `had` is on it already.

    Gives up after `MOST_DIPS`, or when a dip adds less than `WORTH_A_DIP` of what is wanted.
    """
    on, first, count, rinsed = had, 0.0, 0, 0.0
    limit = MOST_DIPS if dips is None else dips
    while count < limit and (dips is not None or on < CLOSE_ENOUGH * depth):
        done = dip_round(tank, pieces, piece_kg, take)
        gain = done.laid * (1 - take.rinsed) / 10
        if dips is None and gain < WORTH_A_DIP * depth:
            break
        tank, on, count = done.tank, on + gain, count + 1
        rinsed += done.laid * take.rinsed * pieces * piece_kg
        first = first or gain
    return Outcome(count, on, first, tank, rinsed)


def strength_for(tank: Tank, pieces: int, piece_kg: float, take: Take, depth: float, dips: int) -> float:
    """Give the strength (g/L) that brings a lot to a depth (%) in so many dips; everything here is in proportion."""
    trial = dip_until(Tank(tank.litres, 1.0), pieces, piece_kg, take, depth, dips)
    return depth / trial.depth if trial.depth > 0 else 0.0


@frozen
class Result:
    """What one piece or lot came to, beside what was expected of its dips."""

    carried: float
    """Depth expected from the liquor it carried, %."""
    per_litre: float
    """Depth expected from what goes on by itself for each L/kg of a, %."""
    got: float
    """The depth it really has, %."""


def fit_takes(results: Iterable[Result], start: float) -> Fit:
    """Fit a (L/kg in five minutes) to results by least squares; never below nothing, the start where there are none."""
    pairs = [(item.per_litre, item.got - item.carried) for item in results]
    fit = fit_through_zero(pairs, start)
    return Fit(max(fit.value, 0.0), fit.count, fit.error)
