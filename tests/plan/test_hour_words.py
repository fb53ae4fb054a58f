"""The hour at which the vat is wanted, as people say it."""

from __future__ import annotations

from calendar import day_name
from datetime import date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.plan.plans import wool_plan

from vatside.forms.fields import read
from vatside.plan.hours import hour_words, is_hour, read_hour
from vatside.units import Problem

WEDNESDAY = datetime(2026, 12, 2, 15, 0)
"""2 December 2026 is a Wednesday, by the calendar."""


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("5 Dec 14:00", "2026-12-05T14:00"),
        ("Dec 5 14:00", "2026-12-05T14:00"),
        ("5th December 2 pm", "2026-12-05T14:00"),
        ("sat 14:00", "2026-12-05T14:00"),
        ("saturday 2 pm", "2026-12-05T14:00"),
        ("Sat 5 Dec 14:00", "2026-12-05T14:00"),
        ("Sat, 5 Dec 2026, at 2.30 p.m.", "2026-12-05T14:30"),
        ("14:00 sat", "2026-12-05T14:00"),
        ("2 pm tomorrow", "2026-12-03T14:00"),
        ("tomorrow 10:00", "2026-12-03T10:00"),
        ("today 14:00", "2026-12-02T14:00"),
        ("2026-12-05 14:00", "2026-12-05T14:00"),
        ("16:00", "2026-12-02T16:00"),
        ("14:00", "2026-12-03T14:00"),  # gone by for today
        ("wed 16:00", "2026-12-02T16:00"),
        ("wed 14:00", "2026-12-09T14:00"),
        ("2 Dec 14:00", "2026-12-02T14:00"),  # a date is the day itself, late or not
        ("1 Dec 14:00", "2027-12-01T14:00"),
        ("29 Feb 10:00", "2028-02-29T10:00"),
    ],
)
def test_what_people_say(said: str, meant: str) -> None:
    """The next such day to come, as an absolute date: the plan alone then says which."""
    assert read_hour(said, WEDNESDAY) == meant


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ("sat", "sat names no hour"),
        ("5 Dec", "5 Dec names no hour"),
        ("Fri 5 Dec 14:00", "2026-12-05 is a Saturday"),
        ("30 Feb 10:00", "there is no 30 feb"),
        ("2026-02-30 10:00", "there is no 2026-02-30"),
        ("sat 25:00", "sat 25:00 is no time"),
        ("13 pm", "13 pm is no time"),
        ("5.12 14:00", "5.12 is no day"),  # May or December
        ("some day 14:00", "some day is no day"),
    ],
)
def test_what_cannot_be_meant(said: str, why: str) -> None:
    """The sentence says what is wrong with it and what could be written."""
    found = read_hour(said, WEDNESDAY)
    assert isinstance(found, Problem)
    assert found.text.startswith(why)
    assert "write" in found.text


@pytest.mark.parametrize("said", ["sat 14:00", "tomorrow 10:00", "today 9", "5 Dec 14:00"])
def test_without_a_clock_only_a_whole_date_is_a_day(said: str) -> None:
    """What counts from today is refused where nobody knows today."""
    found = read(wool_plan(), "ready_by", said)
    assert isinstance(found, Problem)
    assert "write the day out" in found.text


@given(st.datetimes(datetime(2020, 1, 1), datetime(2090, 1, 1)), st.integers(0, 6), st.integers(0, 23))
def test_a_weekday_is_the_next_of_its_name(now: datetime, weekday: int, hour: int) -> None:
    """It lies ahead, by a week at most, and is the day that the calendar calls so."""
    found = read_hour(f"{day_name[weekday]} {hour}:00", now)
    assert isinstance(found, str)
    assert is_hour(found)
    at = datetime.fromisoformat(found)
    assert (at.weekday(), at.hour) == (weekday, hour)
    assert timedelta(0) <= at - now.replace(second=0, microsecond=0) <= timedelta(days=7)


@given(st.datetimes(datetime(2020, 1, 1), datetime(2090, 1, 1)), st.dates(date(2020, 1, 1), date(2090, 1, 1)))
def test_what_is_printed_can_be_typed(wanted: datetime, today: date) -> None:
    """`Sat 5 Dec 14:00`, or with its year, is read back as the same hour where it is still to come."""
    text = hour_words(wanted.isoformat(timespec="minutes"), today)
    if wanted.year != today.year or wanted.date() >= today:
        assert read_hour(text, datetime.combine(today, datetime.min.time())) == wanted.isoformat(timespec="minutes")


def test_the_year_is_named_where_it_is_another_one() -> None:
    """5 December 2026 is a Saturday, by the calendar; an hour without a day stays one."""
    assert hour_words("2026-12-05T14:00", date(2026, 1, 1)) == "Sat 5 Dec 14:00"
    assert hour_words("2026-12-05T14:00", date(2027, 1, 1)) == "Sat 5 Dec 2026 14:00"
    assert hour_words("14:00", date(2026, 1, 1)) == "14:00"
    assert hour_words(None, date(2026, 1, 1)) == ""
