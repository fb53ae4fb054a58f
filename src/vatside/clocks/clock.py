"""Clocks, and what happened between two looks at them: sleep, a clock that was set, a program that stood still.

One clock counts sleep for the dye, one does not, and one is the time of day.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterable
from datetime import UTC, datetime
from pathlib import Path
from typing import Protocol
from uuid import uuid4

from attrs import frozen

from vatside.log.events.day import ClockSlept, ClockStepped, Event
from vatside.log.waits import Moment, Wait, is_running, remaining, seconds_between
from vatside.units.show import span


class Clock(Protocol):
    """Where the time comes from; handed in, so that tests and replays bring their own."""

    @property
    def counts_sleep(self) -> bool:
        """Whether `Moment.elapsed` goes on while the machine sleeps."""
        ...

    def now(self) -> Moment:
        """Read the time of day and the clock that counts sleep."""
        ...

    def awake(self) -> float:
        """Seconds on a clock that stands still while the machine sleeps."""
        ...


def _counting_clock() -> tuple[Callable[[], float], bool]:
    """Find the clock that counts sleep; False beside it where the system has none that surely does."""
    if sys.platform == "linux":
        return lambda: time.clock_gettime(time.CLOCK_BOOTTIME), True
    if sys.platform == "darwin":
        return lambda: time.clock_gettime(time.CLOCK_MONOTONIC_RAW), True
    return time.monotonic, False


BOOT_ID = Path("/proc/sys/kernel/random/boot_id")
"""Linux: a random name for this run of the machine."""


def boot_id(source: Path = BOOT_ID) -> str:
    """Name this run of the machine in eight characters.

    Where the system has no such name, this run of the program gets one: the time of day then bridges
    two openings, which is right, only less sure.
    """
    try:
        return source.read_text("ascii").strip().replace("-", "")[:8] or uuid4().hex[:8]
    except (OSError, ValueError):
        return uuid4().hex[:8]


class SystemClock:
    """The machine's own clocks, to the millisecond."""

    def __init__(self) -> None:
        self._elapsed, self.counts_sleep = _counting_clock()
        self._boot = boot_id()

    def now(self) -> Moment:
        """Read the time of day and the clock that counts sleep."""
        utc = datetime.now(UTC)
        utc = utc.replace(microsecond=utc.microsecond // 1000 * 1000)
        return Moment(utc, round(self._elapsed(), 3), self._boot)

    def awake(self) -> float:
        """Seconds on a clock that stands still while the machine sleeps (on Linux and macOS)."""
        return time.monotonic()


TOLERANCE = 2.0
"""Seconds by which clocks may disagree between two looks before it means something. Ours, no source."""
ASK_BEYOND = 60.0
"""Seconds of disagreement above which we ask, where no clock counts sleep. Ours, no source."""


@frozen
class Tick:
    """One look at all three clocks."""

    moment: Moment
    awake: float


def look(clock: Clock) -> Tick:
    """Read all three clocks."""
    return Tick(clock.now(), clock.awake())


@frozen
class Slept:
    """The machine was asleep."""

    seconds: float

    @property
    def sentence(self) -> str:
        """Say it."""
        return f"The machine was asleep for {span(self.seconds)}."

    def event(self) -> Event:
        """Give what goes into the log."""
        return ClockSlept(self.seconds)


@frozen
class Stalled:
    """The machine was awake, but the program did not run."""

    seconds: float

    @property
    def sentence(self) -> str:
        """Say it."""
        return f"Vatside stood still for {span(self.seconds)}; the waits went on."

    def event(self) -> Event:
        """Give what goes into the log."""
        return ClockSlept(self.seconds)


@frozen
class Stepped:
    """The time of day was set, by a person or by the network."""

    seconds: float
    """Positive: forward."""
    ask: bool = False
    """No clock here counts sleep, so it may as well have been sleep: the dyer must say."""

    @property
    def sentence(self) -> str:
        """Say it, and ask if need be."""
        way = "forward" if self.seconds > 0 else "back"
        sentence = f"The clock went {way} by {span(abs(self.seconds))}"
        if self.ask:
            return f"{sentence}: was the machine asleep for that long, or was the clock set?"
        return f"{sentence}; the waits do not mind."

    def event(self) -> Event:
        """Give what goes into the log."""
        return ClockStepped(self.seconds)


@frozen
class Away:
    """The session was closed for a while."""

    seconds: float

    @property
    def sentence(self) -> str:
        """Say it."""
        return f"The session was closed for {span(self.seconds)}; its waits went on."


@frozen
class ClockSetBack:
    """The clocks show an earlier time than the last entry: nobody but the dyer knows how long it has been."""

    last: Moment
    now: Moment

    @property
    def seconds(self) -> float:
        """How far the clock is behind the last entry."""
        return (self.last.utc - self.now.utc).total_seconds()

    @property
    def sentence(self) -> str:
        """Show both times and ask."""
        last, now = self.last.utc.astimezone(), self.now.utc.astimezone()
        return (
            f"The clock says {now:%d %b %H:%M}, but the last entry is from {last:%d %b %H:%M}: "
            "how long has it been since then?"
        )


Happening = Slept | Stalled | Stepped


@frozen
class ClockWatch:
    """Tells sleep, a set clock and a stopped program apart."""

    counts_sleep: bool = True
    """Whether `Moment.elapsed` counts sleep on this system."""

    def compare(self, previous: Tick, now: Tick) -> tuple[Happening, ...]:
        """Say what happened between two looks; mostly nothing."""
        counted = now.moment.elapsed - previous.moment.elapsed
        awake = now.awake - previous.awake
        wall = (now.moment.utc - previous.moment.utc).total_seconds()
        happened: list[Happening] = []
        if counted - awake > TOLERANCE:
            happened.append(Slept(counted - awake))
        elif awake > TOLERANCE:
            happened.append(Stalled(awake))
        if abs(wall - counted) > TOLERANCE:
            ask = not self.counts_sleep and wall - counted > ASK_BEYOND
            happened.append(Stepped(wall - counted, ask))
        return tuple(happened)


def reopened(last: Moment, now: Moment) -> Away | ClockSetBack:
    """Say how long a session was closed, or that the clocks cannot tell."""
    gone = seconds_between(last, now)
    return ClockSetBack(last, now) if gone < 0 else Away(gone)


def missed(waits: Iterable[Wait], before: Moment, now: Moment) -> tuple[Wait, ...]:
    """Waits that went over between two moments, the earliest first."""
    over = [wait for wait in waits if is_running(wait) and remaining(wait, before) > 0 and remaining(wait, now) <= 0]
    return tuple(sorted(over, key=lambda wait: remaining(wait, now)))


def missed_sentence(waits: Iterable[Wait], before: Moment, now: Moment) -> str:
    """Say which waits went over unseen; empty if none did."""
    over = missed(waits, before, now)
    named = [f"{wait.label} {span(abs(remaining(wait, now)))} ago" for wait in over]
    return f"Over meanwhile: {', '.join(named)}." if named else ""
