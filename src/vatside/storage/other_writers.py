"""Who else is at a session's file: who may write, and what another program did to it while we had it open."""

from __future__ import annotations

from contextlib import suppress
from itertools import count
from pathlib import Path

from vatside.log.state import Session
from vatside.storage.files import OWN_MODE, Busy, ForeignChange, Fs, Lock, Stamp
from vatside.storage.flaws import SessionError, why
from vatside.storage.journal import Journal
from vatside.storage.places import journal_path, lock_path
from vatside.storage.session_text import Loaded, encode, load
from vatside.storage.snapshot import Snapshot, keep_copy

BUSY = "it is open in another window"
"""Why a second window can only look."""


def try_lock(fs: Fs, path: Path, stamp: Stamp | None) -> tuple[Lock | None, str | None]:
    """Take the writer's lock, or say why not."""
    if stamp is None or not stamp.regular:
        return None, "there is no such file"
    if not stamp.mode & 0o222:
        return None, "the file is write-protected"
    try:
        return fs.lock(lock_path(path), stamp.mode & 0o666 | OWN_MODE), None
    except Busy:
        return None, BUSY
    except (OSError, NotImplementedError) as error:
        return None, f"its folder takes no lock: {why(error)}"


def is_free(path: Path, fs: Fs | None = None) -> bool:
    """Tell whether a session that was open in another window can be written to again."""
    fs = fs or Fs()
    try:
        lock, _ = try_lock(fs, path, fs.stamp(path))
    except OSError:
        return False
    if lock is None:
        return False
    lock.release()
    return True


class Watch:
    """Looks whether the files of an open session still are as their one writer left them."""

    def __init__(self, fs: Fs, snapshot: Snapshot) -> None:
        self._fs = fs
        self._snapshot = snapshot
        self._foreign: tuple[Stamp | None, ...] = ()
        """The files as they were when they were found to be changed: they need not be read again and again."""

    def changed(self, journal: Journal | None, saved: Session, journaled: int) -> bool:
        """Tell whether something else stands there than `saved`, of which the journal holds the last entries.

        OSError if the system does not let us look.
        """
        try:
            self._snapshot.check()
            if journal is not None and not journal.gone():
                journal.check()
        except ForeignChange:
            path = self._snapshot.path
            seen = (self._fs.stamp(path), self._fs.stamp(journal_path(path)))
            if seen == self._foreign or not self._is(saved, journaled):
                self._foreign = seen
                return True
        return False

    def _is(self, saved: Session, journaled: int) -> bool:
        """Read the files again: a program that copies, or only touches them, changes nothing."""
        on_disk = found_there(self._fs, self._snapshot.path)
        if on_disk is None or on_disk.damage or on_disk.journal.torn:
            return False
        if on_disk.session != saved or on_disk.journaled != journaled:
            return False
        self._snapshot.accept(on_disk.stamp)
        return True


def found_there(fs: Fs, path: Path) -> Loaded | None:
    """Read what stands in our place by now; None if that is no session."""
    try:
        return load(fs, path)
    except SessionError:
        return None


def is_all_there(on_disk: Loaded | None, session: Session) -> bool:
    """Tell whether every entry of ours can be read there; a plan that an editor changed is hers to change."""
    if on_disk is None or on_disk.damage or on_disk.behind:
        return False
    return (on_disk.session.id, on_disk.session.entries) == (session.id, session.entries)


def keep_aside(fs: Fs, path: Path, session: Session) -> Path:
    """Write a session beside a file that is no longer ours, under a name that is free; OSError if the disk refuses."""
    stem = path.name.removesuffix(".json")
    for number in count(1):
        target = path.with_name(f"{stem}-kept.json" if number == 1 else f"{stem}-kept-{number}.json")
        with suppress(FileExistsError):
            keep_copy(fs, encode(session), target)
            break
    return target
