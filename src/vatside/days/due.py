"""What the waits of a log call out between two entries, found by the hour at which it is due, not wait by wait.

A long day has thousands of entries and may have thousands of waits: to ask each of them at each entry would cost the
square. Between two entries a wait counts by one of two clocks, the counting one of its boot or else the time of day
(`vatside.clocks.clock.seconds_between`); for each there is a queue. Where a clock does not simply run on, all waits
are lined up anew.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from heapq import heappop, heappush

from vatside.log import waits as running
from vatside.log.moment import Moment
from vatside.log.open_waits import Waits
from vatside.log.waits import Wait

SLACK = 1e-3
"""Seconds by which a wait is looked at too early: rounding must not let one slip by."""

Seconds = Callable[[Wait, float], float | None]
"""Second of a wait at which something is due next, after so many that have gone by; None if nothing is."""


class Due:
    """The waits of a log that have something due, asked entry by entry."""

    def __init__(self, seconds: Seconds) -> None:
        self._seconds = seconds
        self._waits = Waits()
        self._last: Moment | None = None
        self._counting: list[tuple[float, str]] = []
        """When by the counting clock of the boot at hand, and which wait."""
        self._by_day: list[tuple[float, str]] = []
        """When by the time of day, for waits that were tied to the clock of another boot."""

    def until(self, waits: Waits, last: Moment, now: Moment) -> list[Wait]:
        """Give the waits with something due after one moment and up to another, in the order in which they began.

        One or another may not quite be due yet: whoever asks looks at each of them.
        """
        runs_on = now.boot == last.boot and now.elapsed >= last.elapsed and now.utc >= last.utc
        if self._last != last or not runs_on:
            self._waits, self._counting, self._by_day = Waits(), [], []
        for wait in waits.news(self._waits):
            self._line_up(wait, last, now)
        self._waits, self._last = waits, now if runs_on else None
        found = {wait.id: wait for queue, at in self._queues(now) for wait in self._popped(queue, at)}
        for wait in found.values():
            self._line_up(wait, now, now)
        return sorted(found.values(), key=waits.begun_as)

    def _queues(self, now: Moment) -> tuple[tuple[list[tuple[float, str]], float], ...]:
        return (self._counting, now.elapsed), (self._by_day, now.utc.timestamp())

    def _line_up(self, wait: Wait, last: Moment, now: Moment) -> None:
        """Put a wait into the queue of its clock, by what is due next after one moment."""
        gone = running.elapsed(wait, last)
        second = self._seconds(wait, gone) if running.is_running(wait) else None
        if second is None:
            return
        counts = wait.since.boot == now.boot
        since = wait.since.elapsed if counts else wait.since.utc.timestamp()
        heappush(self._counting if counts else self._by_day, (since + second - wait.banked, wait.id))

    def _popped(self, queue: list[tuple[float, str]], at: float) -> Iterator[Wait]:
        while queue and queue[0][0] <= at + SLACK:
            wait = self._waits.get(heappop(queue)[1])
            if wait is not None:
                yield wait
