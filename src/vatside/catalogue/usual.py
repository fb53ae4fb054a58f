"""What is usual for a depth that lies between the rows of the practice table."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from math import exp, log

from attrs import frozen

from vatside.catalogue.dyeing import Dipping, dipping_for, dippings


@frozen
class Usual:
    """What is usual for one depth, between the rows of the table."""

    strength: float
    """g/L."""
    weakest: float
    """g/L."""
    strongest: float
    """g/L."""
    dip: float
    """Minutes in the vat."""
    air: float
    """Minutes in the air after each dip."""
    most_dips: int
    """Usual at most."""
    accepted_dips: int
    """Planned at most before more indigo or a smaller vat is asked for."""


def usual_for(depth: float) -> Usual:
    """Give what is usual for a depth (%): between the middles of the rows by the logarithm of depth, level beyond."""
    return _usual(max(depth, 1e-6))


@lru_cache(maxsize=256)
def _usual(depth: float) -> Usual:
    rows, row = dippings(), dipping_for(depth)
    middles = [log(item.gives.value) for item in rows]
    at = min(max(log(depth), middles[0]), middles[-1])
    above = next(number for number, middle in enumerate(middles) if at <= middle)
    below = max(above - 1, 0)
    share = (at - middles[below]) / (middles[above] - middles[below]) if above else 0.0

    def between(value: Callable[[Dipping], float]) -> float:
        return value(rows[below]) + share * (value(rows[above]) - value(rows[below]))

    return Usual(
        strength=exp(between(lambda item: log(item.strength.value))),
        weakest=exp(between(lambda item: log(item.strength.low or item.strength.value))),
        strongest=exp(between(lambda item: log(item.strength.high or item.strength.value))),
        dip=max(round(between(lambda item: item.dip.value)), 1),
        air=round(between(lambda item: item.air.value)),
        most_dips=round(row.dips.high or row.dips.value),
        accepted_dips=round(row.accepted.value),
    )
