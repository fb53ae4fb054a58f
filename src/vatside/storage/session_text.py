"""A whole session as the text of its file, and back."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from attrs import frozen

from vatside.forms.fitting import plan_problems
from vatside.log.events.day import Entry
from vatside.log.session import Session
from vatside.storage import codec, strict_json
from vatside.storage.flaws import SessionError, sentences, shown, told
from vatside.storage.migrations import FORMAT, VERSION, check_head, migrate, too_new
from vatside.storage.scalars import read_identity
from vatside.storage.utc import read_utc, show_utc

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
    return data[:plan], f"\n{strict_json.dump(GOES_ON)}: true,".encode(), memoryview(data)[plan:]


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
    raw = strict_json.parse(data)
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
        raise SessionError(*_with_version(list(told(problems)), version))
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
