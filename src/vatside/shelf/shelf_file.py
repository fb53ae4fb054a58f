"""The shelf's file, its text and back: one for all sessions, and any number of windows that write to it.

Nobody holds it open. Whoever notes something takes the lock, reads what stands there by now, writes down what is new
in the journal beside it, and brings that into the file. It is read as strictly as a session's.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable
from datetime import datetime
from pathlib import Path
from typing import Any
from uuid import uuid4

from attrs import frozen

from vatside.shelf.events import Noted, ShelfEvent, merged
from vatside.shelf.shelf import Shelf, shelf
from vatside.storage import file_format
from vatside.storage.codec import Log, kinds_of
from vatside.storage.file_format import check_head, read_identity, read_text, read_utc, read_whole, show_utc
from vatside.storage.files import Busy, ForeignChange, Fs, Lock, Stamp
from vatside.storage.flaws import SessionError, first_problems, shown, why
from vatside.storage.journal import Journal, JournalText, entry_record, read_journal
from vatside.storage.places import backup_path, home, journal_path, lock_path
from vatside.storage.snapshot import Snapshot, discard, keep_torn, sweep

FORMAT = "vatside-shelf"
VERSION = 1
KEYS = {"format", "version", "events"}


def _of_the_shelf(raw: dict[str, Any]) -> tuple[int, str, datetime]:
    return read_whole(raw["seq"], int), read_identity(raw["id"]), read_utc(raw["at"], None)


SHELF_LOG = Log(
    entry=Noted,
    head={"seq": read_whole, "id": read_identity, "at": read_utc, "kind": read_text},
    read=_of_the_shelf,
    write=lambda entry: {"seq": entry.seq, "id": entry.id, "at": show_utc(entry.at)},
    kinds=kinds_of(ShelfEvent),
)
"""The log of the shelf."""


@frozen
class ShelfText:
    """A log and the version of the file it came from."""

    noted: tuple[Noted, ...]
    version: int = VERSION

    @property
    def newer(self) -> str | None:
        """Say that a newer Vatside wrote it; None if not."""
        if self.version <= VERSION:
            return None
        return f"a newer Vatside wrote this shelf (version {self.version}; this one writes version {VERSION})"


def encode(noted: tuple[Noted, ...]) -> bytes:
    """Write the shelf, one event a line."""
    return SHELF_LOG.document({"format": FORMAT, "version": VERSION}, noted)


def decode(data: bytes) -> ShelfText:
    """Read the shelf; SessionError with every problem found, each naming its place."""
    raw: Any = file_format.parse_json(data)
    version = check_head(raw, "shelf")
    problems = [f"unknown entry {shown(name)}" for name in raw if name not in KEYS]
    noted = [entry for _, entry in SHELF_LOG.all_from_json(raw.get("events"), problems)]
    if len({entry.id for entry in noted}) < len(noted):
        problems.append("events: two have the same id")
    text = ShelfText(tuple(sorted(noted, key=lambda entry: entry.order)), version)
    if problems:
        raise SessionError(*([text.newer] if text.newer else []), *first_problems(problems))
    return text


TRIES = 20
PAUSE = 0.05
"""Times, and seconds between them, that we ask for the lock: another window holds it for milliseconds. Ours."""
SHELF = "shelf"
"""Whose the records of its journal are."""


def shelf_path(chosen: Path | None = None) -> Path:
    """Give the place of the shelf; it need not exist yet."""
    return chosen if chosen is not None else home() / "shelf.json"


class ShelfFile:
    """The shelf and its place on the disk."""

    def __init__(self, path: Path, fs: Fs | None = None, pause: Callable[[float], None] = time.sleep) -> None:
        self._fs = fs or Fs()
        self._path = path
        self._pause = pause
        self._noted: tuple[Noted, ...] = ()
        self._pending: tuple[Noted, ...] = ()
        self._stamp: Stamp | None = None
        self.latest: tuple[Noted, ...] = ()
        """What was noted here last."""
        self.readonly: str | None = None
        """Why nothing can be noted; None if it can."""
        self.trouble: str | None = None
        """Why the latest entries are not on the disk; None if all is well."""
        self.unreadable = ""
        """Why the system does not even give the file."""
        self.reload()

    @property
    def path(self) -> Path:
        """Where the shelf is."""
        return self._path

    @property
    def shelf(self) -> Shelf:
        """The shelf as it stands, entries not on the disk yet included."""
        return shelf(merged(self._noted, self._pending))

    @property
    def unsaved(self) -> tuple[Noted, ...]:
        """Entries that are only in memory."""
        return self._pending

    def reload(self) -> bool:
        """Look whether another window has noted something; True if the shelf is another one now."""
        before, self.unreadable = self._noted, ""
        try:
            self._path = self._fs.real(self._path)
            if self._is_as_read():
                return False
            self._take()
        except SessionError as error:
            self._damaged(error)
        except (OSError, ValueError) as error:
            self.readonly = self.unreadable = f"{self._path} cannot be read: {why(error, reading=True)}"
        return self._noted != before

    def _is_as_read(self) -> bool:
        """Tell whether the file is as it was when it was read, with no journal beside it."""
        if self._stamp is None or self.readonly is not None or self._fs.stamp(journal_path(self._path)) is not None:
            return False
        return self._stamp.same_content(self._fs.stamp(self._path))

    def _take(self) -> JournalText:
        """Read all that is on the disk; gives the journal.

        The journal is read first: what a writer brings into the file in between is then in both.
        """
        journal = self._read_journal()
        text, stamp = self._read()
        known = text.noted if stamp is not None else merged(text.noted, self._noted)
        self._noted = merged(known, tuple(record.entry for record in journal.records))
        self._stamp, self.readonly = stamp, text.newer or journal.damage
        return journal

    def _read_journal(self) -> JournalText:
        try:
            return read_journal(self._fs.read(journal_path(self._path))[0], SHELF_LOG)
        except FileNotFoundError:
            return JournalText(there=False)

    def _read(self) -> tuple[ShelfText, Stamp | None]:
        """Read the file; if it is gone, its backup, and an empty shelf if there is neither."""
        try:
            data, stamp = self._fs.read(self._path)
        except FileNotFoundError:
            return self._backup() or ShelfText(()), None
        return decode(data), stamp

    def _backup(self) -> ShelfText | None:
        try:
            return decode(self._fs.read(backup_path(self._path))[0])
        except (OSError, SessionError):
            return None

    def _damaged(self, error: SessionError) -> None:
        """Show what is known or the backup, and write nothing over the damaged file."""
        self.readonly = "; ".join(error.problems)
        text = self._backup()
        if text is not None:
            self._noted = merged(self._noted, text.noted)
            self.readonly += f"; shown is its backup, {backup_path(self._path).name}"
        elif self._path.exists() and not self._path.is_file():
            self.unreadable = self.readonly  # nothing of it is known, or ever will be

    def note(self, events: Iterable[ShelfEvent], now: datetime) -> bool:
        """Note what happened: on the disk when this gives True, else among `unsaved`, with `trouble` saying why.

        ValueError if an event is none that could be read back.
        """
        seq = max((entry.seq for entry in (*self._noted, *self._pending)), default=0)
        fresh = [Noted(seq + number, uuid4().hex[:16], now, event) for number, event in enumerate(events, start=1)]
        self.latest = tuple(SHELF_LOG.as_read_back(entry) for entry in fresh)
        self._pending += self.latest
        return self.retry()

    def retry(self) -> bool:
        """Try to bring everything to the disk; True if nothing is unsaved any more."""
        if not self._pending and self.trouble is None:
            return True
        try:
            self._save()
            self.trouble = None
        except Busy:
            self.trouble = "not saved: another window is writing to the shelf"
        except SessionError as error:
            self._damaged(error)
            self.trouble = f"not saved: {self.readonly}"
        except (OSError, ForeignChange, NotImplementedError) as error:
            saved = "not saved" if self._pending else "saved, but not tidied"
            self.trouble = f"{saved}: {why(error)} ({self._path})"
        return not self._pending

    def _save(self) -> None:
        self._fs.make_folder(self._path.parent)
        lock = self._locked()
        try:
            sweep(self._fs, self._path)
            left = JournalText(there=False) if self._is_as_read() else self._take()
            if self.readonly is not None:
                raise SessionError(self.readonly)
            self._write(left)
        finally:
            lock.release()

    def _write(self, left: JournalText) -> None:
        """Write what is new into the journal, which may hold what a writer left there, and then all into the file."""
        snapshot = Snapshot(self._fs, self._path, self._stamp)
        if left.torn:
            keep_torn(self._fs, self._path, left.torn)
        journal = Journal(self._fs, journal_path(self._path), snapshot.mode(), left.good)
        try:
            journal.take_over(len(left.torn))
            self._append(journal)
            self._put_in_place(snapshot)
            journal.clear()
        finally:
            journal.close()
        discard(self._fs, journal.path)

    def _append(self, journal: Journal) -> None:
        there = {entry.id for entry in self._noted}
        for entry in self._pending:
            if entry.id not in there:
                journal.append(entry_record(SHELF, entry, SHELF_LOG))
        self._noted, self._pending = merged(self._noted, self._pending), ()

    def _put_in_place(self, snapshot: Snapshot) -> None:
        if self._stamp is None:
            snapshot.create(encode(self._noted))
        else:
            snapshot.replace(encode(self._noted))
        self._stamp = self._fs.stamp(self._path)

    def _locked(self) -> Lock:
        """Take the lock; a few tries, as another window holds it only while it writes."""
        for _ in range(TRIES - 1):
            try:
                return self._fs.lock(lock_path(self._path))
            except Busy:
                self._pause(PAUSE)
        return self._fs.lock(lock_path(self._path))
