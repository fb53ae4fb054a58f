"""Two days side by side."""

from __future__ import annotations

from collections.abc import Sequence

from textual.app import ComposeResult

from vatside.days.compare import Row as Pair
from vatside.days.compare import compare
from vatside.log.fold import fold
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
        self.sides = (left, right)
        self.every = True
        self.pairs: tuple[Pair, ...] = compare(left, right)

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
        one, other = (f"{fold(side).plan.title}, {side.created.astimezone():%Y-%m-%d}" for side in self.sides)
        unlike = sum(pair.differs for pair in self.pairs)
        return head_rows((one, other), unlike, len(self.pairs), width, self.signs)

    def _rows(self, width: int) -> Sequence[Row]:
        return compare_rows(self.pairs, self.every, width, self.signs)

    def action_swap(self) -> None:
        """Change sides."""
        left, right = self.sides
        self.sides = (right, left)
        self.pairs = compare(right, left)
        self.refill("head", "list")

    def action_all(self) -> None:
        """Show what is the same as well, or not."""
        self.every = not self.every
        self.refill("list")

    def action_apart(self) -> None:
        """Show both blue cards, and why the blues differ."""
        from vatside.days.blue_card import blue_card
        from vatside.ui.past.card_rows import apart_rows

        one, other = (blue_card(side) for side in self.sides)
        self.read("The same blue?", lambda width: apart_rows(one, other, width))
