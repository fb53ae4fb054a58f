"""What is being typed, beside the session file: there before it is logged, and read again if the process is cut off."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from vatside.log.events.day import Entry, Event
from vatside.log.moment import Moment
from vatside.storage.file_names import backup_path, draft_path, journal_path, lock_path
from vatside.storage.files import Fs
from vatside.storage.flaws import SessionError
from vatside.storage.journal import entry_record, read_journal
from vatside.storage.snapshot import discard
from vatside.storage.system_lock import OWN_MODE

SYNC_EVERY = 0.15
"""Seconds in which a burst of keys is brought down to the disk itself once; the system has each key at once. Ours."""
LARGEST = 100_000
"""Bytes after which the file begins anew: only its last record counts. Ours, no source."""


class DraftFile:
    """One record for every key, the last of which is what would be logged if nothing more came.

    A disk that takes no draft is no harm: what it stands for is logged in a moment, and a refusal is told then.
    """

    def __init__(self, fs: Fs, session_file: Path, session: str) -> None:
        self._fs = fs
        self._path = draft_path(session_file)
        self._session = session
        self._fd: int | None = None
        self._size = 0
        self._synced = float("-inf")
        self._dirty = False

    def write(self, seq: int, event: Event, now: Moment) -> None:
        """Write down what entry number `seq` would be."""
        with suppress(OSError, ValueError):
            if self._fd is None:
                self._fd = self._fs.open_append(self._path, OWN_MODE)
            if self._size > LARGEST:
                self.clear()
            self._size += self._fs.write(self._fd, entry_record(self._session, Entry(seq, now, event)))
            self._dirty = True
            self.sync(now)

    def sync(self, now: Moment) -> None:
        """Bring it down to the disk, unless that was done a moment ago."""
        if self._dirty and self._fd is not None and not 0 <= now.elapsed - self._synced < SYNC_EVERY:
            self._dirty, self._synced = False, now.elapsed
            with suppress(OSError):
                self._fs.sync(self._fd)

    def clear(self) -> None:
        """Forget it: it is logged, or was taken back."""
        if self._fd is not None and self._size:
            with suppress(OSError):
                self._fs.truncate(self._fd, 0)
                self._size, self._dirty = 0, False

    def close(self) -> None:
        """Let it go; nothing of it is needed any more."""
        if self._fd is not None:
            with suppress(OSError):
                self._fs.close(self._fd)
            self._fd = None
            discard(self._fs, self._path)


def drafted(session_file: Path, session: str, entries: int, fs: Fs | None = None) -> Event | None:
    """Give what was being typed when a session of so many entries was cut off; None if that was nothing."""
    fs = fs or Fs()
    try:
        records = read_journal(fs.read(draft_path(session_file))[0]).records
    except (OSError, SessionError):
        return None
    last = records[-1] if records else None
    if last is None or last.session != session or last.entry.seq != entries + 1:
        return None
    event: Event = last.entry.event
    return event


def forget(session_file: Path, fs: Fs | None = None) -> None:
    """Take a session file away that holds nothing yet, with all that lies beside it."""
    for beside in (Path, journal_path, backup_path, draft_path, lock_path):
        discard(fs or Fs(), beside(session_file))
