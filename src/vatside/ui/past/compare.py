"""Two days side by side."""

from __future__ import annotations

from collections.abc import Sequence

from textual.app import ComposeResult

from vatside.days.compare import Row as Pair
from vatside.days.compare import compare
from vatside.days.day_record import day_record
from vatside.log.session import Session
from vatside.ui.base.side_screen import SideScreen
from vatside.ui.past.compare_rows import compare_rows, head_rows
from vatside.ui.past.keys import COMPARE_KEYS, COMPARE_WORDS
from vatside.ui.text.rows import Row
from vatside.ui.text.signs import Signs


class CompareScreen(SideScreen):
    """What differs between two days, and what does not."""

    KEYS = COMPARE_KEYS
    WORDS = COMPARE_WORDS

    def __init__(self, left: Session, right: Session, signs: Signs) -> None:
        super().__init__(signs)
        self.sides = (day_record(left), day_record(right))
        self.every = True
        self.pairs: tuple[Pair, ...] = compare(*self.sides)

    def compose(self) -> ComposeResult:
        """One long list between head and keys."""
        yield self.too_small()
        yield self.part("head", self._head)
        yield self.part("list", self._rows, keys=True)
        yield from self.bottom()

    def on_mount(self) -> None:
        """Take the keys."""
        self.parts["list"].focus()

    def _head(self, width: int) -> Sequence[Row]:
        one, other = (f"{side.plan.title}, {side.day}" for side in self.sides)
        unlike = sum(pair.differs for pair in self.pairs)
        return head_rows((one, other), unlike, len(self.pairs), width, self.signs)

    def _rows(self, width: int) -> Sequence[Row]:
        return compare_rows(self.pairs, self.every, width, self.signs)

    def action_swap(self) -> None:
        """Change sides."""
        left, right = self.sides
        self.sides = (right, left)
        self.pairs = compare(*self.sides)
        self.refill("head", "list")

    def action_all(self) -> None:
        """Show what is the same as well, or not."""
        self.every = not self.every
        self.refill("list")

    def action_apart(self) -> None:
        """Show both blue cards, and why the blues differ."""
        from vatside.ui.past.card_rows import apart_rows

        one, other = self.sides
        self.read("The same blue?", lambda width: apart_rows(one, other, width))
