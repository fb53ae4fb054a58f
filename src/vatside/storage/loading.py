"""Reading a session from its file and the journal beside it, without changing either."""

from __future__ import annotations

from pathlib import Path

from attrs import evolve, frozen

from vatside.log.session import Session
from vatside.storage.file_names import backup_path, journal_path, lock_path
from vatside.storage.files import Fs, Stamp
from vatside.storage.flaws import SessionError, reason
from vatside.storage.journal import JournalText, merge, read_journal
from vatside.storage.migrations import PLANNED_FOR_THE_FIBRE, VERSION, too_new
from vatside.storage.session_text import Decoded, decode

__all__ = ["Loaded", "backup_path", "journal_path", "load", "lock_path"]


@frozen
class Loaded:
    """A session as the disk has it."""

    session: Session
    stamp: Stamp | None
    """State of the file when it was read; None if the session came from the backup."""
    journal: JournalText
    journaled: int
    """Entries that only the journal holds."""
    version: int = VERSION
    damage: tuple[str, ...] = ()
    """Why the session can be looked at, but not be continued in this file."""
    goes_on: bool = False
    """The file says of itself that what came later was written into the journal."""
    behind: str = ""
    """Why something that was logged is not here; empty if nothing is known to be missing."""
    gone: str = ""
    """What became of a figure that an older day held; empty if it held none."""
    held: str = ""
    """What an older day holds from now on."""


def load(fs: Fs, path: Path) -> Loaded:
    """Read a session; SessionError with every problem if nothing can be read.

    The journal is read first: a writer that tidies up in between then leaves us no gap.
    """
    if not path.name:
        raise SessionError(f"{path} is no plain file")
    journal = _read_journal(fs, path)
    decoded, stamp, damage = _read_file(fs, path)
    if decoded.goes_on and not journal.there:
        # A writer may have begun it between the two looks.
        journal = _read_journal(fs, path)
    merged = merge(decoded.session, journal)
    if decoded.version > VERSION:
        damage = (too_new(decoded.version), *damage)
    if merged.damage:
        damage = (*damage, merged.damage)
    journaled = len(merged.session.entries) - len(decoded.session.entries)
    behind = _behind(path, len(decoded.session.entries)) if decoded.goes_on and not journal.there else ""
    found = Loaded(merged.session, stamp, journal, journaled, decoded.version, damage, decoded.goes_on, behind)
    return _as_planned(found) if decoded.version < PLANNED_FOR_THE_FIBRE else found


def _as_planned(found: Loaded) -> Loaded:
    """Hold what an older day went by."""
    from vatside.storage.older_days import as_planned

    day = as_planned(found.session)
    return evolve(found, session=day.session, gone=day.gone, held=day.held)


def _behind(path: Path, entries: int) -> str:
    what = f"what was logged after entry {entries}" if entries else "all that was logged"
    return (
        f"{path.name} was copied while the day went on: {what} stands in {journal_path(path).name}, "
        "which is not beside it; copy both"
    )


def _read_journal(fs: Fs, path: Path) -> JournalText:
    try:
        return read_journal(fs.read(journal_path(path))[0])
    except FileNotFoundError:
        return JournalText(there=False)
    except OSError as error:
        return JournalText(damage=f"the journal beside it cannot be read: {reason(error, reading=True)}")
    except SessionError as error:
        return JournalText(damage=str(error))


def _read_file(fs: Fs, path: Path) -> tuple[Decoded, Stamp | None, tuple[str, ...]]:
    """Read the file itself, or else its backup."""
    try:
        decoded, stamp = _decode_file(fs, path)
    except SessionError as error:
        try:
            decoded, _ = _decode_file(fs, backup_path(path))
        except SessionError:
            raise error from None
        return decoded, None, (*error.problems, f"shown is its backup, {backup_path(path).name}")
    return decoded, stamp, ()


def _decode_file(fs: Fs, path: Path) -> tuple[Decoded, Stamp]:
    try:
        data, stamp = fs.read(path)
    except OSError as error:
        raise SessionError(f"{path.name} cannot be read: {reason(error, reading=True)}") from None
    except ValueError:
        raise SessionError("that is no name that a file can have") from None
    if not data.strip():
        raise SessionError(f"{path.name} is empty")
    return decode(data), stamp
