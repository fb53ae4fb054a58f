"""Who is not there when, as one text: `1 until 10:00, 2 from 13:00 to 15:00`."""

from __future__ import annotations

import re

from vatside.plan.wanted_hour import is_hour
from vatside.units import Problem

_AWAY = re.compile(r"([1-9]\d?) (from|until) (\d{2}:\d{2})(?: to (\d{2}:\d{2}))?", re.ASCII)
Absence = tuple[int, str, str, str | None]
"""How many, `from` or `until`, an hour, and the hour at which they are back."""


def away(text: str) -> list[Absence]:
    """Read who is not there when; what cannot be read is left out."""
    found = (_AWAY.fullmatch(part.strip()) for part in text.split(","))
    return [(int(match[1]), match[2], match[3], match[4]) for match in found if match and _hours(match)]


def away_problem(text: str) -> Problem | None:
    """Say what is wrong with a text of absences; None for nothing."""
    for part in (part.strip() for part in text.split(",")):
        match = _AWAY.fullmatch(part)
        if not match or not _hours(match):
            return Problem(f"{part!r} is no absence: write 1 until 10:00, 1 from 13:00, or 1 from 13:00 to 15:00")
    return None


def _hours(match: re.Match[str]) -> bool:
    if match[4] is not None and (match[2] == "until" or match[4] <= match[3]):
        return False
    return is_hour(match[3]) and (match[4] is None or is_hour(match[4]))
