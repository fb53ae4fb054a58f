"""The folder of sessions: what is in it, where a new one goes, and the samples that come along."""

from __future__ import annotations

import os
import re
import unicodedata
from collections.abc import Callable, Mapping
from datetime import datetime, tzinfo
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING
from uuid import uuid4

from attrs import evolve, frozen

from vatside.log.events.day import Entry, PlanChanged
from vatside.log.waits import Moment, after
from vatside.plan.hours import moment_of, on_wall
from vatside.storage.files import Fs, Stamp
from vatside.storage.flaws import SessionError
from vatside.storage.glance import Glance, glanced, glances
from vatside.storage.places import JOURNAL, SAMPLE_ID, backup_path, home, journal_path, samples_folder

LONGEST_SLUG = 48
"""Characters of a title that go into a file name."""


if TYPE_CHECKING:
    from vatside.log.state import Session


@frozen
class SessionCard:
    """One session file at a glance."""

    path: Path
    title: str
    created: datetime | None = None
    """UTC; None for a file that cannot be read."""
    last: datetime | None = None
    """UTC of the latest entry; None if there is none."""
    entries: int = 0
    waits: int = 0
    """Waits that are open."""
    ready_by: str | None = None
    """When the vat is wanted."""
    over: bool = False
    """Its vat was kept or let go."""
    problem: str | None = None
    """Why it cannot be opened, or only to be looked at."""


def sessions_folder(chosen: Path | None = None) -> Path:
    """Give the folder of sessions; it need not exist yet."""
    return chosen if chosen is not None else home() / "sessions"


def list_sessions(folder: Path, fs: Fs | None = None, *, most: int | None = None) -> tuple[SessionCard, ...]:
    """Look at every session of a folder, the latest first; a damaged file is a card with its problem.

    `most` looks only at so many files that were written to last: a page of a long list comes at once.
    """
    fs = fs or Fs()
    try:
        stamps = fs.stamps(folder)
    except OSError:
        return ()
    names = sorted(name for name in stamps if name.endswith(".json") and not name.startswith("."))
    if most is not None:
        names = sorted(names, key=lambda name: _written(stamps, name), reverse=True)[:most]
    seen = glances(fs, folder, names, stamps)
    return tuple(
        sorted((_card(fs, folder / name, seen_file) for name, seen_file in seen.items()), key=_age, reverse=True)
    )


def _written(stamps: Mapping[str, Stamp | None], name: str) -> int:
    """When a session or its journal was written to last."""
    both = (stamps[name], stamps.get(f"{name}{JOURNAL}"))
    return max(stamp.changed_ns if stamp else 0 for stamp in both)


def _age(day_card: SessionCard) -> tuple[bool, float]:
    when = day_card.last or day_card.created
    return (when is not None, when.timestamp() if when else 0.0)


def card(path: Path, fs: Fs | None = None) -> SessionCard:
    """Look at one session file; never raises on a bad one. Finer flaws are told when it is opened."""
    fs = fs or Fs()
    return _card(fs, path, glanced(fs, path))


def _card(fs: Fs, path: Path, seen: Glance | None) -> SessionCard:
    if seen is None:
        return _closer_look(path, fs)
    return SessionCard(path, seen.title, seen.created, seen.last, seen.entries, seen.waits, seen.ready_by, seen.over)


def _closer_look(path: Path, fs: Fs) -> SessionCard:
    """Read a file in full that a glance could not make sense of."""
    from vatside.log.fold import fold
    from vatside.log.state import is_over, last_act
    from vatside.storage.session_text import load

    try:
        loaded = load(fs, path)
    except SessionError as error:
        return SessionCard(path, path.stem, problem=error.problems[0])
    state, last = fold(loaded.session), last_act(loaded.session.entries)
    return SessionCard(
        path=path,
        title=state.plan.title,
        created=state.created,
        last=last.at.utc if last else None,
        entries=len(state.entries),
        waits=len(state.waits),
        ready_by=state.plan.ready_by,
        over=is_over(state),
        problem=loaded.damage[0] if loaded.damage else None,
    )


def new_path(folder: Path, title: str, now: Moment, zone: tzinfo | None = None) -> Path:
    """Name a new session file by its local day and title, safely on every system; nothing stands there yet."""
    stem = f"{now.utc.astimezone(zone):%Y-%m-%d}-{slug(title)}"
    number = 1
    while True:
        path = folder / (f"{stem}.json" if number == 1 else f"{stem}-{number}.json")
        if not any(os.path.lexists(taken) for taken in (path, journal_path(path), backup_path(path))):
            return path
        number += 1


def slug(title: str) -> str:
    """Make lower-case ASCII letters, digits and dashes of a title; `session` if none are left."""
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain)[:LONGEST_SLUG].strip("-") or "session"


def samples() -> tuple[SessionCard, ...]:
    """Look at the sample sessions, in the order of their names; none if they were not installed."""
    try:
        folder = samples_folder()
    except FileNotFoundError:
        return ()
    return tuple(sorted(list_sessions(folder), key=lambda card: card.path.name))


def copy_sample(sample: Path, folder: Path, now: Moment) -> Path:
    """Put a copy of a sample into the folder, as if its latest entry had just been made.

    Its running waits then go on where the sample left them. SessionError if it cannot be read or written.
    """
    from vatside.log.fold import fold
    from vatside.storage.session_file import SessionFile
    from vatside.storage.session_text import load

    session = moved(load(Fs(), sample).session, now)
    path = new_path(folder, fold(session).plan.title, now)
    SessionFile.write_new(path, evolve(session, id=SAMPLE_ID + uuid4().hex[:16])).close()
    return path


def moved(session: Session, now: Moment, zone: tzinfo | None = None) -> Session:
    """Give a session whose latest entry was made at `now`, everything else the same time before.

    The hour at which the vat is wanted moves along, so that as much time is in hand as there was.
    """
    last = session.entries[-1].at.utc if session.entries else session.created
    seconds = (now.utc - last).total_seconds()
    later = partial(_later, last=last, now=now.utc, zone=zone)
    return evolve(
        session,
        created=after(Moment(session.created, 0, ""), seconds).utc,
        plan=evolve(session.plan, ready_by=later(session.plan.ready_by)),
        entries=tuple(_moved(entry, seconds, later) for entry in session.entries),
    )


def _moved(entry: Entry, seconds: float, later: Callable[[str | None], str | None]) -> Entry:
    event = entry.event
    if isinstance(event, PlanChanged) and event.path == "ready_by" and isinstance(event.value, str):
        event = evolve(event, value=later(event.value))
    return evolve(entry, at=evolve(entry.at, utc=after(entry.at, seconds).utc), event=event)


def _later(ready_by: str | None, last: datetime, now: datetime, zone: tzinfo | None) -> str | None:
    """Move a wanted hour that has a date, to the minute, as far from `now` as it was from `last`; a bare hour stays."""
    if ready_by is None or "T" not in ready_by:
        return ready_by
    wanted = moment_of(datetime.fromisoformat(ready_by), last, zone) + (now - last)
    return on_wall(wanted, zone).replace(tzinfo=None).isoformat(timespec="minutes")
