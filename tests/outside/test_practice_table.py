"""The law of uptake against the practice table of dips and depths: common practice, no source.

Table and law cannot drift apart: the law gives every row back, at its middle and at both its ends, for every group of
fibres, and a fit made anew here from the rows alone comes to the catalogue's values.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import exp, log, sqrt

import pytest

from vatside.catalogue.dyeing import Dipping, dippings, uptakes
from vatside.catalogue.load import fibres
from vatside.catalogue.values import Fact
from vatside.dips.uptake import law_of

FIBRES = {"cellulose": "cotton", "silk": "silk", "protein": "wool"}
"""The fibre that stands for each group."""
ROWS = dippings()
Pick = Callable[[Fact], float]


def middle(fact: Fact) -> float:
    """Give the usual value."""
    return fact.value


def lowest(fact: Fact) -> float:
    """Give the lower end."""
    return fact.value if fact.low is None else fact.low


def highest(fact: Fact) -> float:
    """Give the upper end."""
    return fact.value if fact.high is None else fact.high


def dipped(row: Dipping, group: str, pick: Pick) -> float:
    """Give what the dips of a row come to in a vat that is kept at its strength, %."""
    law, on = law_of(fibres()[FIBRES[group]], pick(row.dip), "thiourea dioxide"), 0.0
    for _ in range(round(pick(row.dips))):
        on += law.stays(pick(row.strength), on)
    return on / 10


@pytest.mark.parametrize("group", FIBRES)
@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"to {row.up_to:g} %")
def test_every_row_is_met_at_its_middle(row: Dipping, group: str) -> None:
    """The usual dips in the usual vat come to a depth inside the row's band, within a quarter of its middle."""
    depth = dipped(row, group, middle)
    assert lowest(row.gives) <= depth <= highest(row.gives)
    assert depth == pytest.approx(row.gives.value, rel=0.25)


@pytest.mark.parametrize("group", FIBRES)
@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"to {row.up_to:g} %")
def test_both_ends_of_every_row_lie_about_its_edges(row: Dipping, group: str) -> None:
    """Fewest dips, weakest vat, shortest come near the band's low edge, and the most near its high one.

    Near is within a factor of 1.65: bands are not meant corner to corner, and one row may be met at either end only.
    """
    assert abs(log(dipped(row, group, lowest) / lowest(row.gives))) < 0.5
    assert abs(log(dipped(row, group, highest) / highest(row.gives))) < 0.5


@pytest.mark.parametrize(("number", "by_hand"), [(0, 0.103), (1, 0.328), (2, 0.964), (3, 2.345), (4, 4.050)], ids=str)
def test_the_rows_by_hand_for_cotton(number: int, by_hand: float) -> None:
    """A depth is 5.5 (1 − (1 − g/55)^n), with g = 0.85 (1.4 c + 2.3 c/(c + 0.25) (1 − e^−√t)), in a large vat.

    Row 3: c 1, t 5, g = 2.587, n = 4: 0.964 %.
    """
    row = ROWS[number]
    c, t, n = row.strength.value, row.dip.value, row.dips.value
    g = 0.85 * (1.4 * c + 2.3 * c / (c + 0.25) * (1 - exp(-sqrt(t))))
    assert 5.5 * (1 - (1 - g / 55) ** n) == pytest.approx(by_hand, abs=1e-3)
    assert dipped(row, "cellulose", middle) == pytest.approx(by_hand, abs=1e-3)


PRIORS = ((2.0, 0.7), (0.4, 0.8), (1.5, 0.8), (60.0, 0.25))
"""Of pull, half, time and ceiling before the rows are seen: middle, and spread of the logarithm; ours, and weak."""
CENTRE, CORNER = 0.15, 0.45
"""How near the law is asked to come to a row's middle, and to its ends, as spreads of the logarithm."""
CARRIED, RINSED = 1.4, 0.15


def modelled(point: Sequence[float], row: Dipping, pick: Pick) -> float:
    """Give what a row comes to by the law written out anew, %."""
    pull, half, time, ceiling = (exp(value) for value in point)
    c, t, on = pick(row.strength), pick(row.dip), 0.0
    for _ in range(round(pick(row.dips))):
        own = pull * c / (c + half) * (1 - exp(-sqrt(t / time)))
        on += (1 - RINSED) * (CARRIED * c + own) * (1 - on / ceiling)
    return on / 10


def residuals(point: Sequence[float]) -> list[float]:
    """Give how far rows and priors are missed, each in its own spreads."""
    found = [(value - log(at)) / spread for value, (at, spread) in zip(point, PRIORS, strict=True)]
    for row in ROWS:
        for pick, spread in ((middle, CENTRE), (lowest, CORNER), (highest, CORNER)):
            found.append(log(modelled(point, row, pick) / pick(row.gives)) / spread)
    return found


def solved(matrix: list[list[float]], right: list[float]) -> list[float]:
    """Solve a small set of linear equations by elimination; the matrix is positive definite."""
    rows = [[*line, value] for line, value in zip(matrix, right, strict=True)]
    for at, pivot in enumerate(rows):
        for below in rows[at + 1 :]:
            factor = below[at] / pivot[at]
            below[:] = [value - factor * above for value, above in zip(below, pivot, strict=True)]
    found = [0.0] * len(rows)
    for at in reversed(range(len(rows))):
        known = sum(rows[at][column] * found[column] for column in range(at + 1, len(rows)))
        found[at] = (rows[at][-1] - known) / rows[at][at]
    return found


def fitted() -> list[float]:
    """Give pull, half, time and ceiling by least squares (Gauss-Newton, slopes by small steps)."""
    point, step = [log(at) for at, _ in PRIORS], 1e-5
    for _ in range(30):
        here = residuals(point)
        slopes = []
        for number in range(len(point)):
            moved = [value + step * (number == at) for at, value in enumerate(point)]
            slopes.append([(there - was) / step for there, was in zip(residuals(moved), here, strict=True)])
        normal = [[sum(a * b for a, b in zip(one, other, strict=True)) for other in slopes] for one in slopes]
        downhill = [-sum(a * b for a, b in zip(one, here, strict=True)) for one in slopes]
        move = solved(normal, downhill)
        point = [value + max(-0.5, min(0.5, by)) for value, by in zip(point, move, strict=True)]
    return [exp(value) for value in point]


def test_a_fit_made_anew_comes_to_the_catalogue() -> None:
    """Pull within 15 %, ceiling within 10 %; half and time, which the rows say little of, within their own range."""
    pull, half, time, ceiling = fitted()
    facts = uptakes()["cellulose"]
    assert pull == pytest.approx(facts.pull.value, rel=0.15)
    assert ceiling == pytest.approx(facts.ceiling.value, rel=0.10)
    assert lowest(facts.half) <= half <= highest(facts.half)
    assert lowest(facts.time) <= time <= highest(facts.time)


def test_silk_and_wool_are_a_judgement_inside_the_ranges() -> None:
    """A little quicker than cotton, and never beyond what five rows leave open."""
    cotton, silk, wool = (uptakes()[group] for group in FIBRES)
    assert cotton.pull.value < silk.pull.value < wool.pull.value
    assert cotton.ceiling.value < silk.ceiling.value < wool.ceiling.value
    assert {silk.pull.source, wool.pull.source, silk.ceiling.source, wool.ceiling.source} == {"guess"}
