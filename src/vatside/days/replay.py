"""Replay: how things stood at any entry, a virtual time that runs through a log, and ways to jump in it.

A position is a number of seconds since the session was created, on a time line on which no clock was ever
set back. Everything here is arithmetic; the caller brings a real `now` in seconds.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from datetime import datetime, time, timedelta, tzinfo
from functools import cached_property

from attrs import evolve, frozen

from vatside.dayline.wall_clock import moment_of, on_wall
from vatside.log.fold import State, fold, history
from vatside.log.moment import Moment, after, seconds_between
from vatside.log.session import Session
from vatside.units import Amount, Kind, Problem, parse_amount, to_base

SLOWEST, FASTEST = 1.0, 600.0
"""Bounds of the speed; at 600 a day of ten hours takes a minute."""


@frozen
class Timeline:
    """A session laid out in time."""

    session: Session
    positions: tuple[float, ...]
    """Where each entry lies, never falling."""

    @cached_property
    def _states(self) -> tuple[State, ...]:
        """How things stood before the first entry and after each one, without their entries; made when first asked."""
        return tuple(history(self.session))

    def state(self, seq: int) -> State:
        """How things stood after an entry, as `state_at_seq`, but in no time."""
        return evolve(self._states[seq], entries=self.session.entries[:seq])

    @property
    def length(self) -> float:
        """Position of the latest entry."""
        return self.positions[-1] if self.positions else 0.0

    def seq_at(self, position: float) -> int:
        """Number of the latest entry made by then; 0 before the first."""
        return bisect_right(self.positions, position)

    def moment_at(self, position: float) -> Moment:
        """Give what the clocks showed then, for the waits to count by."""
        seq = self.seq_at(position)
        if seq == 0:
            return after(_start(self.session), position)
        return after(self.session.entries[seq - 1].at, position - self.positions[seq - 1])

    def next_position(self, position: float) -> float | None:
        """Where the next entry lies; None behind the last."""
        seq = self.seq_at(position)
        return self.positions[seq] if seq < len(self.positions) else None

    def previous_position(self, position: float) -> float:
        """Where the latest entry before lies; 0 if there is none."""
        before = bisect_left(self.positions, position)
        return self.positions[before - 1] if before else 0.0


def timeline(session: Session) -> Timeline:
    """Lay a session out in time; where a clock was set back, no time went by."""
    positions: list[float] = []
    here, last = 0.0, _start(session)
    for entry in session.entries:
        here += max(0.0, seconds_between(last, entry.at))
        last = entry.at
        positions.append(here)
    return Timeline(session, tuple(positions))


def _start(session: Session) -> Moment:
    """Give the moment of creation, on the first entry's clock if that can be told."""
    start = Moment(session.created, 0.0, "")
    if not session.entries:
        return start
    first = session.entries[0].at
    gap = max(0.0, seconds_between(start, first))
    return after(first, -gap)


def state_at_seq(session: Session, seq: int) -> State:
    """How things stood after an entry; what was taken back later still counts then."""
    return fold(session.upto(seq))


def state_at(line: Timeline, position: float) -> State:
    """How things stood at a position."""
    return line.state(line.seq_at(position))


def forward(state: State, line: Timeline, position: float) -> State:
    """Bring a state of this time line to a position; the same state where nothing happened in between."""
    seq = line.seq_at(position)
    return state if seq == state.seq else line.state(seq)


