"""The smallest Textual app: one label."""

from __future__ import annotations

from textual.app import App, ComposeResult
from textual.widgets import Label


class OneLabel(App[None]):
    """Paints one word."""

    def compose(self) -> ComposeResult:
        """One label."""
        yield Label("Painted")


OneLabel().run()
