"""Where on a replay's time line a typed time lies."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import CREATED, logged, session

from vatside.days.replay import Timeline, position_at, read_jump, timeline
from vatside.log.events.day import NoteWritten
from vatside.log.state import Session
from vatside.units import Problem


def line() -> Timeline:
    """Ten notes, a minute apart, from 08:01 to 08:10 UTC."""
    return timeline(session(*(NoteWritten(str(number)) for number in range(10))))


@pytest.mark.parametrize(
    ("text", "there"),
    [
        ("start", 0), ("end", 600), ("08:04", 240), ("8.04", 240), ("08:04:30", 270), ("2026-05-02 08:04", 240),
        ("2026-05-02T08:04", 240),
        ("+2 min", 420), ("-1 min", 240), ("+ 30", 600), ("-1 h", 0), ("09:30", 600), ("07:00", 0),
    ],
)  # fmt: skip
def test_what_people_write(text: str, there: float) -> None:
    """From five minutes into the day; beyond the ends is at the ends."""
    assert read_jump(text, line(), 300, UTC) == there


@pytest.mark.parametrize("text", ["soon", "", "25:00", "2026-13-01 10:00", "+", "+ 2 g", "9**9", "١٢:٠٠"])
def test_what_cannot_be_read(text: str) -> None:
    """Anything else is answered with what would be right."""
    found = read_jump(text, line(), 0, UTC)
    assert isinstance(found, Problem)
    assert "like 14:30" in found.text


def test_a_time_past_midnight_lies_on_the_next_day() -> None:
    """A day that goes on after midnight: 00:30 is the half hour after it."""
    clock = VirtualClock(datetime(2026, 5, 2, 23, 0, tzinfo=UTC))
    entries = logged(NoteWritten("late"), NoteWritten("later"), clock=clock, every=3600)
    made = session().__class__("s1", datetime(2026, 5, 2, 23, 0, tzinfo=UTC), session().plan, entries)
    assert read_jump("00:30", timeline(made), 0, UTC) == 90 * 60


def test_a_clock_set_back_in_between() -> None:
    """After the clock went back, a time that came twice is the latest entry made by then and the way from it."""
    clock = VirtualClock(CREATED)
    first = logged(NoteWritten("a"), NoteWritten("b"), clock=clock, every=600)
    clock.step_wall(-900)
    clock.advance(600)
    third = type(first[0])(3, clock.now(), NoteWritten("c"))
    made = timeline(Session("s1", CREATED, session().plan, (*first, third)))
    assert position_at(made, third.at.utc + timedelta(seconds=30)) == made.positions[2] + 30


@pytest.mark.parametrize(
    ("text", "there"),
    [
        ("01:30", 30 * 60),
        ("02:30", 90 * 60),  # the first of the two
        ("03:30", 210 * 60),
        ("2026-10-25 03:30", 210 * 60),
    ],
)
def test_a_night_on_which_the_clocks_go_back(text: str, there: float) -> None:
    """From 01:00 in Berlin on 25 October 2026: 03:30 is three and a half hours later, as 02:00 to 03:00 comes twice."""
    clock = VirtualClock(datetime(2026, 10, 24, 23, 0, tzinfo=UTC))
    entries = logged(*(NoteWritten(str(number)) for number in range(9)), clock=clock, every=1800)
    night = Session("s1", datetime(2026, 10, 24, 23, 0, tzinfo=UTC), session().plan, entries)
    assert read_jump(text, timeline(night), 0, ZoneInfo("Europe/Berlin")) == there
