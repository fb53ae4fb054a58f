"""One look at the clocks, four times a second: what happened meanwhile, and whether to ring."""

from __future__ import annotations

from contextlib import suppress

from attrs import frozen

from vatside.bench.desk import Desk
from vatside.bench.wait_view import WaitView
from vatside.clocks.watch import ClockWatch, Happening, Stepped, look, missed_sentence
from vatside.log.moment import Moment
from vatside.storage.session_file import ReadOnly

RING_EVERY = 4.0
"""Seconds between two rings of an alarm that nobody has heard."""
LOOK_EVERY = 2.0
"""Seconds between two looks at the file, for what another program did to it. Ours, no source."""
RETRY_EVERY = 5.0
"""Seconds between two attempts to write what the disk refused."""


@frozen
class Beat:
    """What one look brought."""

    now: Moment
    words: str = ""
    """A sentence about sleep, a stall or a clock that was set."""
    ring: bool = False
    ringing: tuple[WaitView, ...] = ()
    """What wants to be heard, whether the bell sounds at this look or not."""
    ask: Stepped | None = None
    """The dyer must say what happened."""


class Ticker:
    """Compares the clocks with the look before; counts nothing."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.watch = ClockWatch(desk.clock.counts_sleep)
        self.before = look(desk.clock)
        self._rang = float("-inf")
        self._tried = self._looked = self.before.moment.elapsed

    def beat(self) -> Beat:
        """Look at the clocks."""
        before, self.before = self.before, look(self.desk.clock)
        now = self.before.moment
        words, ask = "", None
        for happening in self.watch.compare(before, self.before):
            words = f"{words} {happening.sentence}".strip()
            ask = happening if isinstance(happening, Stepped) and happening.ask else ask
            self._log(happening, now)
        if words:
            words = f"{words} {missed_sentence(self.desk.state.waits, before.moment, now)}".strip()
        words = f"{words} {self._look(now)}".strip()
        self._retry(now)
        ringing = self._ringing(now)
        return Beat(now, words, self._ring(now, bool(ringing)), ringing, ask)

    def _log(self, happening: Happening, now: Moment) -> None:
        with suppress(ReadOnly):
            self.desk.keeping.log(happening.event(), now)

    def _look(self, now: Moment) -> str:
        """Look at the file now and then: whoever changes it should not be noticed only on leaving."""
        if now.elapsed - self._looked < LOOK_EVERY:
            return ""
        self._looked = now.elapsed
        return self.desk.keeping.look()

    def _retry(self, now: Moment) -> None:
        if self.desk.keeping.unsaved and now.elapsed - self._tried >= RETRY_EVERY:
            self._tried = now.elapsed
            self.desk.keeping.retry(now)

    def _ringing(self, now: Moment) -> tuple[WaitView, ...]:
        # Nobody could quiet it here; where a day goes on in another window, that one rings.
        if self.desk.keeping.readonly:
            return ()
        return tuple(wait for wait in self.desk.waits(now) if wait.ringing)

    def _ring(self, now: Moment, anything: bool) -> bool:
        if not anything:
            self._rang = float("-inf")
            return False
        if now.elapsed - self._rang < RING_EVERY:
            return False
        self._rang = now.elapsed
        return True
