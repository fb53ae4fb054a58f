"""A Textual app with one clock: a Digits, written once a second."""

from __future__ import annotations

import time

from textual.app import App, ComposeResult
from textual.widgets import Digits


class OneDigits(App[None]):
    """Counts a wait down."""

    def compose(self) -> ComposeResult:
        """One clock."""
        yield Digits("20:00")

    def on_mount(self) -> None:
        """Let it go."""
        self.end = time.monotonic() + 1200
        self.set_interval(1.0, self.show)

    def show(self) -> None:
        """Write what is left."""
        minutes, seconds = divmod(round(self.end - time.monotonic()), 60)
        self.query_one(Digits).update(f"{minutes:02}:{seconds:02}")


OneDigits().run()
