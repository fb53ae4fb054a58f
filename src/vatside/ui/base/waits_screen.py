"""What every screen of a session shares: the waits at the bottom edge, and the sentence that was just said."""

from __future__ import annotations

from collections.abc import Sequence

from vatside.bench.glance import Glance
from vatside.bench.wait_view import WaitView
from vatside.log.moment import Moment
from vatside.ui.base.acts_screen import Bench
from vatside.ui.base.screen import SAID
from vatside.ui.text.rows import Row, Span, row, wrap
from vatside.ui.text.signs import Signs
from vatside.ui.text.wait_rows import wait_rows
from vatside.units.one_line import clean


class Watching(Bench):
    """The running waits and the last words, as regions of any screen."""

    signs: Signs
    glance: Glance
    chosen: str | None = None
    """The wait chosen by its number; None: the one that needs it first."""
    said: tuple[str, float] = ("", 0.0)
    """The sentence that stands where the keys are, and until when."""
    _rung: frozenset[str] = frozenset()

    def say(self, words: str, seconds: float = SAID) -> None:
        """Say a sentence for some seconds, where the keys stand."""
        self.said = (words, self.desk.clock.now().elapsed + seconds)
        self.refill("keys")

    def said_rows(self, width: int) -> tuple[Row, ...]:
        """Give what was just said; nothing once its time is over."""
        words, until = self.said
        if not words or self.glance.now.elapsed >= until:
            return ()
        return tuple(row(Span(f" {line}", "said")) for line in wrap(clean(words), width - 2))

    def running(self, width: int) -> Sequence[Row]:
        """Say what runs."""
        wait = self.wait_in_hand
        most = 2 if self.size.height < 24 else 3 if self.size.height < 30 else 6
        return wait_rows(self.glance.waits, wait.id if wait else None, width, most, self.signs)

    @property
    def wait_in_hand(self) -> WaitView | None:
        """The wait chosen by number, or the one that needs it first."""
        chosen = next((wait for wait in self.glance.waits if wait.id == self.chosen), None)
        return chosen or next(iter(self.glance.waits), None)

    @property
    def is_ringing(self) -> bool:
        """Tell whether an alarm rings."""
        return bool(self.glance.ringing)

    def look(self, now: Moment) -> None:
        """Look at the clock; a wait that begins to ring comes to hand."""
        self.glance = self.desk.glance(now)
        rung = frozenset(wait.id for wait in self.glance.ringing)
        if rung - self._rung:
            self.chosen = None
        self._rung = rung

    def action_wait(self, number: int) -> None:
        """Choose a wait by its number."""
        self.chosen = next((wait.id for wait in self.glance.waits if wait.number == number), self.chosen)
        self.refill("waits", "keys")
