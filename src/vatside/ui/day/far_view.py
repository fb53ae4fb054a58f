"""The far view: the waits in digits that can be read from across the kitchen."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from textual import events
from textual.app import ComposeResult

from vatside.bench import acts
from vatside.bench.day_line import line_of
from vatside.bench.desk import Desk
from vatside.bench.glance import WaitView, next_of_day
from vatside.log.waits import Moment
from vatside.storage.session_file import ReadOnly
from vatside.ui.base.keymap import key_row, shown
from vatside.ui.base.screens import FullScreen
from vatside.ui.day.keys import FAR_KEYS
from vatside.ui.dips.now import far_call
from vatside.ui.text.large import best_scale, big, capitals, rows_high
from vatside.ui.text.rows import BLANK, Row, Signs, Span, bar, cells, clip, numbered, ripeness, row, shade, wrap
from vatside.ui.text.wait_rows import clock_text

FIRST_KEY = "Any key quiets and leads back; that key does no more."
"""What the view says that nobody asked for."""
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
    rows: list[Row] = []
    for start in range(0, len(waits), columns):
        blocks = [_block(wait, scale, bool(beside_names), wide, tall, signs) for wait in waits[start : start + columns]]
        rows += [Row(tuple(span for part in parts for span in part.spans)) for parts in zip(*blocks, strict=True)]
    return (*rows, *[BLANK] * (room - len(rows)))


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
    number, state = f"{wait.number} ", _state(wait)
    label = numbered(wait.label.upper(), width - 2 * EDGE - cells(number) - cells(state))
    lines.append((f"{number}{label}{state}", _ink(wait, "strong")))
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
        return "  over, quiet"
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


class FarScreen(FullScreen):
    """Up to four waits in large digits; any key quiets an alarm."""

    KEYS = FAR_KEYS
    CSS_PATH = "far.tcss"

    def __init__(self, desk: Desk, signs: Signs, *, by_itself: bool = False) -> None:
        """`by_itself`: nobody asked for it, so that the first key quiets and goes back at once."""
        super().__init__()
        self.by_itself = by_itself
        self.desk = desk
        self.signs = signs
        self.glance = desk.glance(desk.clock.now())

    def compose(self) -> ComposeResult:
        """One region."""
        yield self.part("far", self._rows)

    def tick(self, now: Moment) -> None:
        """Let the clock show."""
        self.glance = self.desk.glance(now)
        self.refill("far")

    def _rows(self, width: int) -> Sequence[Row]:
        line, now = line_of(self.desk), self.glance.now
        coming = next_of_day(self.desk.steps, self.glance.progress, line.order(now))
        words = far_call(self.desk, now) or (f"{line.another_day(coming, now)}{coming.text}" if coming else "")
        if self.desk.keeping.mark:
            words = f"{self.desk.keeping.mark} · {words}"
        keys = FIRST_KEY if self.by_itself else key_row(shown(self.KEYS, self), width).text.strip()
        return far_rows(self.glance.waits, words, keys, width, self.size.height, self.signs)

    def on_key(self, event: events.Key) -> None:
        """While something rings, quiet it, whatever key it was; if it came up by itself, go back with the same key."""
        if (self.is_ringing or self.by_itself) and event.key not in ("ctrl+q", "ctrl+z"):
            event.stop()
            event.prevent_default()
            self.action_quiet()
            if self.by_itself:
                self.dismiss()

    @property
    def is_ringing(self) -> bool:
        """Tell whether an alarm rings."""
        return bool(self.glance.ringing)

    def action_quiet(self) -> None:
        """Quiet what rings."""
        self._quiet()
        self.tick(self.desk.clock.now())

    def action_leave(self) -> None:
        """Go back."""
        self.dismiss()

    def _quiet(self) -> None:
        try:
            acts.quiet(self.desk)
        except ReadOnly:
            self.dismiss()

    def on_click(self) -> None:
        """A touch quiets as well."""
        if self.glance.ringing:
            self._quiet()
        if self.by_itself:
            self.dismiss()
