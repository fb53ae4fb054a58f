"""A whole session as the text of its file, and read back from there and from its journal, without changing either."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from os import PathLike
from pathlib import Path
from typing import Any

from attrs import evolve, frozen

from vatside.forms.fields import plan_problems
from vatside.log.events.day import Entry
from vatside.log.fold import fold
from vatside.log.state import Session
from vatside.plan.plan import Plan
from vatside.storage import codec, file_format
from vatside.storage.file_format import (
    FORMAT,
    PLANNED_FOR_THE_FIBRE,
    VERSION,
    check_head,
    migrate,
    read_identity,
    read_utc,
    show_utc,
    too_new,
)
from vatside.storage.files import Fs, Stamp
from vatside.storage.flaws import SessionError, first_problems, reason, sentences, shown
from vatside.storage.journal import JournalText, merge, read_journal
from vatside.storage.places import backup_path, journal_path

KEYS = {"format", "version", "id", "created", "plan", "events"}
GOES_ON = "goes_on_in_journal"
"""Stands in the head of a file, as true, as long as what comes later is written into the journal beside it."""


@frozen
class Decoded:
    """A session and the version of the file it came from."""

    session: Session
    version: int
    goes_on: bool = False
    """What came later was written into the journal beside it."""


def encode(session: Session, *, goes_on: bool = False) -> bytes:
    """Write a session: the head on its own lines, then one event a line; `goes_on` in a journal beside it."""
    head = {"format": FORMAT, "version": VERSION, "id": session.id, "created": show_utc(session.created)}
    on = {GOES_ON: True} if goes_on else {}
    return codec.DAY_LOG.document({**head, **on, "plan": codec.plan_to_json(session.plan)}, session.entries)


def encode_new(session: Session) -> bytes:
    """Write a session for a new file; SessionError rather than one that could never be opened again."""
    problems = plan_problems(session.plan)
    if problems:
        raise SessionError(*problems)
    return encode(session)


def say_goes_on(data: bytes) -> tuple[bytes | memoryview, ...]:
    """Say in the text of a file that it goes on in a journal, without writing every entry anew.

    Gives the new text in parts, as a long one is costly to copy; none if it is not laid out as `encode` does it.
    """
    plan = data.find(b'\n"plan": ')
    if plan < 0:
        return ()
    return data[:plan], f"\n{file_format.dump_json(GOES_ON)}: true,".encode(), memoryview(data)[plan:]


def decode(data: bytes) -> Decoded:
    """Read a session; SessionError with every problem found, each naming its place."""
    with _collector_paused():
        return _decode(data)


@contextmanager
def _collector_paused() -> Iterator[None]:
    """What is made here holds no cycles; to search it for some again and again costs a quarter of the time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _decode(data: bytes) -> Decoded:
    raw = file_format.parse_json(data)
    version = check_head(raw)
    raw = migrate(raw)
    problems: list[str] = []
    missing = [f"{name} is missing" for name in ("id", "created", "plan", "events") if name not in raw]
    extra = [f"unknown entry {shown(name)}" for name in raw if name not in KEYS | {GOES_ON}]
    if missing or extra:
        raise SessionError(*_with_version(missing + extra, version))
    plan = _try(problems, "plan", codec.plan_from_json, raw["plan"])
    if plan is not None:
        problems.extend(f"plan, {problem}" for problem in plan_problems(plan))
    session = Session(
        id=_try(problems, "id", read_identity, raw["id"]),
        created=_try(problems, "created", read_utc, raw["created"]),
        plan=plan,
        entries=tuple(_entries(problems, raw["events"])),
    )
    if raw.get(GOES_ON, True) is not True:
        problems.append(f"{GOES_ON}: must be true, or not be there")
    if problems:
        raise SessionError(*_with_version(list(first_problems(problems)), version))
    return Decoded(session, version, GOES_ON in raw)


def _with_version(problems: list[str], version: int) -> list[str]:
    return [too_new(version), *problems] if version > VERSION else problems


def _try(problems: list[str], place: str, read: Any, raw: object) -> Any:
    """Read one part; put what is wrong with it on the list."""
    try:
        return read(raw)
    except Exception as error:
        problems.extend(sentences(error, (place,)))
        return None


def _entries(problems: list[str], raw: object) -> Iterator[Entry]:
    for number, entry in codec.DAY_LOG.all_from_json(raw, problems):
        if entry.seq != number:
            problems.append(f"event {number}: its seq is {entry.seq}; events must be numbered 1, 2, 3, …")
        yield entry


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
    loaded = Loaded(merged.session, stamp, journal, journaled, decoded.version, damage, decoded.goes_on, behind)
    return _as_planned(loaded) if decoded.version < PLANNED_FOR_THE_FIBRE else loaded


def _as_planned(loaded: Loaded) -> Loaded:
    """Pin the amounts that a day of an older version went by, so that newer rules do not change them."""
    from vatside.storage.older_days import as_planned

    day = as_planned(loaded.session)
    return evolve(loaded, session=day.session, gone=day.gone, held=day.held)


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


def session_of(path: str | PathLike[str]) -> Session:
    """Read a session with its journal; SessionError with every problem if nothing can be read."""
    return loaded_of(path).session


def loaded_of(path: str | PathLike[str]) -> Loaded:
    """Read a session as the disk has it, with what is wrong with it; SessionError as for `session_of`."""
    try:
        return load(Fs(), Path(path))
    except SessionError as error:
        name = Path(path).name
        raise SessionError(*(line if name in line else f"{name}: {line}" for line in error.problems)) from None


def missing_from(loaded: Loaded) -> tuple[str, ...]:
    """Say why what was read is perhaps not all there was; nothing for a whole file."""
    return (*loaded.damage, *((loaded.behind,) if loaded.behind else ()))


def plan_of(path: str | PathLike[str]) -> Plan:
    """Read the plan of a session as it stands after its log; SessionError as for `session_of`."""
    return fold(session_of(path)).plan
