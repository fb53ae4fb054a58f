"""The ways to a day: a file, a new one, a copy of another one, a sample; and the days that nobody has open.

Of those whose waits go on: what rings in them, and hearing it.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from uuid import uuid4

from attrs import evolve, frozen

from vatside.bench import acts
from vatside.bench.desk import Desk
from vatside.bench.glance import WaitView
from vatside.bench.keeping import Keeping
from vatside.bench.ticker import Bell
from vatside.clocks.clock import Clock
from vatside.log.events.day import Event
from vatside.log.fold import fold
from vatside.log.state import Session
from vatside.log.waits import Moment, Wait, elapsed_share, is_over, remaining, ringing
from vatside.plan.plan import Plan
from vatside.plan.starter import starter_plan
from vatside.storage.files import Fs
from vatside.storage.flaws import SessionError
from vatside.storage.folder import SessionCard, copy_sample, new_path
from vatside.storage.other_writers import is_free
from vatside.storage.places import SAMPLE, SAMPLE_ID
from vatside.storage.session_file import SessionFile
from vatside.storage.session_text import load


def open_day(path: Path, clock: Clock) -> Desk:
    """Open a file; SessionError if nothing of it can be read."""
    return Desk(clock, Keeping.opened(SessionFile.open(path), clock.now()))


def new_day(folder: Path, clock: Clock, plan: Plan | None = None, *events: Event) -> Desk:
    """Begin a day; its file comes with the first entry."""
    from vatside.days.lots import learned_in

    plan = evolve(plan or starter_plan(), learned=learned_in(folder))

    def begin(session: Session, now: Moment) -> SessionFile:
        return SessionFile.write_new(new_path(folder, fold(session).plan.title, now), session)

    return Desk(clock, Keeping.new(plan, clock.now(), begin, *events))


def copy_day(session: Session, folder: Path, clock: Clock) -> Desk:
    """Write a session into a file of its own and open that; SessionError if the disk refuses."""
    title = fold(session).plan.title
    path = new_path(folder, f"{title} copy", clock.now())
    # A copy of a sample stays one: what a sample used was never on anybody's shelf.
    kind = SAMPLE_ID if session.id.startswith(SAMPLE_ID) else ""
    SessionFile.write_new(path, evolve(session, id=kind + uuid4().hex[:16])).close()
    return open_day(path, clock)


def sample_day(sample: Path, folder: Path, clock: Clock) -> Desk:
    """Open a copy of a sample; SessionError if it cannot be read or written."""
    return open_day(copy_sample(sample, folder, clock.now()), clock)


def wanted(what: str, path: Path, folder: Path, clock: Clock, bench: Desk | None) -> Desk:
    """Give the file that was asked for on the first screen; the day on the bench if it is that."""
    if what == SAMPLE:
        return sample_day(path, folder, clock)
    on_bench = bench.keeping.path if bench else None
    return bench if bench is not None and on_bench == path.resolve() else open_day(path, clock)


@frozen
class LeftDay:
    """A day that was left with waits running: its file, its title and those waits."""

    path: Path
    title: str
    waits: tuple[Wait, ...]


def left_days(cards: Iterable[SessionCard], on_bench: Path | None) -> tuple[LeftDay, ...]:
    """Give the days with open waits that are neither on the bench nor worked in by another window, which rings itself.

    A file that cannot be read, or only in part, is told of in the list; nothing of it rings.
    """
    fs = Fs()
    there = (card for card in cards if card.waits and not card.problem and card.path.resolve() != on_bench)
    days = (_left(card.path, fs) for card in there if is_free(card.path, fs))
    return tuple(day for day in days if day is not None)


def _left(path: Path, fs: Fs) -> LeftDay | None:
    try:
        state = fold(load(fs, path).session)
    except SessionError:
        return None
    return LeftDay(path, state.plan.title, tuple(state.waits))


class LeftAlarms:
    """Rings for what is over in the days that were left, at the pace of every alarm."""

    def __init__(self, days: tuple[LeftDay, ...] = ()) -> None:
        self.days = days
        self._bell = Bell()

    def due(self, now: Moment) -> tuple[WaitView, ...]:
        """Give what rings, named with its day, what has been due for longest first."""
        pairs = ((day, wait) for day in self.days for wait in day.waits if ringing(wait, now) is not None)
        ordered = sorted(pairs, key=lambda pair: remaining(pair[1], now))
        return tuple(_view(day, wait, number, now) for number, (day, wait) in enumerate(ordered, 1))

    def rings(self, now: Moment) -> bool:
        """Tell whether to ring now."""
        return self._bell.rings(now, bool(self.due(now)))

    def hear(self, clock: Clock) -> str:
        """Write into each day that rings that its alarms were heard; say which."""
        now = clock.now()
        named = [view.label for view in self.due(now)]
        rung = [day for day in self.days if any(ringing(wait, now) for wait in day.waits)]
        failed = [day for day in rung if not _heard(day.path, clock)]
        self.days = tuple(day for day in self.days if day not in rung or day in failed)
        if failed:
            return f"Could not be written into {failed[0].title}: open it, and quiet it there."
        return f"Heard: {', '.join(named)}." if named else "Nothing rings."


def _heard(path: Path, clock: Clock) -> bool:
    """Open a day, hear what rings in it, and close it."""
    try:
        desk = open_day(path, clock)
    except SessionError:
        return False
    try:
        if desk.keeping.readonly is not None:
            return False
        acts.quiet(desk)
        return True
    finally:
        desk.keeping.close()


def _view(day: LeftDay, wait: Wait, number: int, now: Moment) -> WaitView:
    call = ringing(wait, now)
    asked = call.label if call is not None and not call.over else ""
    left = remaining(wait, now) if is_over(wait, now) else max(remaining(wait, now), 1.0)
    label = f"{wait.label}, {day.title}"
    return WaitView(f"{day.path}:{wait.id}", number, label, left, elapsed_share(wait, now), ringing=True, nudge=asked)
