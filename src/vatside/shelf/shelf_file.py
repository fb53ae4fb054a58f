"""The shelf's file: one for all sessions, and any number of windows that write to it.

Nobody holds it open. Whoever notes something takes the lock, reads what stands there by now, adds to it and puts
the whole file in place, so that no window ever writes over what another one noted.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable
from datetime import datetime
from pathlib import Path
from uuid import uuid4

from vatside.shelf.events import Noted, ShelfEvent, merged
from vatside.shelf.shelf import Shelf, shelf
from vatside.shelf.shelf_text import ShelfText, decode, encode, from_json, to_json
from vatside.storage import strict_json
from vatside.storage.files import ForeignChange, Fs, Stamp
from vatside.storage.flaws import SessionError, sentences, why
from vatside.storage.home import home
from vatside.storage.loading import backup_path, lock_path
from vatside.storage.snapshot import Snapshot, sweep
from vatside.storage.system_lock import Busy, Lock

TRIES = 20
PAUSE = 0.05
"""Times, and seconds between them, that we ask for the lock: another window holds it for milliseconds. Ours."""


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
            stamp = self._fs.stamp(self._path)
            if self._stamp is not None and self._stamp.same_content(stamp) and self.readonly is None:
                return False
            self._take(*self._read())
        except SessionError as error:
            self._damaged(error)
        except (OSError, ValueError) as error:
            self.readonly = self.unreadable = f"{self._path} cannot be read: {why(error, reading=True)}"
        return self._noted != before

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

    def _take(self, text: ShelfText, stamp: Stamp | None) -> None:
        known = merged(text.noted, self._noted) if stamp is None else text.noted
        self._noted, self._stamp, self.readonly = known, stamp, text.newer

    def _damaged(self, error: SessionError) -> None:
        """Show what is known or the backup, and write nothing over the damaged file."""
        self.readonly = "; ".join(error.problems)
        text = self._backup()
        if text is not None:
            self._noted = merged(self._noted, text.noted)
            self.readonly += f"; shown is its backup, {backup_path(self._path).name}"

    def note(self, events: Iterable[ShelfEvent], now: datetime) -> bool:
        """Note what happened: on the disk when this gives True, else among `unsaved`, with `trouble` saying why.

        ValueError if an event is none that could be read back.
        """
        seq = max((entry.seq for entry in (*self._noted, *self._pending)), default=0)
        fresh = [Noted(seq + number, uuid4().hex[:16], now, event) for number, event in enumerate(events, start=1)]
        self.latest = tuple(_as_read_back(entry) for entry in fresh)
        self._pending += self.latest
        return self.retry()

    def retry(self) -> bool:
        """Try to bring everything to the disk; True if nothing is unsaved any more."""
        if not self._pending:
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
            self.trouble = f"not saved: {why(error)} ({self._path})"
        return not self._pending

    def _save(self) -> None:
        self._fs.make_folder(self._path.parent)
        lock = self._locked()
        try:
            sweep(self._fs, self._path)
            self._take(*self._read())
            if self.readonly is not None:
                raise SessionError(self.readonly)
            self._write(merged(self._noted, self._pending))
        finally:
            lock.release()

    def _write(self, noted: tuple[Noted, ...]) -> None:
        snapshot = Snapshot(self._fs, self._path, self._stamp)
        if self._stamp is None:
            snapshot.create(encode(noted))
        else:
            snapshot.replace(encode(noted))
        self._noted, self._pending, self._stamp = noted, (), self._fs.stamp(self._path)

    def _locked(self) -> Lock:
        """Take the lock; a few tries, as another window holds it only while it writes."""
        for _ in range(TRIES - 1):
            try:
                return self._fs.lock(lock_path(self._path))
            except Busy:
                self._pause(PAUSE)
        return self._fs.lock(lock_path(self._path))


def _as_read_back(entry: Noted) -> Noted:
    """Give the entry as the file will give it back; half characters become question marks."""
    try:
        return from_json(strict_json.parse(strict_json.dump(to_json(entry)).encode("utf-8", "replace")))
    except Exception as error:
        raise ValueError("; ".join(sentences(error, ("event",)))) from None
