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
from vatside.ui.base.keymap import key_row, shown
from vatside.ui.day.far_rows import far_rows
from vatside.ui.day.keys import FAR_KEYS
from vatside.ui.dips.now import far_call
from vatside.ui.text.rows import Row
from vatside.ui.text.signs import Signs
from vatside.ui.text.step_rows import next_step


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
        coming = next_step(self.desk.steps, self.glance.progress)
        words = far_call(self.desk, self.glance.now) or (coming.text if coming else "")
        if self.desk.keeping.mark:
            words = f"{self.desk.keeping.mark} · {words}"
        keys = key_row(shown(self.KEYS, self), width).text.strip()
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
