"""A stock that is warmer or cooler than planned: when its rest is over then."""

from __future__ import annotations

from vatside.log.fold import State
from vatside.log.moment import seconds_between
from vatside.log.waits import Wait
from vatside.plan.sheet import Sheet
from vatside.recipe.pace import stock_warmth, times_as_long
from vatside.vat.reading import Reading

REST = "stock.hold_warm"
"""The step in which the reducer works on the stock."""
LEAST_MIN = 1.0
"""A shift of less than this is none: ours, no source."""


def rest_of(state: State) -> Wait | None:
    """Give the wait of the stock that rests; None where it does not, or is poured already."""
    waits = (wait for wait in state.waits if wait.step == REST and wait.ended is None)
    return None if state.tending.account is not None else next(waits, None)


def longer_by(state: State, sheet: Sheet, reading: Reading, left_min: float) -> float:
    """Give the minutes by which the rest ends later at the warmth read; below zero where it ends sooner [Vuorema2008].

    What is left of it was told for the warmth read before, or for the plan's. Nothing for a reducer whose pace is not
    known, a reading without warmth, or a rest that is over.
    """
    wait = rest_of(state)
    if wait is None or reading.celsius is None or left_min <= 0:
        return 0.0
    read = [
        taken.reading.celsius for taken in state.tending.readings if seconds_between(wait.started, taken.at) >= 0
    ]  # fmt: skip
    before = next((celsius for celsius in reversed(read) if celsius is not None), sheet.value(stock_warmth(state.plan)))
    more = left_min * (times_as_long(state.plan, before, reading.celsius) - 1)
    return more if abs(more) >= LEAST_MIN else 0.0
