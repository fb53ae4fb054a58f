"""The session file: a whole file and a journal, one writer, nothing shown as logged before it is on the disk."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path
from uuid import uuid4

from attrs import frozen

from vatside.log.events.day import Entry, Event
from vatside.log.state import Session
from vatside.log.waits import Moment
from vatside.plan.plan import Plan
from vatside.storage.codec import DAY_LOG
from vatside.storage.file_format import VERSION
from vatside.storage.files import Busy, ForeignChange, Fs, Lock, Stamp
from vatside.storage.flaws import SessionError, why
from vatside.storage.journal import Journal, entry_record
from vatside.storage.other_writers import Watch, found_there, is_all_there, keep_aside, try_lock
from vatside.storage.places import journal_path, lock_path
from vatside.storage.session_text import Loaded, encode, encode_new, load, say_goes_on
from vatside.storage.snapshot import Snapshot, discard, keep_copy, keep_torn, sweep

TIDY_EVERY = 500
"""Entries in the journal after which everything is written into the session file. Ours, measured."""


def tidy_after(entries: int) -> int:
    """How many entries a journal may come to: the longer a session is, the more seldom all of it is rewritten."""
    return max(TIDY_EVERY, entries // 2)


class ReadOnly(Exception):
    """The session, or the shelf, is only to be looked at, and why; it is printed as a sentence."""

    def __str__(self) -> str:
        """Say so."""
        return f"Reading only: {self.args[0]}."


@frozen
class Opened:
    """What came of opening a session file."""

    file: SessionFile
    session: Session
    readonly: str | None
    """Why nothing can be added; None if it can."""
    notices: tuple[str, ...] = ()
    """What the dyer should know about the file."""


class SessionFile:
    """A session and its place on the disk. One thread, one writer."""

    def __init__(self, fs: Fs, path: Path, session: Session, lock: Lock | None, stamp: Stamp | None) -> None:
        self._fs = fs
        self._lock = lock
        self._id, self._created, self._plan = session.id, session.created, session.plan
        self._entries = list(session.entries)
        self._pending: list[Entry] = []
        self._snapshot = Snapshot(fs, path, stamp)
        self._journal: Journal | None = None
        self._journaled = 0
        self._tidy_at = tidy_after(len(self._entries))
        self._version = VERSION
        self._goes_on = False
        """The file on the disk says that there is a journal."""
        self.readonly: str | None = None
        self.trouble: str | None = None
        """Why the latest entries are not on the disk, or why the file cannot be tidied; None if all is well."""
        self.foreign = False
        """Another program changed our files, and what is there is not what we left."""
        self._watch = Watch(fs, self._snapshot)

    @classmethod
    def create(cls, path: Path, plan: Plan, now: Moment, fs: Fs | None = None) -> SessionFile:
        """Begin a session in a new file; SessionError if there is one already or the disk refuses."""
        return cls.write_new(path, Session(uuid4().hex[:16], now.utc, plan), fs)

    @classmethod
    def write_new(cls, path: Path, session: Session, fs: Fs | None = None) -> SessionFile:
        """Write a whole session into a new file; SessionError if there is one already or the disk refuses."""
        fs = fs or Fs()
        data = encode_new(session)
        try:
            path = fs.real(path)
            fs.make_folder(path.parent)
            file = cls(fs, path, session, fs.lock(lock_path(path)), None)
        except Busy:
            raise SessionError(f"{path.name} is open in another window") from None
        except (OSError, ValueError, NotImplementedError) as error:
            raise SessionError(_cannot_write(path, error)) from None
        try:
            file._refuse_leftovers()
            file._snapshot.create(data)
        except BaseException as error:
            file._release()
            if isinstance(error, OSError):
                raise SessionError(_cannot_write(path, error)) from None
            raise
        return file

    @classmethod
    def open(cls, path: Path, *, readonly: bool = False, fs: Fs | None = None) -> Opened:
        """Open a session; SessionError with every problem if nothing of it can be read."""
        fs = fs or Fs()
        try:
            path = fs.real(path)
            stamp = fs.stamp(path)
        except (OSError, ValueError) as error:
            raise SessionError(f"{path.name} cannot be read: {why(error, reading=True)}") from None
        lock, refusal = (None, "opened to look at only") if readonly else try_lock(fs, path, stamp)
        try:
            return cls._opened(fs, path, lock, refusal)
        except BaseException:
            if lock:
                lock.release()
            raise

    @classmethod
    def _opened(cls, fs: Fs, path: Path, lock: Lock | None, refusal: str | None) -> Opened:
        loaded = load(fs, path)
        file = cls(fs, path, loaded.session, lock, loaded.stamp)
        file.readonly = "; ".join(loaded.damage) or refusal
        file._version = loaded.version
        file._journaled, file._goes_on = loaded.journaled, loaded.goes_on
        notices = file._take_over(loaded) if file.readonly is None else ()
        notices = (*notices, *(words for words in (loaded.behind, loaded.gone, loaded.held) if words))
        if file.readonly is not None:
            file._release()
        return Opened(file, loaded.session, file.readonly, notices)

    def _take_over(self, loaded: Loaded) -> tuple[str, ...]:
        """Make the files ready for us to write; read-only if that fails."""
        sweep(self._fs, self.path)
        torn, journal = loaded.journal.torn, journal_path(self.path)
        try:
            # What the last writer wrote may be shown to us and not be on the disk yet.
            self._fs.sync_folder(self.path.parent)
            if torn:
                kept = keep_torn(self._fs, self.path, torn)
            if self._fs.stamp(journal) is not None:
                self._journal = Journal(self._fs, journal, self._snapshot.mode(), loaded.journal.good)
                self._journal.take_over(len(torn))
        except (OSError, ForeignChange) as error:
            self.readonly = f"its journal cannot be continued: {why(error)}"
            return ()
        return (
            (f"the last record of the journal is broken and not part of the log; it is kept in {kept}",) if torn else ()
        )

    def _refuse_leftovers(self) -> None:
        """What an earlier session of that name left may be all there is of it: never write over it."""
        for path in (journal_path(self.path), self._snapshot.backup):
            if self._fs.stamp(path) is not None:
                raise SessionError(f"{path.name} of an earlier session is there: take another name")

    @property
    def path(self) -> Path:
        """Where the session file is, links followed."""
        return self._snapshot.path

    @property
    def session(self) -> Session:
        """The session as it stands, entries not on the disk yet included."""
        return Session(self._id, self._created, self._plan, tuple(self._entries))

    @property
    def unsaved(self) -> tuple[Entry, ...]:
        """Entries that are only in memory."""
        return tuple(self._pending)

    def append(self, event: Event, now: Moment) -> Entry:
        """Log an event: on the disk when this returns, or else among `unsaved`, with `trouble` saying why.

        ReadOnly if nothing can be added; ValueError if the event is none that could be read back.
        """
        if self.readonly is not None:
            raise ReadOnly(self.readonly)
        entry = DAY_LOG.as_read_back(Entry(len(self._entries) + 1, now, event))
        self._entries.append(entry)
        self._pending.append(entry)
        self.retry()
        return entry

    def retry(self) -> bool:
        """Try to bring everything to the disk; True if nothing is unsaved any more."""
        try:
            self._write_pending()
            self.trouble = None
        except (OSError, ForeignChange) as error:
            self.trouble = self._trouble(error)
        if not self._pending:
            self._tidy_if_long()
        return not self._pending

    def look(self) -> bool:
        """Look whether another program changed our files; True if that is new."""
        if self.readonly is not None:
            return False
        before = self.foreign
        with suppress(OSError):
            self.foreign = self._watch.changed(self._journal, self._on_disk(), self._journaled)
        return self.foreign and not before

    def _on_disk(self) -> Session:
        """The session without what is only in memory."""
        saved = len(self._entries) - len(self._pending)
        return Session(self._id, self._created, self._plan, tuple(self._entries[:saved]))

    def _write_pending(self) -> None:
        if not self._pending:
            return
        if self._version != VERSION:
            # The journal of an older file holds nothing of a newer one: what is in it has a meaning of its own.
            self._rewrite()
            return
        journal = self._open_journal()
        if journal is None or not journal.sound:
            self._rewrite()
            return
        self._say_that_it_goes_on()
        while self._pending:
            journal.append(entry_record(self._id, self._pending[0]))
            del self._pending[0]
            self._journaled += 1

    def _say_that_it_goes_on(self) -> None:
        """Once there is a journal, the file says so: a copy of it alone is then known to be behind.

        A disk that refuses is no harm; nothing is lost by it, and the entry itself comes next.
        """
        if self._goes_on:
            return
        self._goes_on = True
        with suppress(OSError, ForeignChange):
            data, _ = self._fs.read(self.path)
            self._snapshot.replace(*(say_goes_on(data) or (encode(self._on_disk(), goes_on=True),)))

    def _open_journal(self) -> Journal | None:
        """Give the journal; None if its file vanished, so that the session file must be written anew."""
        if self._journal is not None and self._journal.gone():
            self._journal.close()
            self._journal = None
            return None
        if self._journal is None:
            self._journal = Journal(self._fs, journal_path(self.path), self._snapshot.mode(), 0)
        return self._journal

    def _rewrite(self, *, goes_on: bool = True) -> None:
        """Write everything into the session file, then empty the journal; `goes_on` unless this is the end."""
        self._snapshot.check()
        if self._version != VERSION:
            self._keep_old_version()
        self._snapshot.replace(encode(self.session, goes_on=goes_on))
        self._goes_on = goes_on
        self._pending.clear()
        self._version, self._journaled, self._tidy_at = VERSION, 0, tidy_after(len(self._entries))
        if self._journal is not None:
            self._journal.clear()

    def _keep_old_version(self) -> None:
        with suppress(FileExistsError):
            data, _ = self._fs.read(self.path)
            keep_copy(self._fs, data, self.path.with_name(f"{self.path.name}.bak.v{self._version}"))

    def _tidy_if_long(self) -> None:
        if self._journaled >= self._tidy_at:
            self._tidy(goes_on=True)

    def _tidy(self, *, goes_on: bool) -> None:
        try:
            self._rewrite(goes_on=goes_on)
        except (OSError, ForeignChange) as error:
            self._tidy_at = self._journaled + tidy_after(len(self._entries))
            self.trouble = self._trouble(error)

    def _trouble(self, error: Exception) -> str:
        self.foreign = self.foreign or isinstance(error, ForeignChange)
        saved = "not saved" if self._pending else "saved, but not tidied"
        return f"{saved}: {why(error)} ({self.path})"

    def save_elsewhere(self, path: Path) -> None:
        """Write the whole session into a new file and go on there; SessionError if that fails.

        What stands in the old place is left as it is.
        """
        other = SessionFile.write_new(path, self.session, self._fs)
        self._release()
        self.__dict__.update(other.__dict__)

    def close(self) -> str | None:
        """Bring everything into the session file and let it go; gives the reason if that failed."""
        if self.readonly is None:
            self.retry()
            if (self._journaled or self._goes_on) and not self._pending:
                self._tidy(goes_on=False)
            self._drop_empty_journal()
            self._keep_what_is_not_there()
        self._release()
        self.readonly = self.readonly or "the session is closed"
        return self.trouble

    def _keep_what_is_not_there(self) -> None:
        """Where another program put something else in our place, write all of ours beside it."""
        if not self.foreign or is_all_there(found_there(self._fs, self.path), self.session):
            return
        try:
            kept = keep_aside(self._fs, self.path, self.session)
        except OSError as error:
            self.trouble = self._trouble(error)
        else:
            self._pending.clear()
            self.trouble = f"another program changed {self.path.name}: the day as it was here is kept in {kept}"

    def _drop_empty_journal(self) -> None:
        if self._journal is not None and not self._journaled and self._journal.sound:
            discard(self._fs, self._journal.path)

    def _release(self) -> None:
        if self._journal is not None:
            with suppress(OSError):
                self._journal.close()
            self._journal = None
        if self._lock is not None:
            self._lock.release()
            self._lock = None


def _cannot_write(path: Path, error: Exception) -> str:
    return f"{path} cannot be written: {why(error)}"
