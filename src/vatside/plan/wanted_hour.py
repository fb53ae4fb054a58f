"""The hour at which the vat is wanted, as text: a clock time, or a day and a clock time."""

from __future__ import annotations

import re
from datetime import date, datetime

YEARS = range(1970, 3000)
"""Years that a day or moment can lie in; keeps everything counted from it computable."""

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
MONTHS = (
    "january", "february", "march", "april", "may", "june",
    "july", "august", "september", "october", "november", "december",
)  # fmt: skip

ISO_DAY = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
"""A date as ISO 8601 writes it out, whether there is such a day or not."""
_CLOCK = re.compile(r"(?:(\d{4}-\d{2}-\d{2})T)?(?:[01]\d|2[0-3]):[0-5]\d", re.ASCII)


def is_day(text: str) -> bool:
    """Tell whether there is such a day, written YYYY-MM-DD."""
    try:
        return ISO_DAY.fullmatch(text) is not None and date.fromisoformat(text).year in YEARS
    except ValueError:
        return False


def is_hour(text: str) -> bool:
    """Tell whether a text is HH:MM, or YYYY-MM-DDTHH:MM of a day that there is."""
    found = _CLOCK.fullmatch(text)
    return found is not None and (found[1] is None or is_day(found[1]))


def hour_words(ready_by: str | None, today: date) -> str:
    """Print a wanted hour in words, the year only where it is another one; empty if it is open."""
    if ready_by is None or "T" not in ready_by:
        return ready_by or ""
    return day_words(datetime.fromisoformat(ready_by), today)


def whole_hour_words(ready_by: str) -> str:
    """Print a wanted hour with its year, so that it can be read back on any day; what is none stays as it is."""
    if "T" not in ready_by or not is_hour(ready_by):
        return ready_by
    at = datetime.fromisoformat(ready_by)
    return f"{_day_words(at)} {at.year} {at:%H:%M}"


def day_words(at: datetime, today: date) -> str:
    """Print a moment as `Sat 5 Dec 14:00`, the year only where it is another one."""
    year = "" if at.year == today.year else f" {at.year}"
    return f"{_day_words(at)}{year} {at:%H:%M}"


def _day_words(at: datetime) -> str:
    return f"{WEEKDAYS[at.weekday()][:3].capitalize()} {at.day} {MONTHS[at.month - 1][:3].capitalize()}"
