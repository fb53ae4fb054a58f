"""The form of a stage: labels, fields and what stands behind them, with one line of words below."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.message import Message
from textual.widgets import Input

from vatside.forms.field import FormRow, Wrong
from vatside.ui.text.form_rows import label_rows, label_width, note_rows, note_width, words
from vatside.ui.text.rows import UNICODE, Row, Signs
from vatside.ui.widgets.entry import Entry
from vatside.ui.widgets.lines import Lines


class Fields(VerticalScroll, can_focus=False, inherit_bindings=False):
    """Scrolls after the cursor only: the arrows go from field to field."""


class Form(Vertical):
    """A pool of fields that is turned to the rows of one stage after the other."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up,shift+tab", "step(-1)", show=False),
        Binding("down,tab", "step(1)", show=False),
        Binding("pageup", "step(-5)", show=False),
        Binding("pagedown", "step(5)", show=False),
    ]

    class Left(Message):
        """A field was left, or Enter was pressed in it."""

        def __init__(self, path: str) -> None:
            super().__init__()
            self.path = path

    class Done(Message):
        """Enter was pressed in the last field."""

    class Ended(Message):
        """There is no field further down."""

    def __init__(self, *, id: str | None = None, signs: Signs = UNICODE) -> None:  # noqa: A002
        super().__init__(id=id, classes="framed")
        self.rows: tuple[FormRow, ...] = ()
        self.problems: Mapping[str, Wrong] = {}
        self.at = ""
        """The path of the field in hand, also while the form is not."""
        self.signs = signs
        self._emptied = False
        """Someone tried to leave the choice in hand without one: its names are listed."""
        self._label_width = self._note_width = 0
        self.border_title = "Set"

    def compose(self) -> ComposeResult:
        """Two columns of words round one of fields."""
        with Fields(id="fields"), Horizontal():
            yield Lines(self._labels, id="labels", keys=False)
            yield Vertical(id="entries")
            yield Lines(self._notes, id="notes", keys=False)
        yield Lines(self._words_below, id="words", keys=False)

    @property
    def entries(self) -> list[Entry]:
        """The fields in use, in order."""
        return [entry for entry in self.query(Entry) if entry.path]

    def show(self, rows: Sequence[FormRow], problems: Mapping[str, Wrong]) -> None:
        """Show other rows; the field being typed in is never written to."""
        old, self.rows, self.problems = self.rows, tuple(rows), problems
        self._emptied = False
        box = self.query_one("#entries", Vertical)
        held = self._held_path
        pool = list(box.query(Entry))
        for entry, row in zip(pool, self.rows, strict=False):
            entry.give(row.field, row.text, row.hint)
        for number, entry in enumerate(pool):
            if number >= len(self.rows):
                entry.field = None
            entry.display = number < len(self.rows)
        box.mount(*(Entry(row.field, row.text, row.hint) for row in self.rows[len(pool) :]))
        self._follow(held)
        if len(old) != len(self.rows):
            for name in ("labels", "entries", "notes"):
                self.query_one(f"#{name}").styles.height = max(len(self.rows), 1)
        self._fit()
        self._words()

    def on_resize(self) -> None:
        """Share the new width out; a form that stood hidden knows only now what of it can be seen."""
        self._fit()
        self._see()

    def _see(self) -> None:
        """Bring the field in hand into view."""
        if self._in_hand is not None:
            self._in_hand.scroll_visible(animate=False)

    def _fit(self) -> None:
        """Give the labels the columns that they need, the fields the rest."""
        room = self.query_one("#fields").scrollable_content_region.width
        width = label_width(self.rows, room or self.app.size.width)
        if width != self._label_width:
            self._label_width = width
            self.query_one("#labels").styles.width = width
        notes = note_width(self.rows, self.problems, self.signs)
        if notes != self._note_width:
            self._note_width = notes
            self.query_one("#notes").styles.width = notes

    def _follow(self, held: str) -> None:
        """Keep the cursor on the field it was in when the rows moved under it."""
        paths = [row.path for row in self.rows]
        if self.at not in paths:
            self.at = paths[0] if paths else ""
        if held and held != self._held_path:
            self.take(held if held in paths else self.at)

    @property
    def _held_path(self) -> str:
        """The path of the field that has the cursor; empty if none has."""
        return self._in_hand.path if self._in_hand else ""

    def _words(self) -> None:
        for lines in self.query(Lines):
            lines.refill()

    @property
    def _at(self) -> str:
        return self.at if self._held else ""

    def _labels(self, width: int) -> Sequence[Row]:
        return label_rows(self.rows, self._at, width, self.signs)

    def _notes(self, _width: int) -> Sequence[Row]:
        return note_rows(self.rows, self.problems, self.signs)

    def _words_below(self, width: int) -> Sequence[Row]:
        in_hand = next((row for row in self.rows if row.path == self._at), None)
        return words(in_hand, self.problems, width, self._label_width, listed=self._emptied)

    @property
    def _held(self) -> bool:
        return self._in_hand is not None

    @property
    def _in_hand(self) -> Entry | None:
        """The field that has the cursor; asked for each row, so not by looking through all fields."""
        focused = self.screen.focused
        return focused if isinstance(focused, Entry) and self in focused.ancestors else None

    def take(self, path: str = "") -> None:
        """Put the cursor into a field, or into the one that was in hand last."""
        entries = self.entries
        targets = [entry for entry in entries if entry.path == (path or self.at)] or entries
        if targets:
            self.screen.set_focus(targets[0])

    def action_step(self, by: int) -> None:
        """Go to the field so many rows further."""
        entries = self.entries
        at = next((number for number, entry in enumerate(entries) if entry.has_focus), 0)
        if by > 0 and at >= len(entries) - 1:
            self.post_message(self.Ended())
            return
        self.screen.set_focus(entries[max(min(at + by, len(entries) - 1), 0)])

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """Mark the field in hand."""
        self._frame()
        if isinstance(event.widget, Entry):
            self.at = event.widget.path
            self._emptied = False
            self._words()
            self.call_after_refresh(self._see)  # rows that came with another stage have their places only then

    def on_descendant_blur(self) -> None:
        """Mark the frame once the form is left."""
        self._frame()

    def _frame(self) -> None:
        # Where a rule asks for `:focus-within`, the library styles every field anew at each step from field to field.
        self.set_class(self._held, "-held")

    @on(Entry.Emptied)
    def _list(self, event: Entry.Emptied) -> None:
        event.stop()
        self._emptied = event.path == self._at
        self._words()

    @on(Input.Submitted)
    def _entered(self, event: Input.Submitted) -> None:
        event.stop()
        if isinstance(event.input, Entry):
            self.post_message(self.Left(event.input.path))
            if event.input is self.entries[-1]:
                self.post_message(self.Done())
            else:
                self.action_step(1)

    @on(Input.Blurred)
    def _left(self, event: Input.Blurred) -> None:
        event.stop()
        if isinstance(event.input, Entry) and event.input.path:
            self.post_message(self.Left(event.input.path))
        self._words()
