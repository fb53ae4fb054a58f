"""Every problem of a session file, in words; and its log for reading."""

from __future__ import annotations

from collections.abc import Iterator
from os import PathLike
from pathlib import Path

from vatside.log.events.day import Unknown
from vatside.log.fold import fold
from vatside.log.moment import seconds_between
from vatside.log.session import Session
from vatside.log.words.day import local, log_lines
from vatside.storage.files import Fs
from vatside.storage.flaws import SessionError, shown
from vatside.storage.loading import Loaded, load
from vatside.units import show_count

__all__ = ["log_lines", "problems"]


def problems(path: str | PathLike[str], fs: Fs | None = None) -> tuple[str, ...]:
    """Say everything that is wrong with a session file and its journal; nothing is changed."""
    try:
        loaded = load(fs or Fs(), Path(path))
    except SessionError as error:
        return error.problems
    return tuple(_problems(loaded))


def _problems(loaded: Loaded) -> Iterator[str]:
    yield from loaded.damage
    if loaded.behind:
        yield loaded.behind
    if loaded.gone:
        yield loaded.gone
    if loaded.journal.torn:
        yield f"the last record of the journal is broken off ({show_count(len(loaded.journal.torn), 'byte')})"
    yield from session_problems(loaded.session)


def session_problems(session: Session) -> Iterator[str]:
    """Say what does not fit within a session that can be read."""
    for misfit in fold(session).misfits:
        yield f"event {misfit.seq}: not carried out, {misfit.text}"
    for entry in session.entries:
        if isinstance(entry.event, Unknown):
            yield f"event {entry.seq}: {shown(entry.event.name)} is a kind that this version does not know"
    yield from _clock_problems(session)


def _clock_problems(session: Session) -> Iterator[str]:
    for before, entry in zip(session.entries, session.entries[1:], strict=False):
        if seconds_between(before.at, entry.at) < 0:
            yield f"event {entry.seq}: its time, {local(entry.at.utc)}, is before that of the event above"
