"""The ways to a day: a file, a new one, a copy of another one, a sample."""

from __future__ import annotations

from pathlib import Path
from uuid import uuid4

from attrs import evolve

from vatside.bench.desk import Desk
from vatside.bench.keeping import Keeping
from vatside.clocks.clock import Clock
from vatside.log.events.day import Event
from vatside.log.fold import fold
from vatside.log.moment import Moment
from vatside.log.session import Session
from vatside.plan.plan import Plan
from vatside.storage.session_file import SessionFile
from vatside.storage.shipped import SAMPLE, SAMPLE_ID


def open_day(path: Path, clock: Clock) -> Desk:
    """Open a file; SessionError if nothing of it can be read."""
    return Desk(clock, Keeping.opened(SessionFile.open(path), clock.now()))


def new_day(folder: Path, clock: Clock, plan: Plan | None = None, *events: Event) -> Desk:
    """Begin a day; its file comes with the first entry."""
    from vatside.days.own_uptake import learned_in
    from vatside.plan.starter import starter_plan

    plan = evolve(plan or starter_plan(), learned=learned_in(folder))

    def begin(session: Session, now: Moment) -> SessionFile:
        from vatside.storage.folder import new_path

        return SessionFile.write_new(new_path(folder, fold(session).plan.title, now), session)

    return Desk(clock, Keeping.new(plan, clock.now(), begin, *events))


def copy_day(session: Session, folder: Path, clock: Clock) -> Desk:
    """Write a session into a file of its own and open that; SessionError if the disk refuses."""
    from vatside.storage.folder import new_path

    title = fold(session).plan.title
    path = new_path(folder, f"{title} copy", clock.now())
    # A copy of a sample stays one: what a sample used was never on anybody's shelf.
    kind = SAMPLE_ID if session.id.startswith(SAMPLE_ID) else ""
    SessionFile.write_new(path, evolve(session, id=kind + uuid4().hex[:16])).close()
    return open_day(path, clock)


def sample_day(sample: Path, folder: Path, clock: Clock) -> Desk:
    """Open a copy of a sample; SessionError if it cannot be read or written."""
    from vatside.storage.folder import copy_sample

    return open_day(copy_sample(sample, folder, clock.now()), clock)


def wanted(what: str, path: Path, folder: Path, clock: Clock, bench: Desk | None) -> Desk:
    """Give the file that was asked for on the first screen; the day on the bench if it is that."""
    if what == SAMPLE:
        return sample_day(path, folder, clock)
    here = bench.keeping.path if bench else None
    return bench if bench is not None and here == path.resolve() else open_day(path, clock)
