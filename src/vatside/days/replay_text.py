"""A replay in words: time by time what happened, which figures changed, and which waits were over or overdue."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import date, datetime, timedelta, tzinfo
from heapq import heappop, heappush
from math import inf

from attrs import Factory, define, field

from vatside.forms.fields import row_name, rows
from vatside.log import waits as running
from vatside.log.events.day import AlarmQuieted, Entry, WaitEnded
from vatside.log.fold import State, history
from vatside.log.persistent import Waits
from vatside.log.state import Session
from vatside.log.waits import Moment, Wait, after
from vatside.log.words.day import entry_words
from vatside.plan.figure_text import figure_text
from vatside.plan.grouping import gathered
from vatside.plan.measures import method_of
from vatside.plan.plan import Plan
from vatside.plan.sheet import Figure, Sheet, Weight, severity
from vatside.recipe.compute import compute, untried
from vatside.units import show_amount
from vatside.units.show import plain, span

INDENT = " " * 10
LATE = 60.0
"""Seconds from which on a wait that is over is called overdue when something else happens. Ours, no source."""
CLOSE = 15.0
"""Seconds within which a wait was ended on time. Ours, no source."""

Happening = tuple[Moment, str]


def replay_lines(session: Session, zone: tzinfo | None = None) -> Iterator[str]:
    """Tell a session from beginning to end, things as they stood then; local time in `zone` or the machine's own."""
    yield from _opening(session.plan)
    yield from _Teller(session, zone).lines()


def _opening(plan: Plan) -> Iterator[str]:
    yield plain(plan.title)
    yield f"Began with: {plain(method_of(plan).name)}"
    for lot in plan.lots:
        yield f"{INDENT}{plain(lot.name)}: {show_amount(lot.mass)}, depth {show_amount(lot.depth)}"
    for pin in plan.pins:
        yield f"{INDENT}{_name(plan, pin.figure)} set to {show_amount(pin.amount)}"


def _name(plan: Plan, path: str) -> str:
    row = rows(plan).get(path)
    return plain(row_name(row) if row else path)


@define
class _Teller:
    """Goes through a session and remembers what it has said."""

    session: Session
    zone: tzinfo | None
    day: date | None = None
    offset: timedelta | None = None
    overdue: set[str] = field(init=False, default=Factory(set))
    """Waits already called overdue."""
    calls: Due = field(init=False, default=Factory(lambda: Due(_next_call)))
    late: Due = field(init=False, default=Factory(lambda self: Due(self._late_at), takes_self=True))

    def lines(self) -> Iterator[str]:
        states = history(self.session)
        before, last = next(states), None
        for entry, now in zip(self.session.entries, states, strict=True):
            for moment, words in self._meanwhile(before, last, entry.at):
                yield from self._at(moment.utc, [words])
            overdue = self._overdue(entry, self.late.until(before.waits, last or entry.at, entry.at))
            yield from self._at(entry.at.utc, [*_what(entry, before, now, self.session), *overdue])
            before, last = now, entry.at
        yield from _ending(before, last)
        if last is None:
            yield "Nothing was logged."

    def _at(self, utc: datetime, lines: list[str]) -> Iterator[str]:
        local = utc.astimezone(self.zone)
        if local.date() != self.day:
            self.day = local.date()
            yield ""
            yield f"{local:%A} {local.day} {local:%B %Y}"
        before, self.offset = self.offset, local.utcoffset()
        if before is not None and self.offset is not None and before != self.offset:
            way = "forward" if before < self.offset else "back"
            yield f"{INDENT}The clocks went {way}: UTC{local:%z} from now on."
        yield f"{local:%H:%M:%S}  {lines[0]}"
        yield from (INDENT + line for line in lines[1:])

    def _meanwhile(self, before: State, last: Moment | None, now: Moment) -> tuple[Happening, ...]:
        return () if last is None else _called(self.calls.until(before.waits, last, now), last, now)

    def _late_at(self, wait: Wait, _gone: float) -> float | None:
        return None if wait.id in self.overdue else wait.minutes * 60 + LATE

    def _overdue(self, entry: Entry, waits: Iterable[Wait]) -> Iterator[str]:
        """Waits that nobody has ended while something else happened, each said once."""
        about = getattr(entry.event, "wait", None)
        for wait in waits:
            late = -running.remaining(wait, entry.at)
            if late >= LATE and wait.id not in self.overdue | {about} and running.is_running(wait):
                self.overdue.add(wait.id)
                yield f"overdue {span(late)}: {plain(wait.label)}"


