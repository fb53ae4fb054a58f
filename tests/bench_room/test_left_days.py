"""Days that nobody has open: their waits go on, ring and can be heard."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock

from vatside.bench import acts
from vatside.bench.open_day import LeftAlarms, left_days, new_day, open_day
from vatside.bench.ticker import RING_EVERY
from vatside.storage.folder import list_sessions


@pytest.fixture
def clock() -> VirtualClock:
    """Time by hand."""
    return VirtualClock()


def left(folder: Path, clock: VirtualClock, *minutes: float) -> None:
    """Work in a day with some waits and close it."""
    desk = new_day(folder, clock)
    for number, length in enumerate(minutes, 1):
        acts.own_wait(desk, length, f"rinse {number}")
    desk.keeping.close()


def alarms(folder: Path) -> LeftAlarms:
    """Look into the folder."""
    return LeftAlarms(left_days(list_sessions(folder), None))


def test_a_day_that_was_left_rings_once_its_wait_is_over(tmp_path: Path, clock: VirtualClock) -> None:
    """Not before, then every few seconds, and under its own name."""
    left(tmp_path, clock, 5, 60)
    found = alarms(tmp_path)
    assert not found.rings(clock.now())
    clock.advance(301)
    assert found.rings(clock.now())
    assert not found.rings(clock.now())
    clock.advance(RING_EVERY)
    assert found.rings(clock.now())
    [view] = found.due(clock.now())
    assert view.over
    assert view.label.startswith("rinse 1, ")


def test_what_is_heard_in_the_list_is_written_into_the_day(tmp_path: Path, clock: VirtualClock) -> None:
    """It rings no more, neither here nor when the day is opened; the wait itself stays."""
    left(tmp_path, clock, 5)
    clock.advance(400)
    found = alarms(tmp_path)
    assert "rinse 1" in found.hear(clock)
    assert not found.due(clock.now())
    assert not alarms(tmp_path).due(clock.now())
    [card] = list_sessions(tmp_path)
    desk = open_day(card.path, clock)
    assert [(wait.over, wait.ringing) for wait in desk.waits(clock.now())] == [(True, False)]
    desk.keeping.close()


def test_a_day_worked_in_elsewhere_is_left_to_that_window(tmp_path: Path, clock: VirtualClock) -> None:
    """It would ring twice."""
    desk = new_day(tmp_path, clock)
    acts.own_wait(desk, 5, "rinse")
    clock.advance(400)
    assert not alarms(tmp_path).due(clock.now())
    desk.keeping.close()
    assert alarms(tmp_path).due(clock.now())


def test_a_day_on_the_bench_is_left_out(tmp_path: Path, clock: VirtualClock) -> None:
    """Its own ticker rings for it."""
    left(tmp_path, clock, 5)
    [card] = list_sessions(tmp_path)
    assert not left_days([card], card.path.resolve())
