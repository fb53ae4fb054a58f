"""The hour at which the vat is wanted, as text."""

from __future__ import annotations

import pytest
from tests.plan.plans import wool_plan

from vatside.forms.fields import read
from vatside.plan.hours import is_hour
from vatside.units import Problem


@pytest.mark.parametrize("text", ["00:00", "23:59", "2026-05-02T10:00", "2028-02-29T10:00", "2999-12-31T23:59"])
def test_hours_that_there_are(text: str) -> None:
    """A clock time alone, or one of a day in the calendar."""
    assert is_hour(text)


@pytest.mark.parametrize(
    "text",
    ["24:00", "9:00", "10:60", "2026-02-30T10:00", "2026-13-01T10:00", "2027-02-29T10:00", "0001-01-01T10:00",
     "9999-12-31T10:00", "2026-05-02 10:00", ""],
)  # fmt: skip
def test_hours_that_there_are_not(text: str) -> None:
    """No such hour or day, or one so far off that nothing could be counted from it."""
    assert not is_hour(text)


@pytest.mark.parametrize("day", ["9999-12-31", "0001-01-01", "2026-02-30"])
def test_the_form_takes_no_such_day(day: str) -> None:
    """It would be logged, and the schedule could not be laid out from it."""
    said = read(wool_plan(), "ready_by", f"{day} 10:00")
    assert isinstance(said, Problem)
    assert said.text.startswith(f"Vat ready by: there is no {day}")
