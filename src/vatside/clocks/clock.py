"""Clocks: one that counts sleep for the dye, one that does not, and the time of day."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Protocol
from uuid import uuid4

from vatside.log.moment import Moment


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
