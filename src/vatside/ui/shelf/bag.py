"""A form of the shelf: a bag, a new one, the prices, or two strips."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from textual import on
from textual.app import App, ComposeResult

from vatside.bench.shelf.bag_draft import BagDraft
from vatside.bench.shelf.draft import ShelfDraft
from vatside.bench.shelf.shelf_desk import Powders
from vatside.shelf.shelf import Owned
from vatside.ui.base.keymap import key_row, shown
from vatside.ui.base.side_screen import SideScreen
from vatside.ui.shelf.keys import BAG_KEYS
from vatside.ui.text.rows import Row, Span, row, wrap
from vatside.ui.text.signs import Signs
from vatside.ui.widgets.entry import Entry
from vatside.ui.widgets.form import Form
from vatside.units.one_line import clean


class BagScreen(SideScreen):
    """Enter goes from row to row and, at the last one, back; Escape goes back at once. What was typed counts."""

    KEYS = BAG_KEYS
    DEFAULT_CSS = """
    BagScreen #working { height: auto; max-height: 6; }
    """

    def __init__(self, draft: ShelfDraft, signs: Signs, left: Callable[[str], None]) -> None:
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
        yield self.part("working", self._working)
        yield self.waits()
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
        self.refill("working", "keys")

    def _working(self, width: int) -> Sequence[Row]:
        lines = [part for line in self.draft.working() for part in wrap(clean(line), width - 2)]
        return tuple(row(Span(f" {line}", "faint")) for line in lines)

    def _keys(self, width: int) -> Sequence[Row]:
        if self.trouble:
            return tuple(row(Span(f" {line}", "care")) for line in wrap(clean(self.trouble), width - 2))
        return (key_row(shown(self.KEYS, self), width),)

    @on(Entry.Aside)
    def _aside(self, event: Entry.Aside) -> None:
        if event.what == "working":
            self.action_strips()
        elif event.what == "help":
            self.action_help()

    @property
    def can_strike(self) -> bool:
        """Tell a bag, whose strike two strips can tell."""
        return isinstance(self.draft, BagDraft)

    def action_strips(self) -> None:
        """Work the strike of the bag out, from two strips."""
        if isinstance(self.draft, BagDraft):
            self.trouble = self.draft.settle()
            self.draft.typed.pop("strike", None)
            show_strips(self.app, self.draft.powders, self.draft.owned, self.signs, self._struck)

    def _struck(self, words: str) -> None:
        self.trouble = words
        self._show()

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
        """Go back; what cannot be read is said once before it is left out, what is doubtful before it is noted."""
        asked = self._asked()
        if asked and not self._warned:
            self._warned = True
            self.trouble = asked
            self._show()
            return
        words = self.draft.finish()
        self.dismiss()
        self.left(words)

    def _asked(self) -> str:
        wrong = next(iter(self.draft.wrong.values()), None)
        left_out = f"{wrong.words}. Escape once more leaves that out." if wrong is not None else ""
        return f"{left_out} {self.draft.question}".strip()


def show_strips(app: App[object], powders: Powders, owned: Owned, signs: Signs, left: Callable[[str], None]) -> None:
    """Ask for two strips, of the bag in hand and of one that is known."""
    from vatside.bench.shelf.strips_draft import StripsDraft

    app.push_screen(BagScreen(StripsDraft(powders, owned), signs, left))
