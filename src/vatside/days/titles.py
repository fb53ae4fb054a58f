"""What a day is called beside the other days of its folder."""

from __future__ import annotations

import re
from collections.abc import Collection

from vatside.forms.fields import LONGEST_TEXT

AGAIN = ", again"
_AGAIN = re.compile(rf"{AGAIN}(?: \d+)?$", re.ASCII)
_NUMBERED = re.compile(r" \d+$", re.ASCII)


def again(title: str) -> str:
    """Name the next day after the one before; no longer than a title may be."""
    return _AGAIN.sub("", title)[: LONGEST_TEXT - len(AGAIN)] + AGAIN


def free_title(title: str, taken: Collection[str]) -> str:
    """Give a title that no other day has, by a number behind it: `Towels, again 2`."""
    if title not in taken:
        return title
    plain, number = _NUMBERED.sub("", title), 2
    while (found := f"{plain[: LONGEST_TEXT - len(str(number)) - 1]} {number}") in taken:
        number += 1
    return found
