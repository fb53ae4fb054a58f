"""The waits at the bottom edge of every screen."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from vatside.bench.glance import WaitView
from vatside.plan.sheet import CARE
from vatside.ui.text.rows import Row, Signs, Span, bar, cells, left, numbered, right, row
from vatside.units import show_countdown

BAR = 16
NUMBER = 3
"""Columns of a wait's number and of what marks the one in hand."""
PAIRED = 2
"""Waits that have a row each; of more, two share one."""
GAP = 2
"""Columns between two waits of one row."""
HALF_TIME = 12
HALF_BAR = 5
HALF_ROOMY = 38
"""Columns of half a row from which a bar has room in it."""
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
    """Print the waits, the chosen one marked, in at most so many rows: two to a row where more than two run."""
    lines = _lines(waits, most)
    label = _label_width([line[0] for line in lines if len(line) == 1] or waits, width)
    rows = tuple(
        _pair(line, chosen, width, signs) if line[1:] else _row(line[0], line[0].id == chosen, width, label, signs)
        for line in lines
    )
    left_out = len(waits) - sum(len(line) for line in lines)
    if not left_out or most == 1:
        return rows
    return (*rows, row(Span(f"   and {left_out} more; f shows them large", "faint")))


def _lines(waits: Sequence[WaitView], most: int) -> list[Sequence[WaitView]]:
    """Say which waits share a row. One that rings has its own while there is room: what it asks for must be read."""
    rings = sum(wait.ringing for wait in waits)
    alone = len(waits) if len(waits) <= min(PAIRED, most) else rings
    if alone + ceil((len(waits) - alone) / 2) > most:
        alone = 0
    lines = [waits[at : at + 1] for at in range(alone)] + [waits[at : at + 2] for at in range(alone, len(waits), 2)]
    return lines if len(lines) <= most else lines[: max(most - 1, 1)]


def _pair(line: Sequence[WaitView], chosen: str | None, width: int, signs: Signs) -> Row:
    half = (width - GAP) // 2
    first, second = (_half(wait, wait.id == chosen, half, signs) for wait in line)
    return row(*first, Span(" " * GAP), *second)


def _half(wait: WaitView, chosen: bool, width: int, signs: Signs) -> tuple[Span, ...]:
    """One of two waits in a row: its time whole, its name cut, its bar where there is room, and whether it rings."""
    length = HALF_BAR if width >= HALF_ROOMY else 0
    label = width - NUMBER - 1 - HALF_TIME - (1 + length if length else 0) - 2
    head = Span(f"{_number(wait, chosen, signs)} {left(numbered(wait.label, label), label)}", _head_role(wait, chosen))
    drawn = (Span(" "), *bar(wait.share, length, signs)) if length else ()
    sign = Span(" !" if wait.ringing else "  ", "over" if wait.ringing else "")
    return (head, Span(_time(wait, HALF_TIME), _time_role(wait)), *drawn, sign)


def _number(wait: WaitView, chosen: bool, signs: Signs) -> str:
    """Its number, in brackets while it is the one in hand."""
    return f"{signs.cycle[0]}{wait.number}{signs.cycle[1]}" if chosen else f" {wait.number} "


def _head_role(wait: WaitView, chosen: bool) -> str:
    return "over" if wait.ringing else ("strong" if chosen else "")


def _bar_width(width: int) -> int:
    return BAR if width >= 76 else BAR // 2


def _label_width(waits: Sequence[WaitView], width: int) -> int:
    """Give the columns of the names: the longest one, if what stands behind the bars leaves the room."""
    most = width - NUMBER - 1 - TIME - _bar_width(width) - 2
    room = most - max(cells(_tail(wait)) for wait in waits)
    return max(min(max(cells(wait.label) for wait in waits), room), min(LABEL, most))


def _row(wait: WaitView, chosen: bool, width: int, label: int, signs: Signs) -> Row:
    bar_width = _bar_width(width)
    name = left(numbered(wait.label, label), label)
    head = Span(f"{_number(wait, chosen, signs)} {name}", _head_role(wait, chosen))
    time = Span(_time(wait, TIME), _time_role(wait))
    room = width - cells(head.text) - cells(time.text) - bar_width - 2
    spans = (
        head,
        time,
        Span(" "),
        *bar(wait.share, bar_width, signs),
        Span(" "),
        Span(left(_tail(wait), room), "over" if wait.ringing else "faint"),
    )
    return Row(spans, wait.id)


def _time(wait: WaitView, room: int) -> str:
    """Print its time a column off its name; a long one that is over has its plus alone to say so."""
    text = clock_text(wait)
    said = f"{'OVER' if wait.ringing else 'over'} {text}" if wait.over else text
    return right(said if cells(said) < room else text, room)


def _time_role(wait: WaitView) -> str:
    if wait.over:
        return "over" if wait.ringing else "care"
    return "faint" if wait.paused else "number"


def _tail(wait: WaitView) -> str:
    if wait.ringing:
        what = wait.nudge if not wait.over else ""
        return f"{CARE.opening}{what}".strip()
    if wait.paused:
        return "paused"
    if wait.over:
        return "quiet; e ends it"
    if wait.nudge_left is not None and not wait.over:
        return f"in {show_countdown(wait.nudge_left)}: {wait.nudge or 'look'}"
    return ""
