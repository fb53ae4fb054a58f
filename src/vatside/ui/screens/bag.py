"""A form of the shelf: a bag, a new one, or the prices."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from textual import on
from textual.app import ComposeResult

from vatside.ui.bags import Draft, NewBag
from vatside.ui.screens.beside import Beside
from vatside.ui.view.keys import Key, key_row
from vatside.ui.view.rows import Row, Span, clean, row, wrap
from vatside.ui.view.signs import Signs
from vatside.ui.widgets.entry import Entry
from vatside.ui.widgets.form import Form


class BagScreen(Beside):
    """Enter goes from row to row and, at the last one, back; Escape goes back at once. What was typed counts."""

    def __init__(self, draft: Draft, signs: Signs, left: Callable[[str], None]) -> None:
        super().__init__(signs)
        self.draft = draft
        self.left = left
        self.trouble = ""
        self._warned = False

    def compose(self) -> ComposeResult:
        """A form between head and keys."""
        yield self.too_small()
        yield self.part("head", lambda width: self.head_rows(clean(self.draft.title), "the shelf", width))
        yield Form(id="form", signs=self.signs)
        yield self.part("waits", self.running)
        yield self.part("keys", self._keys)

    def on_mount(self) -> None:
        """Begin at the first row."""
        self.form.border_title = "Write down"
        self._show()
        self.call_after_refresh(self.form.take)

    @property
    def form(self) -> Form:
        """The form."""
        return self.query_one(Form)

    def _show(self) -> None:
        self.form.show(self.draft.rows(), self.draft.wrong)
        self.refill("keys")

    def _keys(self, width: int) -> Sequence[Row]:
        if self.trouble:
            return tuple(row(Span(f" {line}", "care")) for line in wrap(clean(self.trouble), width - 2))
        back = "put it on the shelf" if self._is_new else "back"
        return (key_row((Key("Enter ↓", "next"), Key("↑", "before"), Key("Esc", back, "back")), width),)

    @property
    def _is_new(self) -> bool:
        return isinstance(self.draft, NewBag) and bool(self.draft.typed)

    @on(Entry.Typed)
    def _typed(self, event: Entry.Typed) -> None:
        self.trouble, self._warned = "", False
        self.draft.type(event.path, event.text)
        self._show()

    @on(Form.Left)
    def _left(self) -> None:
        self.trouble = self.draft.settle() or self.trouble
        self._show()

    @on(Form.Done)
    def _done(self) -> None:
        self.action_back()

    def action_back(self) -> None:
        """Go back; a row that cannot be read is said once before it is left out."""
        wrong = next(iter(self.draft.wrong.values()), None)
        if wrong is not None and not self._warned:
            self._warned = True
            self.trouble = f"{wrong.words}. Escape once more leaves that out."
            self._show()
            return
        self.draft.wrong.clear()
        words = self.draft.settle()
        if self._is_new and isinstance(self.draft, NewBag):
            words = self.draft.put_on_shelf()
        self.dismiss()
        self.left(words)

    def action_help(self) -> None:
        """The words below the form explain each row."""