@frozen
class Player:
    """A playback: where it stands, how fast it goes, and since when."""

    line: Timeline
    start: float = 0.0
    """Position at `since`."""
    since: float | None = None
    """Real seconds at which it began to run from `start`; None while it is paused."""
    speed: float = 60.0
    """Virtual seconds in one real second, 1 to 600."""

    @property
    def playing(self) -> bool:
        """Whether it runs; at the end it stands still all the same."""
        return self.since is not None

    def position(self, real: float) -> float:
        """Where it is at a real time."""
        if self.since is None:
            return self.start
        return min(self.line.length, self.start + max(0.0, real - self.since) * self.speed)

    def now(self, real: float) -> Moment:
        """Give what the clocks showed there."""
        return self.line.moment_at(self.position(real))

    def at_end(self, real: float) -> bool:
        """Whether the last entry has been reached."""
        return self.position(real) >= self.line.length

    def play(self, real: float) -> Player:
        """Run on from here; from the beginning, if it is at the end."""
        start = 0.0 if self.at_end(real) else self.position(real)
        return evolve(self, start=start, since=real)

    def pause(self, real: float) -> Player:
        """Stand still here."""
        return evolve(self, start=self.position(real), since=None)

    def at_speed(self, speed: float, real: float) -> Player:
        """Go on at another speed, kept within 1 to 600."""
        since = None if self.since is None else real
        return evolve(self, start=self.position(real), since=since, speed=min(max(speed, SLOWEST), FASTEST))

    def jump(self, position: float, real: float) -> Player:
        """Go to a position, running or not as before."""
        since = None if self.since is None else real
        return evolve(self, start=min(max(position, 0.0), self.line.length), since=since)

    def next_event(self, real: float) -> Player:
        """Go to the next entry; stay at the end if there is none."""
        there = self.line.next_position(self.position(real))
        return self.jump(self.line.length if there is None else there, real)

    def previous_event(self, real: float) -> Player:
        """Go to the entry before."""
        return self.jump(self.line.previous_position(self.position(real)), real)


HELP = "a time of that day like 14:30, a way like +20 min or -1 h, start or end"
_CLOCK = re.compile(r"(?:(\d{4}-\d{2}-\d{2})[ t]+)?(\d{1,2})[:.](\d{2})(?:[:.](\d{2}))?", re.ASCII)


def read_jump(text: str, line: Timeline, position: float, zone: tzinfo | None = None) -> float | Problem:
    """Read where to go; seconds from the beginning, within the session. Times of day in `zone` or the machine's own."""
    typed = text.strip().casefold()
    if typed in ("start", "end"):
        return 0.0 if typed == "start" else line.length
    found = _CLOCK.fullmatch(typed)
    there = _way(typed, position) if found is None else _time(found, line, position, zone)
    return there if isinstance(there, Problem) else min(max(there, 0.0), line.length)


def _way(typed: str, position: float) -> float | Problem:
    amount = parse_amount(typed[1:], Kind.TIME, unit="min") if typed[:1] in ("+", "-") else None
    if not isinstance(amount, Amount):
        return Problem(f"Write {HELP}")
    seconds = 60 * to_base(amount, Kind.TIME)
    return position + (seconds if typed[0] == "+" else -seconds)


def _time(found: re.Match[str], line: Timeline, position: float, zone: tzinfo | None) -> float | Problem:
    """On the day named, or on the day that the replay is at, or on the first day that has such a time."""
    day, hour, minute, second = found.groups()
    first, here, last = (line.moment_at(at).utc for at in (0.0, position, line.length))
    try:
        clock = time(int(hour), int(minute), int(second or 0))
        date = datetime.fromisoformat(day).date() if day else on_wall(here, zone).date()
    except ValueError:
        return Problem(f"There is no such time; write {HELP}")
    there = moment_of(datetime.combine(date, clock), first, zone)
    if not day and not first <= there <= last:
        days = (on_wall(first, zone).date() + timedelta(days=n) for n in range(2))
        others = (moment_of(datetime.combine(other, clock), first, zone) for other in days)
        there = next((when for when in others if first <= when <= last), there)
    return position_at(line, there)


def position_at(line: Timeline, when: datetime) -> float:
    """Where a time lies on the time line, seconds; beyond its ends for a time before or after the session."""
    made = [number for number, entry in enumerate(line.session.entries) if entry.at.utc <= when]
    if not made:
        return (when - line.moment_at(0.0).utc).total_seconds()
    at = line.positions[made[-1]]
    return at + (when - line.session.entries[made[-1]].at.utc).total_seconds()
