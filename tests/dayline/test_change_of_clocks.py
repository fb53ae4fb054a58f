"""A rest over a change of the clocks, in every place that tells its hours.

The changes are those of the law, as named in `test_wall_clock`; the library `zoneinfo` has the tables of IANA. What is
expected is counted from them by hand: UTC and the offset that holds then.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from attrs import evolve, frozen
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import logged, session
from tests.plan.plans import wool_plan

from vatside.dayline.calendar_file import calendar
from vatside.dayline.day_words import acts, deeds, head
from vatside.dayline.laid_day import LaidDay, lay_day
from vatside.dayline.steps import Step
from vatside.log.events.day import NoteWritten
from vatside.log.state import Session
from vatside.plain.day import printed
from vatside.plain.file_contents import log_lines
from vatside.plan.hours import left_out, moment_of, read_hour
from vatside.plan.sheet import Stage
from vatside.recipe.compute import compute
from vatside.ui.text.head_rows import _ready
from vatside.units import Problem

icalendar = pytest.importorskip("icalendar")
SHEET = compute(wool_plan())


@frozen
class Night:
    """A rest that begins before a change and ends after it."""

    zone: str
    begins: str
    """UTC."""
    minutes: int
    first: str
    """What the wall shows as it begins, with the offset where the hour comes twice."""
    last: str
    """The same of its end."""
    offsets: tuple[str, str]


NIGHTS = [
    Night("Europe/Berlin", "2026-03-29T00:30", 60, "01:30", "03:30", ("+01:00", "+02:00")),
    Night("Europe/Berlin", "2026-10-25T00:30", 60, "02:30 +02:00", "02:30 +01:00", ("+02:00", "+01:00")),
    Night("America/New_York", "2026-03-08T06:30", 60, "01:30", "03:30", ("-05:00", "-04:00")),
    Night("America/New_York", "2026-11-01T05:30", 60, "01:30 -04:00", "01:30 -05:00", ("-04:00", "-05:00")),
    Night("Australia/Lord_Howe", "2026-10-03T15:00", 60, "01:30", "03:00", ("+10:30", "+11:00")),
    Night("Australia/Lord_Howe", "2026-04-04T14:30", 50, "01:30 +11:00", "01:50 +10:30", ("+11:00", "+10:30")),
]


def begins(night: Night) -> datetime:
    """The moment at which it begins."""
    return datetime.fromisoformat(night.begins).replace(tzinfo=UTC)


def laid(night: Night) -> LaidDay:
    """A day that has only the rest, and a look at the end of it."""
    rest = Step("vat.rest_covered", Stage.VAT, "Rest", 0, night.minutes)
    return lay_day(evolve(wool_plan(), ready_by=None), SHEET, [rest], begins(night), zone=ZoneInfo(night.zone))


@pytest.mark.parametrize("night", NIGHTS, ids=lambda night: f"{night.zone} {night.begins[:10]}")
class TestTheNight:
    """Its minutes are true, and no hour can be taken for another."""

    def test_the_head_and_the_plain_day(self, night: Night) -> None:
        """Both hours stand in the head of `vatside day`, the first one beside the step, the last one in the app."""
        day = laid(night)
        assert day.ready == night.minutes
        words = head(day)
        assert f"begin {night.first} on" in words
        assert f"vat ready {night.last}" in words
        assert any(line.startswith(f"{night.first} ") and "Rest" in line for line in printed(day, deeds(day), "A day"))
        assert _ready(day, day.at(0).date()).endswith(f"ready at {night.last}")

    def test_the_calendar(self, night: Night) -> None:
        """The event begins at the moment itself, and its words tell the end as the wall does."""
        day = laid(night)
        zone = ZoneInfo(night.zone)
        text = calendar(day, acts(deeds(day)), title="A day", session="s", stamp=begins(night), before={}, zone=zone)
        (event,) = icalendar.Calendar.from_ical(text).walk("VEVENT")
        assert event["DTSTART"].dt.astimezone(UTC) == begins(night)
        assert event["DTEND"].dt - event["DTSTART"].dt == timedelta(minutes=1)
        said = str(event["DESCRIPTION"])
        assert f"{night.first} Rest" in said
        assert f"until {night.last}" in said

    def test_the_log(self, night: Night) -> None:
        """Each line has the offset that holds then."""
        notes = (NoteWritten("begun"), NoteWritten("over"))
        clock = VirtualClock(begins(night) - timedelta(minutes=night.minutes))  # it goes on before each note
        entries = logged(*notes, clock=clock, every=night.minutes * 60)
        lines = list(log_lines(Session("s", begins(night), session().plan, entries), ZoneInfo(night.zone)))
        assert [line.partition("  ")[0][11:16] for line in lines] == [night.first[:5], night.last[:5]]
        assert [line.partition("  ")[0][-6:] for line in lines] == list(night.offsets)


@pytest.mark.parametrize(
    ("zone", "wall", "hour"),
    [
        ("Europe/Berlin", "2026-03-29T02:30", "03:30"),
        ("America/New_York", "2026-03-08T02:00", "03:00"),
        ("Australia/Lord_Howe", "2026-10-04T02:15", "02:45"),
    ],
)
def test_an_hour_that_is_on_no_wall_is_said_to_be_none(zone: str, wall: str, hour: str) -> None:
    """The clocks go forward over it; an hour before and after it there is one."""
    wanted = datetime.fromisoformat(wall)
    problem = left_out(wanted, ZoneInfo(zone))
    assert problem is not None
    assert wall[11:] in problem.text
    assert hour in problem.text
    for beside in (-60, 60):
        assert left_out(wanted + timedelta(minutes=beside), ZoneInfo(zone)) is None


def test_a_wanted_hour_is_read_on_the_machine_s_wall(machine_in_berlin: None) -> None:
    """02:30 of 29 March 2026 is refused with the reason, 02:30 of 25 October is one of two."""
    dated = read_hour("29 Mar 2:30", datetime(2026, 3, 28, 20))
    assert isinstance(dated, Problem)
    assert "write 03:30 or later" in dated.text
    assert isinstance(read_hour("2:30", datetime(2026, 3, 28, 20)), Problem)
    assert read_hour("2:30", datetime(2026, 10, 24, 20)) == "2026-10-25T02:30"
    left = moment_of(datetime(2026, 3, 29, 2, 30), datetime(2026, 3, 28, 20, tzinfo=UTC))
    assert left == datetime(2026, 3, 29, 1, 30, tzinfo=UTC)  # in a file that has it: an hour and a half after 01:00
