"""Clocks: what they count, and what lies between two moments."""

from __future__ import annotations

import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock

from vatside.clocks.clock import SystemClock, boot_id
from vatside.log.waits import Moment, after, seconds_between


def test_within_one_boot_the_counting_clock_decides() -> None:
    """Setting the time of day does not change what lies between two moments of one boot."""
    clock = VirtualClock()
    start = clock.now()
    clock.advance(90)
    clock.step_wall(-3600)
    assert seconds_between(start, clock.now()) == 90


def test_across_boots_the_time_of_day_decides() -> None:
    """After a restart only UTC tells how long it has been, the time switched off included."""
    clock = VirtualClock()
    clock.advance(10)
    start = clock.now()
    clock.reboot(300)
    clock.advance(5)
    assert seconds_between(start, clock.now()) == 305


def test_sleep_is_counted() -> None:
    """While the lid is shut the counting clock goes on and the other stands still."""
    clock = VirtualClock()
    start, awake = clock.now(), clock.awake()
    clock.sleep(1200)
    assert (seconds_between(start, clock.now()), clock.awake() - awake) == (1200, 0)


def test_a_machine_without_such_a_clock_does_not_count_sleep() -> None:
    """Where no clock counts sleep, only the time of day moves."""
    clock = VirtualClock(counts_sleep=False)
    start = clock.now()
    clock.sleep(1200)
    assert seconds_between(start, clock.now()) == 0
    assert clock.now().utc - start.utc == timedelta(seconds=1200)


def test_a_virtual_clock_can_be_set() -> None:
    """A replay puts the clock to any moment."""
    clock = VirtualClock()
    moment = Moment(datetime(2026, 1, 2, tzinfo=UTC), 7.0, "other")
    clock.set(moment)
    assert clock.now() == moment


def test_after_moves_both_clocks() -> None:
    """A moment some seconds later is later on both clocks of the same boot."""
    start = VirtualClock().now()
    later = after(start, 1.5)
    assert (later.elapsed, later.utc - start.utc, later.boot) == (1.5, timedelta(seconds=1.5), start.boot)


def test_the_system_clock_goes_forward_in_utc() -> None:
    """The machine's clock gives aware UTC times to the millisecond, and never goes back within a boot."""
    clock = SystemClock()
    first, second = clock.now(), clock.now()
    assert first.utc.tzinfo is UTC
    assert first.utc.microsecond % 1000 == 0
    assert seconds_between(first, second) >= 0


def test_the_system_clock_shows_the_time_of_day() -> None:
    """It lies between what the system says before and after, cut to the millisecond, however long that takes."""
    before = time.time()
    shown = SystemClock().now().utc.timestamp()
    assert before - 0.001 <= shown <= time.time()


@pytest.mark.skipif(not hasattr(time, "CLOCK_BOOTTIME"), reason="Linux has this clock")
def test_on_linux_the_clock_counts_sleep() -> None:
    """On Linux the moments are on CLOCK_BOOTTIME."""
    assert SystemClock().counts_sleep
    before = time.clock_gettime(time.CLOCK_BOOTTIME)
    shown = SystemClock().now().elapsed
    assert before - 0.001 <= shown <= time.clock_gettime(time.CLOCK_BOOTTIME) + 0.001


def test_two_clocks_of_one_boot_agree(tmp_path: Path) -> None:
    """The name of the boot is the system's, shortened to eight characters."""
    source = tmp_path / "boot_id"
    source.write_text("1a2b3c4d-0000-4000-8000-123456789abc\n")
    assert boot_id(source) == "1a2b3c4d"


@pytest.mark.parametrize("content", [None, b"", b"\xff\xfe"])
def test_without_a_name_each_run_is_its_own_boot(tmp_path: Path, content: bytes | None) -> None:
    """Where the system does not name the boot, two runs share none, so that UTC bridges them."""
    source = tmp_path / "boot_id"
    if content is not None:
        source.write_bytes(content)
    names = {boot_id(source), boot_id(source)}
    assert len(names) == 2
    assert all(len(name) == 8 for name in names)
