"""Doing a day again: the offers, each taken over or left by one key."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from textual.app import ComposeResult

from vatside.days.repeat_choices import Repeating
from vatside.plan.plan import Plan
from vatside.ui.base.side_screen import SideScreen
from vatside.ui.past.keys import REPEAT_KEYS, REPEAT_WORDS
from vatside.ui.past.repeat_rows import FIBRE, TITLE, repeat_rows
from vatside.ui.text.rows import Row
from vatside.ui.text.signs import Signs
from vatside.units import Problem, show_mass


class RepeatScreen(SideScreen):
    """A past day on its way to a new one."""

    KEYS = REPEAT_KEYS
    WORDS = REPEAT_WORDS

    def __init__(self, choice: Repeating, signs: Signs, begin: Callable[[Plan], None]) -> None:
        super().__init__(signs)
        self.choice = choice
        self._begin_new = begin

    def compose(self) -> ComposeResult:
        """The offers between head and keys."""
        yield self.too_small()
        yield self.part("head", lambda width: self.head_rows("Again", self.choice.old.title, width))
        yield self.part("list", self._rows, keys=True)
        yield from self.bottom()

    def on_mount(self) -> None:
        """Begin at the first offer."""
        lines = self.parts["list"]
        lines.focus()
        lines.key = self.choice.offers[0].path if self.choice.offers else FIBRE

    def _rows(self, width: int) -> Sequence[Row]:
        choice = self.choice
        return repeat_rows(
            choice.title, show_mass(choice.grams), choice.scaled_words(choice.grams),
            choice.blue(self.signs.arrows[-1]), choice.offers, choice.chosen, choice.becomes, width, self.signs,
        )  # fmt: skip

    def action_turn(self) -> None:
        """Take the line in hand over, or leave it; ask for what is no offer."""
        key = self.parts["list"].key
        if key == FIBRE:
            self.action_fibre()
        elif key == TITLE:
            self._ask_title()
        else:
            self.choice.turn(key)
            self.refill("list")

    def action_all(self) -> None:
        """Take everything over, or nothing."""
        self.choice.turn_all()
        self.refill("list")

    def action_fibre(self) -> None:
        """Ask how much fibre there is this time."""

        def means(text: str) -> tuple[bool, str]:
            found = self.choice.read_grams(text)
            return (False, found.text) if isinstance(found, Problem) else (True, self.choice.scaled_words(found))

        def answered(text: str | None) -> None:
            found = self.choice.read_grams(text or "")
            if not isinstance(found, Problem):
                self.choice.grams = found
                self.refill("list")

        self.ask("How much fibre in all, air-dry?", means, answered, show_mass(self.choice.grams))

    def _ask_title(self) -> None:
        def means(text: str) -> tuple[bool, str]:
            found = self.choice.read_title(text)
            return (False, found.text) if isinstance(found, Problem) else (True, "the new day's name")

        def answered(text: str | None) -> None:
            if text:
                self.choice.title = text.strip()
                self.refill("list")

        self.ask("What is the new day called?", means, answered, self.choice.title)

    def action_begin(self) -> None:
        """Begin the new day."""
        self._begin_new(self.choice.plan)
