"""The waits at the bottom edge of every screen."""

from __future__ import annotations

from collections.abc import Sequence

from vatside.bench.wait_view import WaitView
from vatside.ui.text.bars import bar
from vatside.ui.text.rows import Row, Span, cells, left, numbered, right, row
from vatside.ui.text.signs import Signs
from vatside.units import show_countdown

BAR = 16
NUMBER = 3
"""Columns of a wait's number and what marks the chosen one."""
TIME = 13
LABEL = 17
"""Columns that a wait's name always gets."""
IN_DAYS = 48
"""Hours from which a wait is told in days."""


def clock_text(wait: WaitView) -> str:
    """Print what is left, or by how much it is over."""
    return f"+{_long(-wait.left)}" if wait.over else _long(wait.left)


def _long(seconds: float) -> str:
    """Days and hours where hours and minutes would be too many."""
    hours = int(seconds // 3600)
    return f"{hours // 24} d {hours % 24} h" if hours >= IN_DAYS else show_countdown(seconds)


def wait_rows(waits: Sequence[WaitView], chosen: str | None, width: int, most: int, signs: Signs) -> tuple[Row, ...]:
    """Print the waits, the chosen one marked, in at most so many rows."""
    if not waits:
        hint = ": space starts a step, w a wait of your own" if width >= 66 else "; w starts a wait of your own"
        return (row(Span(f" Nothing is running{hint}", "faint")),)
    shown = waits if len(waits) <= most else waits[: max(most - 1, 1)]
    label = _label_width(shown, width)
    rows = tuple(_row(wait, wait.id == chosen, width, label, signs) for wait in shown)
    if len(waits) == len(shown) or most == 1:
        return rows
    return (*rows, row(Span(f"   and {len(waits) - len(shown)} more; f shows them large", "faint")))


def _bar_width(width: int) -> int:
    return BAR if width >= 76 else BAR // 2


def _label_width(waits: Sequence[WaitView], width: int) -> int:
    """Give the columns of the names: the longest one, if what stands behind the bars leaves the room."""
    most = width - NUMBER - TIME - _bar_width(width) - 2
    room = most - max(cells(_tail(wait)) for wait in waits)
    return max(min(max(cells(wait.label) for wait in waits), room), min(LABEL, most))


def _row(wait: WaitView, chosen: bool, width: int, label: int, signs: Signs) -> Row:
    role = "over" if wait.ringing else ("strong" if chosen else "")
    bar_width = _bar_width(width)
    head = Span(f"{signs.here if chosen else ' '}{wait.number} {left(numbered(wait.label, label), label)}", role)
    time = Span(_time(wait), _time_role(wait))
    room = width - cells(head.text) - cells(time.text) - bar_width - 2
    spans = (
        head,
        time,
        Span(" "),
        *bar(wait.share, bar_width, signs),
        Span(" "),
        Span(left(_tail(wait), room), _tail_role(wait)),
    )
    return Row(spans, wait.id)


def _time(wait: WaitView) -> str:
    text = clock_text(wait)
    over = "OVER" if wait.ringing else "over"
    return right(f"{over} {text}" if wait.over else text, TIME)


def _time_role(wait: WaitView) -> str:
    if wait.over:
        return "over" if wait.ringing else "care"
    return "faint" if wait.paused else "number"


def _tail(wait: WaitView) -> str:
    if wait.ringing:
        what = wait.nudge if not wait.over else ""
        return f"! {what}".strip() if what else "!"
    if wait.paused:
        return "paused"
    if wait.over:
        return "quiet; e ends it"
    if wait.nudge_left is not None and not wait.over:
        return f"in {show_countdown(wait.nudge_left)}: {wait.nudge or 'look'}"
    return ""


def _tail_role(wait: WaitView) -> str:
    return "over" if wait.ringing else "faint"
