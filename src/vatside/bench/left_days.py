"""Days of the folder that nobody has open and whose waits go on: what rings in them, and hearing it."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from attrs import frozen

from vatside.bench import acts
from vatside.bench.open_day import open_day
from vatside.bench.ticker import RING_EVERY
from vatside.bench.wait_view import WaitView
from vatside.clocks.clock import Clock
from vatside.log.fold import fold
from vatside.log.moment import Moment
from vatside.log.waits import Wait, elapsed_share, is_over, remaining, ringing
from vatside.storage.files import Fs
from vatside.storage.flaws import SessionError
from vatside.storage.folder import SessionCard
from vatside.storage.loading import load
from vatside.storage.writer_lock import is_free


@frozen
class LeftDay:
    """One of them."""

    path: Path
    title: str
    waits: tuple[Wait, ...]


def left_days(cards: Iterable[SessionCard], on_bench: Path | None, fs: Fs | None = None) -> tuple[LeftDay, ...]:
    """Give the days with open waits that are neither on the bench nor worked in by another window, which rings itself.

    A file that cannot be read, or only in part, is told of in the list; nothing of it rings.
    """
    fs = fs or Fs()
    there = (card for card in cards if card.waits and not card.problem and card.path.resolve() != on_bench)
    found = (_left(card.path, fs) for card in there if is_free(card.path, fs))
    return tuple(day for day in found if day is not None)


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
        self._rang = float("-inf")

    def due(self, now: Moment) -> tuple[WaitView, ...]:
        """Give what rings, named with its day, what has been due for longest first."""
        found = ((day, wait) for day in self.days for wait in day.waits if ringing(wait, now) is not None)
        ordered = sorted(found, key=lambda pair: remaining(pair[1], now))
        return tuple(_view(day, wait, number, now) for number, (day, wait) in enumerate(ordered, 1))

    def rings(self, now: Moment) -> bool:
        """Tell whether to ring now."""
        if not self.due(now):
            self._rang = float("-inf")
            return False
        if now.elapsed - self._rang < RING_EVERY:
            return False
        self._rang = now.elapsed
        return True

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
    label = f"{day.title}: {wait.label}"
    return WaitView(f"{day.path}:{wait.id}", number, label, left, elapsed_share(wait, now), ringing=True, nudge=asked)
