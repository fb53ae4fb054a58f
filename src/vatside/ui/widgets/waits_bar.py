"""The running waits at the bottom edge; one of them is in hand."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from vatside.ui.text.rows import Row
from vatside.ui.text.signs import Signs
from vatside.ui.widgets.lines import Lines

if TYPE_CHECKING:
    from vatside.bench.wait_view import WaitView


class WaitsBar(Lines):
    """Every wait with what is left of it; the keys for waits act on the one in hand."""

    def __init__(
        self, signs: Signs, nothing: Sequence[Row] | None = None, *, most: int | None = None, marked: bool = True
    ) -> None:
        """`nothing`: what stands here while nothing runs; without it, how to start something."""
        super().__init__(self._rows, id="waits", keys=False)
        self.signs = signs
        self.nothing = nothing
        self.most = most
        """Rows at most; None: as many as a screen of this height has room for."""
        self.marked = marked
        """The wait in hand is marked."""
        self.waits: tuple[WaitView, ...] = ()
        self.chosen: str | None = None
        """The wait chosen by its number; None: the one that needs it first."""
        self.suggested: Callable[[], str | None] = lambda: None
        """Gives the wait that comes to hand unless another one was chosen."""
        self._rung: frozenset[str] = frozenset()

    def look_at(self, waits: Sequence[WaitView]) -> None:
        """Know the waits as they stand; one that begins to ring comes to hand."""
        self.waits = tuple(waits)
        rung = frozenset(wait.id for wait in waits if wait.ringing)
        if rung - self._rung:
            self.chosen = None
        self._rung = rung

    def take_in_hand(self, number: int) -> None:
        """Take a wait into hand by its number."""
        self.chosen = next((wait.id for wait in self.waits if wait.number == number), self.chosen)

    @property
    def in_hand(self) -> WaitView | None:
        """The wait chosen by its number, or else the one suggested, or the one that needs it first."""
        by_id = {wait.id: wait for wait in self.waits}
        return by_id.get(self.chosen or "") or by_id.get(self.suggested() or "") or next(iter(self.waits), None)

    def _rows(self, width: int) -> Sequence[Row]:
        from vatside.ui.text.wait_rows import wait_rows  # late: the list of days stands before any wait is shown

        if not self.waits and self.nothing is not None:
            return self.nothing
        wait = self.in_hand if self.marked else None
        return wait_rows(self.waits, wait.id if wait else None, width, self.most or self._room, self.signs)

    @property
    def _room(self) -> int:
        """Rows for the waits on a screen of this height."""
        height = self.screen.size.height
        return 2 if height < 24 else 3 if height < 30 else 6