def _called(waits: Iterable[Wait], last: Moment, now: Moment) -> tuple[Happening, ...]:
    """Give what waits called out between two entries: nudges, and ends."""
    calls = (item for wait in waits if running.is_running(wait) for item in _calls(wait, last, now))
    return tuple(sorted(calls, key=lambda item: item[0].utc))


def _next_call(wait: Wait, gone: float) -> float | None:
    """Second of a wait at which it calls next."""
    minutes = (*(minute for minute in wait.nudges if minute < wait.minutes), wait.minutes)
    return min((minute * 60 for minute in minutes if minute * 60 > gone), default=None)


def _calls(wait: Wait, last: Moment, now: Moment) -> Iterator[Happening]:
    gone, then = running.elapsed(wait, last), running.elapsed(wait, now)
    for minute in wait.nudges:
        if gone < minute * 60 <= then and minute < wait.minutes:
            asks = running.nudge_words(wait, minute) or "nudge"
            yield after(last, minute * 60 - gone), plain(f"Due: {asks} ({wait.label})")
    end = wait.minutes * 60
    if gone < end <= then:
        yield after(last, end - gone), plain(f"Over: {wait.label}")


def _what(entry: Entry, before: State, now: State, session: Session) -> Iterator[str]:
    """Say what happened and what it changed."""
    misfit = next((item.text for item in now.misfits[-1:] if item.seq == entry.seq), None)
    words = plain(entry_words(entry, before, session)) + _lateness(entry, before)
    yield f"{words} [not carried out: {plain(misfit)}]" if misfit else words
    if now.plan != before.plan:
        yield from changes(before.plan, now.plan)


def _lateness(entry: Entry, before: State) -> str:
    if not isinstance(entry.event, WaitEnded | AlarmQuieted):
        return ""
    wait = before.waits.get(entry.event.wait)
    if wait is None:
        return ""
    left = running.remaining(wait, entry.at)
    if abs(left) < CLOSE:
        return " (on time)"
    if isinstance(entry.event, AlarmQuieted):
        return f" ({span(-left)} over)" if left < 0 else ""
    return f" ({span(-left)} over)" if left < 0 else f" ({span(left)} early)"


def changes(before: Plan, now: Plan) -> Iterator[str]:
    """Say which figures changed between two plans, and what there is to look out for that was not before."""
    old, new = untried(before), untried(now)
    was = {figure.id: figure for figure in old.figures}
    for figure in new.figures:
        left = _text(was[figure.id], before) if figure.id in was else ""
        right = _text(figure, now)
        if left and left != right:
            yield plain(f"{_heading(figure)}: {figure.label} {left} → {right}")
    yield from _come(was, new, now)
    yield from _gone(old, {figure.id for figure in new.figures})
    yield from _said_anew(old, new, now)


def _said_anew(old: Sheet, new: Sheet, now: Plan) -> Iterator[str]:
    """Give what there is to look out for that was not before; what to do about it takes its remedies tried."""
    known = {notice.about for notice in old.notices}
    for number, item in enumerate(new.notices):
        if item.weight is not Weight.NOTE and item.about not in known:
            yield plain(f"{severity(item.weight).sign} {compute(now).notices[number].text}")


def _come(was: Mapping[str, Figure], new: Sheet, now: Plan) -> Iterator[str]:
    """Figures that were not there before, a line for each bath or stage."""
    fresh = (figure for figure in new.figures if figure.id not in was)
    come = gathered((_heading(figure), f"{figure.label} {_text(figure, now)}") for figure in fresh)
    yield from (plain(f"new in {heading}: {'; '.join(texts)}") for heading, texts in come.items())


