"""A session as long as nobody's day is, made of what days are made of."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from itertools import count, islice

from tests.clocks.virtual_clock import VirtualClock
from tests.plan.plans import wool_plan

from vatside.log.events.day import (
    AlarmQuieted,
    Entry,
    Event,
    NoteWritten,
    PlanChanged,
    StepDone,
    StepReopened,
    Undone,
    WaitEnded,
    WaitExtended,
    WaitStarted,
)
from vatside.log.state import Session
from vatside.units import Amount

LONG = 10_000
EVERY_SECONDS = 3.6
"""Ten thousand events then fill a day of ten hours."""


def long_session(length: int = LONG) -> Session:
    """Give a session with so many entries."""
    clock = VirtualClock(datetime(2026, 5, 2, 8, 0, tzinfo=UTC))
    created = clock.utc
    entries = []
    for seq, event in enumerate(islice(events(), length), start=1):
        clock.advance(EVERY_SECONDS)
        entries.append(Entry(seq, clock.now(), event))
    return Session("bench", created, wool_plan("A long day"), tuple(entries))


def events() -> Iterator[Event]:
    """Give events without end: a form being filled, a wait, a step, a note, and now and then something taken back."""
    for turn in count():
        wait, step = f"w{turn}", f"scour.wool.{turn % 40}"
        yield PlanChanged("lots.a.mass", Amount(200 + turn % 90, "g"))
        yield PlanChanged("water.hot", Amount(50 + turn % 9, "degC"))
        yield WaitStarted(wait, step, "Hold", 20 + turn % 40, (5.0, 10.0, 15.0), ("stir", "turn over", "stir"))
        yield WaitExtended(wait, 5)
        yield AlarmQuieted(wait)
        yield WaitEnded(wait)
        yield StepDone(step)
        yield PlanChanged("title", f"Blue day {turn}")
        yield NoteWritten(f"Skein {turn}: even, a little lighter at the tie")
        yield Undone(turn * 10 + 8) if turn % 10 == 9 else StepReopened(step)
