"""The hour at which the vat is wanted, as text: a clock time, or a day and a clock time."""

from __future__ import annotations

import re
from datetime import date

YEARS = range(1970, 3000)
"""Years that a day or moment can lie in; keeps everything counted from it computable."""

_CLOCK = re.compile(r"(?:(\d{4}-\d{2}-\d{2})T)?(?:[01]\d|2[0-3]):[0-5]\d", re.ASCII)


def is_day(text: str) -> bool:
    """Tell whether there is such a day, written YYYY-MM-DD."""
    try:
        return date.fromisoformat(text).year in YEARS
    except ValueError:
        return False


def is_hour(text: str) -> bool:
    """Tell whether a text is HH:MM, or YYYY-MM-DDTHH:MM of a day that there is."""
    found = _CLOCK.fullmatch(text)
    return found is not None and (found[1] is None or is_day(found[1]))
