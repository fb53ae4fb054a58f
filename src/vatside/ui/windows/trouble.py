"""A window that says what is wrong and offers what can be done, one key each."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.app import ComposeResult
from textual.containers import Vertical

from vatside.ui.base.keymap import Key, key_row, shown
from vatside.ui.text.rows import BLANK, Row
from vatside.ui.widgets.lines import Fill, Lines
from vatside.ui.windows.window import Window

Choice = tuple[Key, str]
"""A key, and what the window answers then."""


class TroubleWindow(Window[str]):
    """Enter or Escape closes it without doing anything."""

    KEYS = (
        Key("escape,enter,space", "answer('')", lambda screen: "only look" if screen.choices else "close", "close"),
    )

    def __init__(self, title: str, fill: Fill, choices: Sequence[Choice] = ()) -> None:
        super().__init__()
        self.title_words = title
        self.fill = fill
        self.choices = tuple(choices)

    def compose(self) -> ComposeResult:
        """The words, and the keys below."""
        with Vertical(classes="window") as window:
            window.border_title = self.title_words
            yield Lines(lambda width: (*self.fill(width), BLANK), id="caution")
            yield Lines(self._keys, id="answers", keys=False)

    def on_mount(self) -> None:
        """Take the keys."""
        self.query_one(Lines).focus()

    def _keys(self, width: int) -> Sequence[Row]:
        return (key_row(shown((*(key for key, _ in self.choices), *self.KEYS), self), width),)

    def on_key(self, event: events.Key) -> None:
        """Answer with what a key stands for."""
        found = next((answer for key, answer in self.choices if key.keys == event.key), None)
        if found is not None:
            event.stop()
            self.dismiss(found)

    def action_answer(self, answer: str) -> None:
        """Close."""
        self.dismiss(answer)