def _gone(old: Sheet, there: set[str]) -> Iterator[str]:
    gone = gathered((_heading(figure), figure.label) for figure in old.figures if figure.id not in there)
    yield from (plain(f"gone from {heading}: {'; '.join(labels)}") for heading, labels in gone.items())


def _heading(figure: Figure) -> str:
    return f"{figure.stage.value}, {figure.group}" if figure.group else figure.stage.value


def _text(figure: Figure, plan: Plan) -> str:
    text = figure_text(figure, plan)
    held = [mark for mark in text.marks if mark.startswith("set ")]
    return " ".join((text.main, *held))


def _ending(state: State, last: Moment | None) -> Iterator[str]:
    """Say which waits stood open at the end."""
    for wait in state.waits if last else ():
        left = running.remaining(wait, last) if last else 0.0
        how = "paused with" if running.is_paused(wait) else "running with"
        words = f"{how} {span(left)} to go" if left > 0 else f"overdue by {span(-left)}"
        yield f"At the end: {plain(wait.label)}, {words}"


SLACK = 1e-3
"""Seconds by which a wait is looked at too early: rounding must not let one slip by."""

Seconds = Callable[[Wait, float], float | None]
"""Second of a wait at which something is due next, after so many that have gone by; None if nothing is."""


class Due:
    """The waits of a log that have something due, asked entry by entry.

    They are found by the hour at which it is due, not wait by wait: to ask each of them at each entry of a long day
    would cost the square. Between two entries a wait counts by one of two clocks, the counting one of its boot or else
    the time of day (`vatside.clocks.clock.seconds_between`); for each there is a queue. Where a clock does not simply
    run on, all waits are lined up anew.
    """

    def __init__(self, seconds: Seconds) -> None:
        self._seconds = seconds
        self._waits = Waits()
        self._last: Moment | None = None
        self._counting: list[tuple[float, str]] = []
        """When by the counting clock of the boot at hand, and which wait."""
        self._by_day: list[tuple[float, str]] = []
        """When by the time of day, for waits that were tied to the clock of another boot."""

    def until(self, waits: Waits, last: Moment, now: Moment) -> list[Wait]:
        """Give the waits with something due after one moment and up to another, in the order in which they began.

        One or another may not quite be due yet: whoever asks looks at each of them.
        """
        runs_on = now.boot == last.boot and now.elapsed >= last.elapsed and now.utc >= last.utc
        if self._last != last or not runs_on:
            self._waits, self._counting, self._by_day = Waits(), [], []
        for wait in waits.news(self._waits):
            self._line_up(wait, last, now)
        self._waits, self._last = waits, now if runs_on else None
        due = {wait.id: wait for queue, at in self._queues(now) for wait in self._popped(queue, at)}
        for wait in due.values():
            self._line_up(wait, now, now)
        return sorted(due.values(), key=waits.begun_as)

    def _queues(self, now: Moment) -> tuple[tuple[list[tuple[float, str]], float], ...]:
        return (self._counting, now.elapsed), (self._by_day, now.utc.timestamp())

    def _line_up(self, wait: Wait, last: Moment, now: Moment) -> None:
        """Put a wait into the queue of its clock, by what is due next after one moment."""
        gone = running.elapsed(wait, last)
        second = self._seconds(wait, gone) if running.is_running(wait) else None
        if second is None:
            return
        counts = wait.since.boot == now.boot
        since = wait.since.elapsed if counts else wait.since.utc.timestamp()
        # What has gone by is not lost where a clock goes back behind the wait's own beginning.
        at = -inf if gone >= second else since + second - wait.banked
        heappush(self._counting if counts else self._by_day, (at, wait.id))

    def _popped(self, queue: list[tuple[float, str]], at: float) -> Iterator[Wait]:
        while queue and queue[0][0] <= at + SLACK:
            wait = self._waits.get(heappop(queue)[1])
            if wait is not None:
                yield wait
