"""What a piece has on it so far, and what the dyer's own recorded colours say of the law of uptake.

That is one factor for each group of fibres.
What is known before is the width of the practice table's bands; each result pulls the factor as far as it is sure, the
day that it comes from included, so that one bad picture moves a plan little and ten that agree settle it. Everything is
in natural logarithms (a normal prior and a normal error on a log scale; textbook Bayesian updating).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import exp, hypot, log, sqrt

from attrs import frozen

from vatside.catalogue.dyeing import own_results
from vatside.chemistry.bath import Bath
from vatside.plan.plan import Learned

MORE = 1.1
"""A fibre that takes so many times as much as the table shows how far its depth follows what it takes: ours."""


@frozen
class OnPiece:
    """What a piece has on it so far; grams of indigotin before rinsing."""

    laid: float = 0.0
    """Gone on by itself, and left by the liquor that it carried."""
    rinsed: float = 0.0
    """Share of it that the rinses take off again."""
    specks: float = 0.0
    """Dye that was not reduced: it washes off."""
    by_table: float = 0.0
    """What these dips would have laid on by the practice table alone, g."""
    by_more: float = 0.0
    """And if the fibre took `MORE` times as much, g."""
    liquor: Bath | None = None
    """What it carries now, aired."""

    @property
    def stays(self) -> float:
        """Indigotin that stays after rinsing, g."""
        return self.laid * (1 - self.rinsed)

    @property
    def goes(self) -> float:
        """Indigotin that the rinses take off, g."""
        return self.laid * self.rinsed + self.specks

    def depth(self, grams: float) -> float:
        """Give what stays as % of the dry fibre (g)."""
        return 100 * self.stays / grams if grams > 0 else 0.0


LEAST_FOLLOWS = 0.2
"""A depth that follows what the fibre takes less than this says next to nothing of it: ours."""


@frozen
class Result:
    """The depth that the pieces of one lot came to on one day, beside what the table gives for their dips."""

    expected: float
    """%."""
    follows: float
    """How far the depth follows what the fibre takes: 1 in proportion, less near the ceiling."""
    got: float
    """%."""
    spread: float
    """How sure that is: standard deviation of its logarithm."""

    @property
    def log_factor(self) -> float:
        """What it says of the factor, as a logarithm."""
        return log(self.got / self.expected) / self.follows

    @property
    def variance(self) -> float:
        """How sure that is, the day included."""
        return (self.spread / self.follows) ** 2 + own_results().day.value ** 2


def result(on: OnPiece, grams: float, got: float, spread: float) -> Result | None:
    """Give what a piece (dry mass in g) says by its recorded depth (%); None if it had no dip, or shows none."""
    expected = 100 * on.by_table * (1 - on.rinsed) / grams if grams > 0 else 0.0
    if expected <= 0 or got <= 0 or on.by_more <= on.by_table:
        return None
    return Result(expected, max(log(on.by_more / on.by_table) / log(MORE), LEAST_FOLLOWS), got, spread)


def can_be(item: Learned) -> bool:
    """Tell whether what was learned of a group of fibres lies within what any fibre takes."""
    rules = own_results().factor
    return (rules.low or 0.0) <= item.factor <= (rules.high or 1.0) and item.spread >= 0


def in_words() -> str:
    """Give within what a fibre's factor lies."""
    rules = own_results().factor
    return f"{rules.low:g} to {rules.high:g}"


def learned(group: str, results: Iterable[Result]) -> Learned:
    """Give what results say of a group of fibres; the practice table where there are none."""
    listed, rules = tuple(results), own_results()
    known = 1 / rules.prior.value**2
    weights = [_weight(number, listed) for number in range(len(listed))]
    precision = known + sum(weights)
    mean = sum(weight * item.log_factor for weight, item in zip(weights, listed, strict=True)) / precision
    low, high = rules.factor.low or 0.0, rules.factor.high or 1.0
    return Learned(group, min(max(exp(mean), low), high), 1 / sqrt(precision), len(listed))


def _weight(number: int, results: Sequence[Result]) -> float:
    """Give a result's weight: its precision, less where the others contradict it."""
    item, doubt = results[number], doubtful(number, results)
    return min(1.0, doubt) / item.variance


def doubtful(number: int, results: Sequence[Result]) -> float:
    """Give how far a result lies inside what the others and the table allow: below 1 it is doubted."""
    rules, item = own_results(), results[number]
    others = [other for place, other in enumerate(results) if place != number]
    precision = 1 / rules.prior.value**2 + sum(1 / other.variance for other in others)
    mean = sum(other.log_factor / other.variance for other in others) / precision
    off = abs(item.log_factor - mean)
    limit = rules.doubt.value * hypot(sqrt(item.variance), 1 / sqrt(precision))
    return limit / off if off > 0 else float("inf")
