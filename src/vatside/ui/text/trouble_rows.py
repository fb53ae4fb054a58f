"""A file that cannot be worked in: what is wrong with it, and what can be done."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from vatside.ui.text.rows import BLANK, Row, Span, row, wrap
from vatside.units.one_line import clean

COPY, TAKE = "copy", "take"


def damage_rows(damage: Sequence[str], entries: int, width: int) -> tuple[Row, ...]:
    """Say what is wrong with a file of which something could be read."""
    things = "1 entry of its log" if entries == 1 else f"{entries} entries of its log"
    can = (
        f"Its plan and {things} could be read and can be looked at. The file is left as it is. "
        "c writes what could be read into a new file, and the day goes on there."
    )
    return (*_wrong(damage, width), BLANK, row(Span("What can be done", "head")), *_said(can, width))


def free_rows(waits: int, width: int) -> tuple[Row, ...]:
    """Say that nobody writes into a day any more, and what that means."""
    rings = "Its waits go on; from here on they ring in this window only if the day goes on here."
    words = "The window in which this day was worked in has closed. Here it can only be looked at so far."
    return (*_said(words, width), *(_said(rings, width) if waits else ()))


def unreadable_rows(path: Path, problems: Sequence[str], width: int) -> tuple[Row, ...]:
    """Say what is wrong with a file of which nothing could be read, and there is no backup either."""
    can = (
        "Nothing of it can be shown, and it has no backup that could be. The file is left as it is: "
        f"{clean(str(path))}. A copy of it from elsewhere may be whole; a new day can be begun with a."
    )
    return (*_wrong(problems, width), BLANK, row(Span("What can be done", "head")), *_said(can, width))


def _wrong(problems: Sequence[str], width: int) -> tuple[Row, ...]:
    found = [row(Span("What is wrong", "head"))]
    for problem in problems:
        text = clean(problem)
        found += _said(f"{text[:1].upper()}{text[1:]}.".replace("..", "."), width, "care")
    return tuple(found)


def _said(text: str, width: int, role: str = "") -> tuple[Row, ...]:
    first, *rest = wrap(text, width - 2) or ("",)
    return (row(Span(f"· {first}", role)), *(row(Span(f"  {line}", role)) for line in rest))
