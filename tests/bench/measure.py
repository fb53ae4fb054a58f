"""What a row of the table is, and how two things are measured beside each other."""

from __future__ import annotations

import gc
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from statistics import median
from typing import TYPE_CHECKING

from attrs import frozen

if TYPE_CHECKING:
    from tests.bench.run import Run

Take = Callable[[], float]
"""Measures once and gives the value, in the row's unit."""


@frozen
class Pairs:
    """Two series taken turn about: one pair a round."""

    ours: tuple[float, ...]
    baseline: tuple[float, ...]
    of: str = ""
    """What grew most, where a row takes the worst of several."""

    @property
    def ratio(self) -> float:
        """The median of the rounds' ratios: what slows the machine for a while slows both halves of a round."""
        return median(ours / base for ours, base in zip(self.ours, self.baseline, strict=True))


@frozen
class Row:
    """One line of the table: ours against a baseline, a goal and an alarm."""

    name: str
    title: str
    unit: str
    goal: float
    alarm: float
    measure: Callable[[Run], Pairs]
    """Raises `NotHere` where the system has no means to measure it."""


class NotHere(Exception):
    """Nothing here lets us measure that; the text says what is missing."""


def interleaved(rounds: int, ours: Take, baseline: Take) -> Pairs:
    """Measure both in every round, each first in every other one; a first round warms up and is not counted."""
    ours(), baseline()
    mine: list[float] = []
    theirs: list[float] = []
    gc.collect()
    gc.freeze()  # what stands already is looked through once, and not before each take
    for number in range(rounds):
        turns = ((mine, ours), (theirs, baseline))
        for series, take in turns if number % 2 else reversed(turns):
            series.append(take())
    gc.unfreeze()
    return Pairs(tuple(mine), tuple(theirs))


@contextmanager
def no_collection() -> Iterator[None]:
    """Keep the garbage collector from running in the middle of a measurement."""
    gc.collect()
    gc.disable()
    try:
        yield
    finally:
        gc.enable()


def cpu_ms(act: Callable[[], object], times: int = 1) -> float:
    """Milliseconds of processor time for one call, as the mean of some."""
    with no_collection():
        start = time.process_time()
        for _ in range(times):
            act()
        return (time.process_time() - start) * 1000 / times


def wall_ms(act: Callable[[], object], times: int = 1) -> float:
    """Milliseconds on the clock for one call, waiting for the disk included, as the mean of some."""
    with no_collection():
        start = time.perf_counter()
        for _ in range(times):
            act()
        return (time.perf_counter() - start) * 1000 / times
