"""The far view: the waits in digits that can be read from across the kitchen."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from vatside.bench.wait_view import WaitView
from vatside.ui.text.bars import bar, ripeness, shade
from vatside.ui.text.digits import best_scale, big, rows_high
from vatside.ui.text.letters import capitals
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
    """Lay the waits out in the number of columns that gives the largest digits, with large names where those fit."""

    def sizes(columns: int) -> tuple[int, int]:
        names = rows_high(1) * ceil(len(waits) / columns)
        return _scale(waits, columns, width, room, signs), _scale(waits, columns, width, room - names, signs)

    columns = max(range(1, len(waits) + 1), key=lambda count: (sizes(count)[0], sizes(count)[1] > 0, -count))
    lines = ceil(len(waits) / columns)
    tall, wide = room // lines, width // columns
    alone, beside_names = sizes(columns)
    scale = beside_names or alone
    found: list[Row] = []
    for start in range(0, len(waits), columns):
        blocks = [_block(wait, scale, bool(beside_names), wide, tall, signs) for wait in waits[start : start + columns]]
        found += [Row(tuple(span for part in parts for span in part.spans)) for parts in zip(*blocks, strict=True)]
    return (*found, *[BLANK] * (room - len(found)))


def _scale(waits: Sequence[WaitView], columns: int, width: int, room: int, signs: Signs) -> int:
    tall = room // ceil(len(waits) / columns)
    return min(best_scale(clock_text(wait), width // columns - 2 * EDGE, tall - 2, signs) for wait in waits)


EDGE = 2
"""Columns at the sides of a block: what is over has its edge there."""


def _block(wait: WaitView, scale: int, named: bool, width: int, height: int, signs: Signs) -> list[Row]:
    """One wait: its name, its time, its bar; filled up to a height. Only a block that rings is copper all over."""
    digits = big(clock_text(wait), scale, signs) if scale else (clock_text(wait),)
    name = _large_name(wait.label, width - 2 * EDGE, signs) if named else ()
    lines = [(line, _ink(wait, "strong")) for line in name]
    lines.append((clip(f"{wait.number} {wait.label.upper()}{_state(wait)}", width - 2 * EDGE), _ink(wait, "strong")))
    lines += [(line, _ink(wait, ripeness(wait.share))) for line in digits]
    rows = [_middle(text, role, width, wait, signs) for text, role in lines]
    if len(rows) < height:
        rows.append(_bar(wait, max(cells(digits[0]), 10), width, signs))
    rows = rows[:height]
    above = (height - len(rows)) // 2
    blank = _middle("", _ink(wait, ""), width, wait, signs)
    return [*[blank] * above, *rows, *[blank] * (height - len(rows) - above)]


def _ink(wait: WaitView, usual: str) -> str:
    """Give the ink of a block: copper ground while it rings, copper letters once it is over and was heard."""
    return "over" if wait.ringing else "care" if wait.over else usual


def _large_name(label: str, width: int, signs: Signs) -> tuple[str, ...]:
    """Draw a name, or as many of its words as there is room for; the number at its end stays."""
    *words, last = capitals(label).split() or [""]
    kept = [*words, last]
    while kept and not best_scale(" ".join(kept), width, rows_high(1), signs):
        if len(kept) == 1:
            return ()
        kept = [*kept[:-2], last] if last.isdigit() and len(kept) > 2 else kept[:-1]
    return big(" ".join(kept), 1, signs) if kept and kept != [""] else ()


def _bar(wait: WaitView, length: int, width: int, signs: Signs) -> Row:
    length = min(length, width - 2 * EDGE)
    if wait.over:
        return _middle(shade(1, signs) * length, _ink(wait, ""), width, wait, signs)
    side = (width - length) // 2
    drawn = bar(wait.share, length, signs)
    spans = tuple(Span(span.text, _ink(wait, span.role)) for span in drawn)
    return _edged((Span(" " * side), *spans, Span(" " * (width - length - side))), wait, signs)


def _state(wait: WaitView) -> str:
    if wait.over and not wait.ringing:
        minutes = int(-wait.left // 60)
        return f"  over {show_minutes(minutes)}, quiet" if minutes else "  over, quiet"
    if wait.over:
        return "  OVER !"
    if wait.ringing:
        return f"  {wait.nudge.upper()} !"
    return "  PAUSED" if wait.paused else ""


def _middle(text: str, role: str, width: int, wait: WaitView, signs: Signs) -> Row:
    side = (width - cells(text)) // 2
    return _edged((Span(" " * side), Span(text, role), Span(" " * (width - cells(text) - side))), wait, signs)


def _edged(spans: tuple[Span, ...], wait: WaitView, signs: Signs) -> Row:
    """Put an edge on both sides of what is over; what rings is filled to its sides."""
    if wait.ringing:
        spans = tuple(Span(span.text, span.role or "over") for span in spans)
    if not wait.over:
        return Row(spans)
    first, *middle, last = spans
    edge = _ink(wait, "")
    return row(
        Span(signs.rule, edge), Span(first.text[1:], first.role), *middle,
        Span(last.text[:-1], last.role), Span(signs.rule, edge),
    )  # fmt: skip
