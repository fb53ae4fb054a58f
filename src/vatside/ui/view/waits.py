"""The waits at the bottom edge of every screen."""

from __future__ import annotations

from collections.abc import Sequence

from attrs import frozen

from vatside.ui.view.bar import bar
from vatside.ui.view.rows import Row, Span, cells, left, right, row
from vatside.ui.view.signs import Signs
from vatside.units import show_countdown

BAR = 16
TIME = 9
IN_DAYS = 48
"""Hours from which a wait is told in days."""


@frozen
class WaitView:
    """One wait as it stands at a moment."""

    id: str
    number: int
    """Which key chooses it."""
    label: str
    left: float
    """Seconds to go; negative once it is over."""
    share: float
    """How much of it has elapsed, 0 to 1."""
    paused: bool = False
    ringing: bool = False
    """Its alarm, or that of its latest nudge, sounds until someone quiets it."""
    nudge: str = ""
    """What to do at the next call, or what the ringing call asks for."""
    nudge_left: float | None = None
    """Seconds to that call; None: none to come."""
    step: str | None = None

    @property
    def over(self) -> bool:
        """Its time is up."""
        return self.left <= 0


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
    if len(waits) > most:
        shown, more = waits[: max(most - 1, 1)], len(waits) - max(most - 1, 1)
        tail = row(Span(f"   and {more} more; f shows them large", "faint"))
        return (*(_row(wait, wait.id == chosen, width, signs) for wait in shown), *([tail] if most > 1 else []))
    return tuple(_row(wait, wait.id == chosen, width, signs) for wait in waits)


def _row(wait: WaitView, chosen: bool, width: int, signs: Signs) -> Row:
    role = "over" if wait.ringing else ("strong" if chosen else "")
    label_width = min(max(width - TIME - BAR - 28, 14), 26)
    tail = _tail(wait)
    bar_width = BAR if width >= 76 else 8
    head = Span(f"{signs.here if chosen else ' '}{wait.number} {left(wait.label, label_width)}", role)
    time = Span(_time(wait), _time_role(wait))
    room = width - cells(head.text) - cells(time.text) - bar_width - 2
    spans = (
        head,
        time,
        Span(" "),
        *bar(wait.share, bar_width, signs),
        Span(" "),
        Span(left(tail, room), _tail_role(wait)),
    )
    return Row(spans, wait.id)


def _time(wait: WaitView) -> str:
    text = clock_text(wait)
    over = "OVER" if wait.ringing else "over"
    return right(f"{over} {text}" if wait.over else text, TIME + 4)


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
        return f"{wait.nudge or 'look'} in {show_countdown(wait.nudge_left)}"
    return ""


def _tail_role(wait: WaitView) -> str:
    return "over" if wait.ringing else "faint"
