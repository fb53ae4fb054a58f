"""The night on which the clocks go back, at the bench: 25 October 2026 in Berlin, 03:00 becomes 02:00 at 01:00 UTC."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import logged, session
from tests.ui.hands import Bench

from vatside.bench.day_line import line_of
from vatside.bench.desk import Desk
from vatside.bench.open_day import new_day
from vatside.dayline.laid_day import LaidDay
from vatside.days.compare import compare
from vatside.days.day_record import day_record
from vatside.days.replay_text import replay_lines
from vatside.log.events.day import NoteWritten, PlanChanged, WaitStarted
from vatside.log.state import Session
from vatside.plain.file_contents import log_lines
from vatside.ui.opening.rows import _ago

BERLIN = ZoneInfo("Europe/Berlin")
EVENING = datetime(2026, 10, 24, 20, 0, tzinfo=UTC)
"""22:00 on the wall."""


def laid_by(desk: Desk) -> LaidDay:
    """The day as head and list show it."""
    day = line_of(desk).seen(desk.clock.now()).day
    assert day is not None
    return day


@pytest.mark.usefixtures("machine_in_berlin")
class TestTheBench:
    """What is in hand, and what rings."""

    def test_in_hand_counts_hours_not_walls(self, tmp_path: Path) -> None:
        """From ten to six are nine hours that night; each hour that goes by takes an hour away, over the change too."""
        clock = VirtualClock(EVENING)
        desk = new_day(tmp_path, clock, None)
        desk.record(PlanChanged("ready_by", "2026-10-25T06:00"))
        begin = laid_by(desk).begin
        assert timedelta(hours=4) < begin - EVENING < timedelta(hours=9)
        clock.advance((begin - EVENING).total_seconds())
        in_time = laid_by(desk).spare
        for hours in range(1, 6):
            clock.advance(3600)
            assert laid_by(desk).spare == (in_time or 0) - 60 * hours

    async def test_typed_at_the_bench(self, bench: Bench) -> None:
        """`6:00` typed in the evening is nine hours away."""
        async with bench(clock=VirtualClock(EVENING)) as hands:
            await hands.new_day()
            await hands.field("ready_by")
            await hands.write("06:00")
            await hands.press("enter")
            day = laid_by(hands.desk)
            assert day.wanted is not None
            assert day.at(day.wanted) == EVENING + timedelta(hours=9)

    async def test_a_wait_that_ends_inside_the_hour(self, bench: Bench) -> None:
        """Half an hour from the first 02:45 on is over at the second 02:15, not before."""
        async with bench(clock=VirtualClock(datetime(2026, 10, 25, 0, 45, tzinfo=UTC))) as hands:
            await hands.new_day()
            hands.desk.record(WaitStarted("w1", None, "Rest", 30))
            await hands.later(29 * 60)
            assert not hands.desk.waits(hands.clock.now())[0].ringing
            await hands.later(60)
            assert hands.desk.waits(hands.clock.now())[0].ringing

    def test_the_list_of_days_shows_each_by_its_own_clock(self) -> None:
        """A day that ended in a summer night at half past midnight is of that day, seen from winter too."""
        winter = datetime(2026, 12, 1, 9, 0, tzinfo=UTC).astimezone()
        assert _ago(datetime(2026, 7, 3, 22, 30, tzinfo=UTC), winter) == "4 July"


def night() -> Session:
    """Four notes an hour apart, the first at the first 01:30."""
    clock = VirtualClock(datetime(2026, 10, 24, 22, 30, tzinfo=UTC))
    entries = logged(*(NoteWritten(str(number)) for number in range(4)), clock=clock, every=3600)
    return Session("s1", datetime(2026, 10, 24, 22, 30, tzinfo=UTC), session().plan, entries)


def test_the_log_tells_the_two_hours_apart() -> None:
    """Each line carries the offset that holds then."""
    assert [line.partition("  ")[0] for line in log_lines(night(), BERLIN)] == [
        "2026-10-25 01:30:00 +02:00",
        "2026-10-25 02:30:00 +02:00",
        "2026-10-25 02:30:00 +01:00",
        "2026-10-25 03:30:00 +01:00",
    ]


def test_the_replay_says_where_the_clocks_changed() -> None:
    """Between the two 02:30 it is told that the clocks went back."""
    lines = list(replay_lines(night(), BERLIN))
    at = lines.index("          The clocks went back: UTC+0100 from now on.")
    assert [line[:8] for line in lines[at - 1 : at + 2 : 2]] == ["02:30:00", "02:30:00"]


def test_a_comparison_counts_the_night_in_full() -> None:
    """From 01:30 to 03:30 that night are three hours."""
    record = day_record(night(), BERLIN)
    assert next(row.left for row in compare(record, record) if row.label == "In all") == "3 h"
