"""The far view: readable across the kitchen."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.app import ComposeResult

from vatside.bench import acts
from vatside.bench.desk import Desk
from vatside.log.moment import Moment
from vatside.storage.session_file import ReadOnly
from vatside.ui.base.full_screen import FullScreen
from vatside.ui.day.far_rows import far_rows
from vatside.ui.dips.now import far_call
from vatside.ui.text.rows import Row
from vatside.ui.text.signs import Signs
from vatside.ui.text.step_rows import next_step


class FarScreen(FullScreen):
    """Up to four waits in large digits; any key quiets an alarm."""

    CSS_PATH = "far.tcss"

    def __init__(self, desk: Desk, signs: Signs) -> None:
        super().__init__()
        self.desk = desk
        self.signs = signs
        self.glance = desk.glance(desk.clock.now())

    def compose(self) -> ComposeResult:
        """One region."""
        yield self.part("far", self._rows)

    def on_mount(self) -> None:
        """Show the shading that fits."""
        self._shade()

    def tick(self, now: Moment) -> None:
        """Let the clock show."""
        self.glance = self.desk.glance(now)
        self._shade()
        self.refill("far")

    def _shade(self) -> None:
        alarm = bool(self.glance.ringing)
        self.set_class(alarm, "-over")
        lines = self.parts["far"]
        if lines.alarm is not alarm:
            lines.alarm = alarm
            lines.refresh()

    def _rows(self, width: int) -> Sequence[Row]:
        coming = next_step(self.desk.steps, self.glance.progress)
        words = far_call(self.desk, self.glance.now) or (coming.text if coming else "")
        if self.desk.keeping.mark:
            words = f"{self.desk.keeping.mark} · {words}"
        return far_rows(self.glance.waits, words, width, self.size.height, self.signs)

    def on_key(self, event: events.Key) -> None:
        """Quiet what rings, whatever key it was; else f and Escape go back."""
        if event.key == "ctrl+q":
            return
        event.stop()
        event.prevent_default()
        if self.glance.ringing:
            self._quiet()
            self.tick(self.desk.clock.now())
        elif event.key in ("f", "escape", "enter", "space", "q"):
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
