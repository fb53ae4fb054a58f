"""Replay: how things stood at any entry, a virtual time that runs through a log, ways to jump in it, and a guide.

A position is a number of seconds since the session was created, on a time line on which no clock was ever set back. The
guide shows a past day to a newcomer: where its replay stops, what happens there and which key does it.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterator
from datetime import datetime, time, timedelta, tzinfo
from functools import cached_property

from attrs import evolve, frozen

from vatside.log.events.day import (
    AlarmQuieted,
    CautionAcknowledged,
    Entry,
    Event,
    NoteWritten,
    PinSet,
    PlanChanged,
    StepDone,
    WaitStarted,
)
from vatside.log.events.vat import (
    CorrectionMade,
    DipEnded,
    DipStarted,
    ReadingTaken,
    SwatchRecorded,
    VatKept,
    VatMade,
    VatSpent,
)
from vatside.log.fold import State, fold, history
from vatside.log.persistent import AppendOnly
from vatside.log.state import Session
from vatside.log.waits import Moment, after, seconds_between
from vatside.plan.hours import moment_of, on_wall
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

    @cached_property
    def _entries(self) -> AppendOnly[Entry]:
        return AppendOnly(self.session.entries)

    def state(self, seq: int) -> State:
        """How things stood after an entry, as `state_at_seq`, but in no time."""
        return evolve(self._states[seq], entries=self._entries.first(seq))

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
    position, last = 0.0, _start(session)
    for entry in session.entries:
        position += max(0.0, seconds_between(last, entry.at))
        last = entry.at
        positions.append(position)
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
    match = _CLOCK.fullmatch(typed)
    there = _way(typed, position) if match is None else _time(match, line, position, zone)
    return there if isinstance(there, Problem) else min(max(there, 0.0), line.length)


def _way(typed: str, position: float) -> float | Problem:
    amount = parse_amount(typed[1:], Kind.TIME, unit="min") if typed[:1] in ("+", "-") else None
    if not isinstance(amount, Amount):
        return Problem(f"Write {HELP}")
    seconds = 60 * to_base(amount, Kind.TIME)
    return position + (seconds if typed[0] == "+" else -seconds)


def _time(match: re.Match[str], line: Timeline, position: float, zone: tzinfo | None) -> float | Problem:
    """On the day named, or on the day that the replay is at, or on the first day that has such a time."""
    day, hour, minute, second = match.groups()
    first, current, last = (line.moment_at(at).utc for at in (0.0, position, line.length))
    try:
        clock = time(int(hour), int(minute), int(second or 0))
        date = datetime.fromisoformat(day).date() if day else on_wall(current, zone).date()
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


@frozen
class Stop:
    """A point of a day at which something is said."""

    seq: int
    """Number of the entry that was made last; 0 as the day begins."""
    key: str
    """What is pressed for it, as the key line names it."""
    words: str


@frozen
class _Sight:
    """Something to be shown once, the first time that it happens."""

    is_it: Callable[[Event], bool]
    key: str
    words: str


def _plan(part: str) -> Callable[[Event], bool]:
    return lambda event: isinstance(event, PlanChanged) and event.path.endswith(part)


def _step(kind: type[StepDone] | type[WaitStarted], part: str) -> Callable[[Event], bool]:
    return lambda event: isinstance(event, kind) and (event.step or "").endswith(part)


def _is(*kinds: type[object]) -> Callable[[Event], bool]:
    return lambda event: isinstance(event, kinds)


BEGIN = "A whole day, from plan to dry cloth: space runs it, . goes from stop to stop."
END = "That was the day, and l shows its log. b leads back to the list, where a begins a day of your own."
SIGHTS = (
    _Sight(_plan("ready_by"), "Enter", "The hour at which the vat is wanted, as one says it: sat 14:00, tomorrow 9."),
    _Sight(_plan(".mass"), "Enter", "Fibre, weight and blue: soap, indigo, lye and hours follow with every key."),
    _Sight(_is(PinSet), "=", "A figure set by hand stays, and the others follow; = shows how each comes about."),
    _Sight(_is(WaitStarted), "space", "The step in hand is begun; its wait is seen on every screen."),
    _Sight(_is(AlarmQuieted), "q", "A wait that is over rings until it is heard; space on its step goes on."),
    _Sight(_step(StepDone, ".hold"), "→", "The bath is done; each stage has its own steps, → turns to the next."),
    _Sight(_is(CautionAcknowledged), "Enter", "A step that can hurt opens once its cautions have been read."),
    _Sight(_step(StepDone, ".alkali_in"), "space", "Lye into cold water, weighed for this indigo and this tap."),
    _Sight(_step(WaitStarted, "hold_warm"), "+", "The stock rests: + and - change a wait, p pauses it."),
    _Sight(_is(VatMade), "v", "The vat stands. From here on it is reckoned by the clock, and v shows what is in it."),
    _Sight(_is(ReadingTaken), "r", "A reading of warmth, pH and looks; what it means comes with what to do about it."),
    _Sight(_is(CorrectionMade), "space", "The correction is in, as proposed for this vat, and its wait runs."),
    _Sight(_is(DipStarted), "d", "The dip board says in large letters which piece goes in; space moves it on."),
    _Sight(_is(DipEnded), "space", "Out, from green to blue in the air; the board counts until it may go in again."),
    _Sight(_is(NoteWritten), "n", "A note, for whoever does this day again."),
    _Sight(_step(WaitStarted, ".sour"), "space", "Rinse, sour bath and wash follow, with their own cautions."),
    _Sight(_is(VatKept), "o", "The vat is kept for another day, which begins with what stands in it."),
    _Sight(_is(VatSpent), "x", "The vat is spent: from its screen, x leads it step by step to a safe end."),
    _Sight(_is(SwatchRecorded), "g", "The blue that came out, dry; the next day reckons with it."),
)  # fmt: skip
"""What a day is stopped for, at the first event of each kind."""


def stops(session: Session) -> tuple[Stop, ...]:
    """Give the stops of a day in order, with its beginning and its end."""
    in_order = sorted(_sights_of(session), key=lambda stop: stop.seq)
    last = len(session.entries)
    shown = tuple(stop for stop in in_order if stop.seq < last)
    return (Stop(0, "space", BEGIN), *shown, Stop(last, "b", END))


def _sights_of(session: Session) -> Iterator[Stop]:
    for sight in SIGHTS:
        seq = next((entry.seq for entry in session.entries if sight.is_it(entry.event)), None)
        if seq is not None:
            yield Stop(seq, sight.key, sight.words)
