"""The moment of an entry, on the clock of the day and on one that counts sleep."""

from __future__ import annotations

from datetime import datetime, timedelta

from attrs import evolve, frozen


@frozen
class Moment:
    """One reading of the clocks."""

    utc: datetime
    """Aware, in UTC."""
    elapsed: float
    """Seconds on a clock that counts sleep and is never set; comparable within one boot only."""
    boot: str
    """Which run of the machine `elapsed` belongs to."""


def seconds_between(earlier: Moment, later: Moment) -> float:
    """Seconds from one moment to another; negative if a clock went backwards.

    Within one boot the counting clock decides, which nobody can set; across boots only the time of day is left.
    """
    if earlier.boot == later.boot:
        return later.elapsed - earlier.elapsed
    return (later.utc - earlier.utc).total_seconds()


def after(moment: Moment, seconds: float) -> Moment:
    """Give the moment that lies some seconds later on both clocks."""
    return evolve(moment, utc=moment.utc + timedelta(seconds=seconds), elapsed=moment.elapsed + seconds)
