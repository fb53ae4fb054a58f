"""A window to choose one of a few things."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.app import ComposeResult
from textual.containers import Vertical

from vatside.ui.base.keymap import Key
from vatside.ui.text.rows import Row, Span, left, row, wrap
from vatside.ui.widgets.lines import Lines
from vatside.ui.windows.window import Window
from vatside.units.one_line import clean

Other = tuple[str, str, str]
"""A key, what it does, and in more words."""


class ChooseWindow(Window[str]):
    """One of a few things, by its key or with the arrows."""

    KEYS = (
        Key("up down", "", "another", "another one"),
        Key("enter,space", "chosen", "this one", "take the one in hand"),
        Key("escape,b", "answer('')", "back", "close; nothing is done", means="back"),
    )

    def __init__(self, title: str, others: Sequence[Other]) -> None:
        super().__init__()
        self.asked = title
        self.others = tuple(others)

    def compose(self) -> ComposeResult:
        """The list."""
        with Vertical(classes="window") as window:
            # A border's title reads markup: what a person typed must not become any.
            window.border_title = clean(self.asked).replace("[", r"\[")
            window.border_subtitle = self.key_words
            yield Lines(self._rows, id="caution")

    def on_mount(self) -> None:
        """Begin at the first."""
        lines = self.query_one(Lines)
        lines.focus()
        lines.key = self.others[0][0]

    def _rows(self, width: int) -> Sequence[Row]:
        return other_rows(self.others, width)

    def on_key(self, event: events.Key) -> None:
        """Take the one whose key was pressed."""
        if event.key in {key for key, _, _ in self.others}:
            event.stop()
            self.dismiss(event.key)

    def action_chosen(self) -> None:
        """Take the one in hand."""
        self.dismiss(self.query_one(Lines).key)

    def action_answer(self, answer: str) -> None:
        """Close."""
        self.dismiss(answer)


def other_rows(others: Sequence[Other], width: int) -> tuple[Row, ...]:
    """Print each with its key; the words below it give way where there is no room."""
    rows = []
    for key, name, words in others:
        rows.append(row(Span(f" {left(key, 3)}", "key"), Span(name, "strong"), key=key))
        rows += [row(Span(f"    {line}", "faint"), key=key) for line in wrap(words, width - 6)]
    return tuple(rows)
