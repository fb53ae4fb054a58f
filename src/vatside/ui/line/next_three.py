"""The next three steps with their times, on a day's screen that has room for them, once the day is under way."""

from __future__ import annotations

from collections.abc import Sequence

from textual import on

from vatside.bench.desk import Desk
from vatside.ui.base.full_screen import FullScreen
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
        self._beside: Beside | None = None

    @property
    def counts(self) -> bool:
        """The window has room, the day is under way here, and nobody is typing."""
        desk, size = self.desk, self.app.size
        begun = bool(desk.state.done or desk.state.waits)
        roomy = size.width >= ROOM[0] and size.height >= ROOM[1]
        return roomy and begun and desk.typed is None and not desk.keeping.readonly

    def refill(self) -> None:
        """Show them anew, and lay the day anew where something happened."""
        super().refill()
        if self.is_mounted and self.counts:
            self.beside.lay(self.desk.clock.now())

    @property
    def beside(self) -> Beside:
        """What lays the day."""
        if self._beside is None:
            from vatside.bench.day_line import line_of  # late: a day that is only planned is not laid here

            self._beside = Beside(self, line_of(self.desk))
        return self._beside

    def _rows(self, width: int) -> Sequence[Row]:
        day = self.beside.line.day if self.counts else None
        if day is None:
            return ()
        from vatside.ui.line.act_rows import act_rows  # late: as above

        steps = act_rows(day, width - 1)[:NEXT]
        return (row(Span(" Next", "head")), *(Row((Span(" "), *each.spans)) for each in steps))

    def on_unmount(self) -> None:
        """Want no answer any more."""
        if self._beside is not None:
            self._beside.stop()

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
