"""A second window on a day: what the first one does appears here too, and once that closes the day can go on here."""

from __future__ import annotations

from vatside.bench.desk import Desk
from vatside.log.fold import fold
from vatside.storage.files import Fs, Stamp
from vatside.storage.flaws import SessionError
from vatside.storage.loading import journal_path, load
from vatside.storage.writer_lock import BUSY, is_free

CLOSED = "other window closed; o, y goes on"
"""Why nothing can be added once nobody else does."""
LOOK_EVERY = 2.0
"""Seconds between two looks at the file."""


class Second:
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
        if now - self._looked < LOOK_EVERY:
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
