"""What stands beside the file of a log: its journal, and the draft of what is being typed.

A journal has one line an entry, on the disk before it counts as logged. A draft is there before it is logged, and read
again if the process is cut off.
"""

from __future__ import annotations

import errno
import os
from contextlib import suppress
from pathlib import Path
from typing import Any

from attrs import frozen

from vatside.log.events.day import Entry, Event
from vatside.log.state import Session
from vatside.log.waits import Moment
from vatside.storage.codec import DAY_LOG, Log
from vatside.storage.file_format import seal, unseal
from vatside.storage.files import OWN_MODE, ForeignChange, Fs
from vatside.storage.flaws import SessionError
from vatside.storage.places import backup_path, draft_path, journal_path, lock_path
from vatside.storage.snapshot import discard
from vatside.units import show_count


def entry_record(session: str, entry: Any, log: Log[Any] = DAY_LOG) -> bytes:
    """Write the record of an entry of a log; `session` names whose log it is."""
    return seal(session, entry.seq, log.line(entry).encode())


@frozen
class Record:
    """A record whose checksum holds."""

    session: str
    entry: Any
    """An entry of the log that was read."""


@frozen
class JournalText:
    """What a journal holds."""

    records: tuple[Record, ...] = ()
    good: int = 0
    """Bytes up to the end of the last good record."""
    torn: bytes = b""
    """What stands after it: a record that a power cut or a full disk broke off."""
    damage: str | None = None
    """Why good records stand behind something unreadable; the records stop before it."""
    there: bool = True
    """There is a journal."""


def read_journal(data: bytes, log: Log[Any] = DAY_LOG) -> JournalText:
    """Read the records of a journal up to the first that does not hold."""
    records: list[Record] = []
    good = 0
    lines = data.split(b"\n")
    for number, line in enumerate(lines[:-1]):
        record = _read_record(line, log)
        if record is None:
            behind = sum(_read_record(later, log) is not None for later in lines[number + 1 :])
            return _stopped(records, good, data[good:], behind)
        records.append(record)
        good += len(line) + 1
    return JournalText(tuple(records), good, data[good:])


def _stopped(records: list[Record], good: int, torn: bytes, behind: int) -> JournalText:
    """Tell a torn end from damage: at most one record can have been under way when the power went."""
    if not behind and torn.rstrip(b"\n").count(b"\n") == 0:
        return JournalText(tuple(records), good, torn)
    what = f"with {show_count(behind, 'good one')} behind it" if behind else "and so are all behind it"
    return JournalText(tuple(records), good, damage=f"record {len(records) + 1} of its journal is damaged, {what}")


def _read_record(line: bytes, log: Log[Any]) -> Record | None:
    sealed = unseal(line)
    if sealed is None:
        return None
    try:
        entry = log.read_line(sealed.event)
    except SessionError:
        return None
    return Record(sealed.session, entry) if entry.seq == sealed.seq else None


@frozen
class Merged:
    """A session with the records of its journal, and what keeps the two from fitting."""

    session: Session
    damage: str | None = None


def merge(session: Session, journal: JournalText) -> Merged:
    """Add the records that the session file does not hold yet."""
    entries = list(session.entries)
    damage = journal.damage
    for record in journal.records:
        misfit = _misfit(session, entries, record)
        if misfit:
            damage = misfit
            break
        if record.entry.seq == len(entries) + 1:
            entries.append(record.entry)
    return Merged(Session(session.id, session.created, session.plan, tuple(entries)), damage)


def _misfit(session: Session, entries: list[Entry], record: Record) -> str | None:
    seq = record.entry.seq
    if record.session != session.id:
        return "the journal beside it belongs to another session"
    if seq > len(entries) + 1:
        first, last = len(entries) + 1, seq - 1
        missing = f"entry {first} is" if first == last else f"entries {first} to {last} are"
        return f"{missing} missing between the file and its journal"
    if seq <= len(entries) and entries[seq - 1] != record.entry:
        return f"the file and its journal tell entry {seq} differently"
    return None


class Journal:
    """The open journal of one writer. Not `sound` means: write no more before it is cleared."""

    def __init__(self, fs: Fs, path: Path, mode: int, good: int) -> None:
        self._fs = fs
        self.path = path
        self._fd = fs.open_append(path, mode)
        self._good = good
        self.sound = True
        try:
            self._settle()
        except BaseException:
            self.close()
            raise

    def _settle(self) -> None:
        """Make sure of the file's name on the disk; it may be new, or left by one who did not get that far."""
        if not self._fs.stamp_open(self._fd).regular:
            raise ForeignChange(f"{self.path.name} is no plain file")
        self._fs.sync_folder(self.path.parent)

    def append(self, data: bytes) -> None:
        """Write one record down to the disk; after an OSError the journal is as before, or not sound."""
        self.check()
        try:
            self._write(data)
        except OSError:
            self._cut_back()
            raise
        try:
            self._fs.sync(self._fd)
        except OSError:
            # The system may have thrown the bytes away and will not say so again: never trust a second try.
            self.sound = False
            raise
        self._good += len(data)

    def _write(self, data: bytes) -> None:
        if self._fs.write(self._fd, data) != len(data):
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    def gone(self) -> bool:
        """Tell whether the file has no name any more, so that nobody would find what we write."""
        return self._fs.stamp(self.path) is None

    def check(self) -> None:
        """ForeignChange unless the path leads to our file and nobody else wrote to it."""
        mine = self._fs.stamp_open(self._fd)
        if not mine.same_file(self._fs.stamp(self.path)) or (self.sound and mine.size != self._good):
            raise ForeignChange(f"another program changed {self.path.name}")

    def _cut_back(self) -> None:
        """Take half a record away again."""
        try:
            self._fs.truncate(self._fd, self._good)
        except OSError:
            self.sound = False

    def take_over(self, size: int) -> None:
        """Make sure of the records on the disk; cut off a torn end of `size` bytes, kept elsewhere by now."""
        if self._fs.stamp_open(self._fd).size != self._good + size:
            raise ForeignChange(f"another program changed {self.path.name}")
        if size:
            self._fs.truncate(self._fd, self._good)
        self._fs.sync(self._fd)

    def clear(self) -> None:
        """Empty the journal, once the session file holds everything."""
        self.check()
        self.sound = False
        self._fs.truncate(self._fd, 0)
        self._fs.sync(self._fd)
        self._good = 0
        self.sound = True

    def close(self) -> None:
        """Close the file."""
        self._fs.close(self._fd)


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
