"""A window of words to read: help, the log, what to look out for."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Vertical

from vatside.ui.base.keymap import Key
from vatside.ui.widgets.lines import Fill, Lines
from vatside.ui.windows.window import Window


class ReadingWindow(Window[None]):
    """Words that scroll; Escape, Enter or the key that opened it closes it."""

    KEYS = (
        Key("up down", "", "scroll", "scroll"),
        Key("escape,enter,space,question_mark,l", "leave", "back", "back", means="log"),
    )

    def __init__(self, title: str, fill: Fill, *, at_end: bool = False) -> None:
        super().__init__()
        self.title_words = title
        self.fill = fill
        self.at_end = at_end

    def compose(self) -> ComposeResult:
        """One region."""
        with Vertical(classes="window tall") as window:
            window.border_title = self.title_words
            window.border_subtitle = self.key_words
            yield Lines(self.fill, id="reading")

    def on_mount(self) -> None:
        """Take the keys; a log begins at its end."""
        lines = self.query_one(Lines)
        lines.focus()
        if self.at_end:
            self.call_after_refresh(lines.scroll_end, animate=False)

    def action_leave(self) -> None:
        """Close."""
        self.dismiss()
