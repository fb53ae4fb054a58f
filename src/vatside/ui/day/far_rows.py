"""The far view: the waits in digits that can be read from across the kitchen."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from vatside.bench.wait_view import WaitView
from vatside.ui.text.bars import bar, ripeness
from vatside.ui.text.digits import best_scale, big
from vatside.ui.text.rows import BLANK, Row, Span, cells, clip, row, wrap
from vatside.ui.text.signs import Signs
from vatside.ui.text.wait_rows import clock_text
from vatside.units import show_minutes

MOST = 4
"""Waits shown large at once: the ones that ring or end first."""


def far_rows(
    waits: Sequence[WaitView], coming: str, keys: str, width: int, height: int, signs: Signs
) -> tuple[Row, ...]:
    """Fill the screen with the waits and the next action."""
    shown = waits[:MOST]
    foot = _foot(waits, coming, keys, width)
    room = height - len(foot)
    blocks = _grid(shown, width, room, signs) if shown else _nothing(width, room)
    return (*blocks, *foot)


def _nothing(width: int, room: int) -> tuple[Row, ...]:
    words = "NOTHING IS RUNNING"
    return (*[BLANK] * (room // 2), row(Span(words.center(width), "strong")), *[BLANK] * (room - room // 2 - 1))


def _foot(waits: Sequence[WaitView], coming: str, keys: str, width: int) -> tuple[Row, ...]:
    more = f"and {len(waits) - MOST} more   " if len(waits) > MOST else ""
    return (
        *(row(Span(f" {line}", "next")) for line in _next(coming, width - 2)),
        row(Span(clip(f" {more}{keys}", width), "faint")),
    )


def _next(coming: str, width: int) -> tuple[str, ...]:
    """Say what is next in at most two lines."""
    head = "NEXT  "
    first, *rest = wrap(coming, width, width - len(head)) or ("",)
    line = f"{head}{first}" if coming else ""
    return (line, clip(" ".join(rest), width)) if rest else (line,)


def _grid(waits: Sequence[WaitView], width: int, room: int, signs: Signs) -> tuple[Row, ...]:
    """Lay the waits out in the number of columns that gives the largest digits."""
    columns = max(range(1, len(waits) + 1), key=lambda count: (_scale(waits, count, width, room, signs), -count))
    lines = ceil(len(waits) / columns)
    tall, wide = room // lines, width // columns
    scale = _scale(waits, columns, width, room, signs)
    found: list[Row] = []
    for start in range(0, len(waits), columns):
        blocks = [_block(wait, scale, wide, tall, signs) for wait in waits[start : start + columns]]
        found += [Row(tuple(span for part in parts for span in part.spans)) for parts in zip(*blocks, strict=True)]
    return (*found, *[BLANK] * (room - len(found)))


def _scale(waits: Sequence[WaitView], columns: int, width: int, room: int, signs: Signs) -> int:
    tall = room // ceil(len(waits) / columns)
    return min(best_scale(clock_text(wait), width // columns - 2, tall - 2, signs) for wait in waits)


def _block(wait: WaitView, scale: int, width: int, height: int, signs: Signs) -> list[Row]:
    """One wait: its name in capitals, its time, its bar; filled up to a height."""
    role = "faint" if wait.over else ripeness(wait.share)
    digits = big(clock_text(wait), scale, signs) if scale else (clock_text(wait),)
    name = clip(f"{wait.number} {wait.label.upper()}{_state(wait)}", width - 2)
    lines = [_middle(name, "over" if wait.ringing else "strong", width)]
    lines += [_middle(line, "danger" if wait.ringing else role, width) for line in digits]
    if len(lines) < height:
        length = min(max(cells(digits[0]), 10), width - 2)
        side = (width - length) // 2
        lines.append(row(Span(" " * side), *bar(wait.share, length, signs), Span(" " * (width - length - side))))
    lines = lines[:height]
    above = (height - len(lines)) // 2
    blank = row(Span(" " * width))
    return [*[blank] * above, *lines, *[blank] * (height - len(lines) - above)]


def _state(wait: WaitView) -> str:
    if wait.over and not wait.ringing:
        minutes = int(-wait.left // 60)
        return f"  over {show_minutes(minutes)}, quiet" if minutes else "  over, quiet"
    if wait.over:
        return "  OVER !"
    if wait.ringing:
        return f"  {wait.nudge.upper()} !"
    return "  PAUSED" if wait.paused else ""


def _middle(text: str, role: str, width: int) -> Row:
    side = (width - cells(text)) // 2
    return row(Span(" " * side), Span(text, role), Span(" " * (width - cells(text) - side)))
