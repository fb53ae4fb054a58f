"""The next three steps with their times, on a day's screen that has room for them, once the day is under way."""

from __future__ import annotations

from collections.abc import Sequence

from textual import on

from vatside.bench.day_line import line_of
from vatside.bench.desk import Desk
from vatside.ui.base.full_screen import FullScreen
from vatside.ui.line.act_rows import act_rows
from vatside.ui.line.beside import Beside
from vatside.ui.text.rows import Row, Span, row
from vatside.ui.widgets.lines import Lines

NEXT = 3
ROOM = (120, 36)
"""Columns and rows of a window that has room for them: ours."""
SAID_S = 20
"""Seconds for which it is said what moved."""


class NextThree(Lines):
    """Lays the day at each event and once a minute, and says what moved."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(self._rows, id="coming", keys=False)
        self.desk = desk
        self.line = line_of(desk)
        self.beside = Beside(self, self.line)

    @property
    def counts(self) -> bool:
        """The window has room, the day is under way here, and nobody is typing."""
        desk, size = self.desk, self.app.size
        begun = bool(desk.state.done or desk.state.waits)
        return begun and desk.typed is None and not desk.keeping.readonly and (size.width, size.height) >= ROOM

    def refill(self) -> None:
        """Show them anew, and lay the day anew where something happened."""
        super().refill()
        if self.is_mounted and self.counts:
            self.beside.lay(self.desk.clock.now())

    def _rows(self, width: int) -> Sequence[Row]:
        day = self.line.day
        if day is None or not self.counts:
            return ()
        steps = act_rows(day, width - 1)[:NEXT]
        return (row(Span(" Next", "head")), *(Row((Span(" "), *each.spans)) for each in steps))

    def on_unmount(self) -> None:
        """Want no answer any more."""
        self.beside.stop()

    @on(Beside.Laid)
    def _laid(self, event: Beside.Laid) -> None:
        self.beside.take(event.found)
        if event.found.moved and isinstance(self.screen, FullScreen):
            self.screen.say(event.found.moved, SAID_S)
        self.refill()

    @on(Beside.Failed)
    def _failed(self, event: Beside.Failed) -> None:
        self.beside.stop()
        raise event.error
