"""What a look at the clocks tells of what went on meanwhile."""

from __future__ import annotations

from pathlib import Path

from tests.clocks.virtual_clock import VirtualClock

from vatside.bench import acts
from vatside.bench.open_day import new_day
from vatside.bench.ticker import Ticker


def test_a_stop_is_told_only_while_a_wait_runs(tmp_path: Path) -> None:
    """A program that stood still for seconds harmed nobody where nothing went on; a wait that runs did go on."""
    clock = VirtualClock()
    desk = new_day(tmp_path, clock)
    ticker = Ticker(desk)
    clock.advance(3)
    assert not ticker.beat().words
    acts.own_wait(desk, 20, "Rinse")
    clock.advance(3)
    assert "the waits went on" in ticker.beat().words
    desk.keeping.close()
