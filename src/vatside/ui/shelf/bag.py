"""One bag of the shelf: the form that it is written down in, and from which bag something came."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from textual import on
from textual.app import App, ComposeResult

from vatside.bench.bag_draft import BagDraft
from vatside.bench.shelf_desk import ShelfDesk, ShelfDraft
from vatside.bench.strips_draft import StripsDraft
from vatside.plan.figure_text import show_weighed
from vatside.shelf.booking import Question
from vatside.shelf.shelf import Owned
from vatside.ui.base.keymap import ANYWHERE, HELP, LEAVE, Key, Table, chooses, only
from vatside.ui.base.side_screen import SideScreen
from vatside.ui.text.rows import Row, Signs, paragraph
from vatside.ui.widgets.entry import Entry
from vatside.ui.widgets.form import Form
from vatside.ui.windows.ask import Other, choose
from vatside.units import show_percent
from vatside.units.show import clean

ELSEWHERE = "0"
"""The key of what stands on no shelf."""


def ask_which(app: App[Any], powders: ShelfDesk, done: Callable[[str], None]) -> None:
    """Ask about what was used today, and note the answer; `done` is given what there is to say."""
    questions = powders.which()
    if not questions:
        done("Nothing that stands on the shelf was used today.")
    elif len(questions) == 1 or powders.questions:
        _ask_bag(app, powders, questions[0], done)
    else:
        _ask_use(app, powders, questions, done)


def _ask_use(app: App[Any], powders: ShelfDesk, questions: tuple[Question, ...], done: Callable[[str], None]) -> None:
    """Ask which booking is to be put right."""
    title = "Booked today: which is to be put right?"
    bookings = _bookings(powders, questions)
    choose(app, title, bookings, lambda key: _ask_bag(app, powders, questions[int(key) - 1], done))


def _bookings(powders: ShelfDesk, questions: tuple[Question, ...]) -> tuple[Other, ...]:
    return tuple(
        (
            str(number),
            f"{show_weighed(asked.material, asked.grams)} of {clean(powders.shelf[asked.uses[0].item].name)}",
            "",
        )
        for number, asked in enumerate(questions, start=1)
    )


def _ask_bag(app: App[Any], powders: ShelfDesk, question: Question, done: Callable[[str], None]) -> None:
    bags = question.bags(powders.shelf)

    def take(key: str) -> None:
        done(powders.answer(question, "" if key == ELSEWHERE else bags[int(key) - 1].item.id))

    rows = [
        (
            str(number),
            clean(owned.name),
            f"{_left(owned)}, {show_percent(100 * owned.purity)}{_booked(owned, question)}",
        )
        for number, owned in enumerate(bags, start=1)
    ]
    rows.append((ELSEWHERE, "none of these", "it stood on no shelf"))
    choose(app, f"{question.words}: from which bag?", rows, take)


def _left(owned: Owned) -> str:
    return "finished" if owned.finished else f"{show_weighed(owned.item.material, owned.left)} left"


def _booked(owned: Owned, question: Question) -> str:
    return "; booked from this one" if question.uses[0].item == owned.item.id else ""


WRITE = "Write down"

BAG_KEYS: Table = (
    Key("enter", "", "next", "the next row; after the last one, back", WRITE, typed=True),
    Key("up,shift+tab down,tab", "", "another row", "the row before, the row after; Tab as well", WRITE, typed=True),
    Key(
        "left right", "", "choose", "turn a choice, or type its first letter", WRITE,
        when=only(chooses), typed=True,
    ),
    Key(
        "equals_sign", "strips", "two strips", "how strong it is, worked out from two strips", WRITE,
        when=only(lambda screen: screen.can_strike), typed=True,
    ),
    Key("escape", "back", lambda screen: screen.draft.backwards, "back; what was typed counts", ANYWHERE, typed=True),
    *LEAVE, HELP,
)  # fmt: skip


class BagScreen(SideScreen):
    """Enter goes from row to row and, at the last one, back; Escape goes back at once. What was typed counts."""

    KEYS = BAG_KEYS

    def __init__(self, draft: ShelfDraft, signs: Signs, left: Callable[[str], None]) -> None:
        super().__init__(signs)
        self.draft = draft
        self.left = left
        self.trouble = ""
        self.key_line.resting = lambda width: paragraph(clean(self.trouble), width, "care")
        self._warned = False

    def regions(self) -> ComposeResult:
        """A form between head and keys."""
        yield self.part("head", lambda width: self.head_rows(clean(self.draft.title), "the shelf", width))
        yield Form(id="form", signs=self.signs)
        yield self.part("working", self._working)

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
        return [line for words in self.draft.working() for line in paragraph(clean(words), width, "faint")]

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
        self._show()
        self.say(words, 12)

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


def show_strips(app: App[object], powders: ShelfDesk, owned: Owned, signs: Signs, left: Callable[[str], None]) -> None:
    """Ask for two strips, of the bag in hand and of one that is known."""
    app.push_screen(BagScreen(StripsDraft(powders, owned), signs, left))
