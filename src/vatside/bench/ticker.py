"""One look at the clocks, four times a second: what happened meanwhile, whether to ring, what a first window did.

In a second window on a day, what the first one does appears too, and once that closes the day can go on there.
"""

from __future__ import annotations

from contextlib import suppress

from attrs import frozen

from vatside.bench.desk import Desk
from vatside.bench.glance import WaitView
from vatside.clocks.clock import ClockWatch, Happening, Stalled, Stepped, look, missed_sentence
from vatside.log.fold import fold
from vatside.log.waits import Moment, is_running
from vatside.storage.files import Fs, Stamp
from vatside.storage.flaws import SessionError
from vatside.storage.other_writers import BUSY, is_free
from vatside.storage.places import journal_path
from vatside.storage.session_file import ReadOnly
from vatside.storage.session_text import load

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


class Bell:
    """Rings now and then, as long as anything wants to be heard."""

    def __init__(self) -> None:
        self._rang = float("-inf")

    def rings(self, now: Moment, anything: bool) -> bool:
        """Tell whether to ring now."""
        if not anything:
            self._rang = float("-inf")
        elif now.elapsed - self._rang >= RING_EVERY:
            self._rang = now.elapsed
            return True
        return False


class Ticker:
    """Compares the clocks with the look before; counts nothing."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.watch = ClockWatch(desk.clock.counts_sleep)
        self.before = look(desk.clock)
        self._bell = Bell()
        self._tried = self._looked = self.before.moment.elapsed

    def beat(self) -> Beat:
        """Look at the clocks."""
        before, self.before = self.before, look(self.desk.clock)
        now = self.before.moment
        words, ask = "", None
        for happening in self.watch.compare(before, self.before):
            if isinstance(happening, Stalled) and not any(is_running(wait) for wait in self.desk.state.waits):
                continue  # nothing went on meanwhile: to hear of it would only worry
            words = f"{words} {happening.sentence}".strip()
            ask = happening if isinstance(happening, Stepped) and happening.ask else ask
            self._log(happening, now)
        if words:
            words = f"{words} {missed_sentence(self.desk.state.waits, before.moment, now)}".strip()
        words = f"{words} {self._look(now)}".strip()
        self._retry(now)
        ringing = self._ringing(now)
        return Beat(now, words, self._bell.rings(now, bool(ringing)), ringing, ask)

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


CLOSED = "other window closed; o, y goes on"
"""Why nothing can be added once nobody else does."""
FIRST_SEEN_EVERY = 2.0
"""Seconds between two looks at the file."""


class DayFollower:
    """Looks at the file of a day that can only be looked at."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self._fs = Fs()
        self._seen = self._stamps()
        self._looked = desk.clock.now().elapsed
        self.free = False
        """The other window has closed: the day can go on here."""
        self.asked = False
        """The dyer was asked whether it should."""

    def _stamps(self) -> tuple[Stamp | None, Stamp | None]:
        path = self.desk.keeping.path
        if path is None:
            return None, None
        try:
            return self._fs.stamp(path), self._fs.stamp(journal_path(path))
        except OSError:
            return None, None

    def look(self) -> bool:
        """Look whether the day has gone on; True if there is something new to show."""
        now = self.desk.clock.now().elapsed
        if now - self._looked < FIRST_SEEN_EVERY:
            return False
        self._looked = now
        self._look_whether_free()
        seen = self._stamps()
        if seen == self._seen:
            return False
        self._seen = seen
        return self._read()

    def _look_whether_free(self) -> None:
        file = self.desk.keeping.file
        was = self.free
        self.free = file is not None and file.readonly in (BUSY, CLOSED) and is_free(file.path, self._fs)
        if file is not None and self.free != was:
            file.readonly = CLOSED if self.free else BUSY
            self.asked = self.asked and self.free

    def _read(self) -> bool:
        path = self.desk.keeping.path
        try:
            state = fold(load(self._fs, path).session) if path else self.desk.state
        except SessionError:
            return False
        if state.session != self.desk.state.session or state.seq <= self.desk.state.seq:
            return False
        self.desk.take(state)
        return True
