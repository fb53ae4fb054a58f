"""Sessions for the tests."""

from __future__ import annotations

from datetime import UTC, datetime

from tests.clocks.virtual_clock import VirtualClock
from tests.plan.plans import wool_plan

from vatside.log.events.day import (
    AlarmQuieted,
    CautionAcknowledged,
    ClockSlept,
    Entry,
    Event,
    LotAdded,
    NoteWritten,
    PinSet,
    PlanChanged,
    SessionReopened,
    StepDone,
    Undone,
    WaitEnded,
    WaitExtended,
    WaitPaused,
    WaitResumed,
    WaitStarted,
)
from vatside.log.state import Session
from vatside.plan.starter import new_lot
from vatside.units import Amount

CREATED = datetime(2026, 5, 2, 8, 0, tzinfo=UTC)


def logged(*events: Event, clock: VirtualClock | None = None, every: float = 60.0) -> tuple[Entry, ...]:
    """Log events one after another, some seconds apart."""
    clock = clock or VirtualClock(CREATED)
    entries = []
    for seq, event in enumerate(events, start=1):
        clock.advance(every)
        entries.append(Entry(seq, clock.now(), event))
    return tuple(entries)


def session(*events: Event, clock: VirtualClock | None = None) -> Session:
    """Give a session with these events, a minute apart."""
    return Session("s1", CREATED, wool_plan("Blue Saturday"), logged(*events, clock=clock))


def a_day() -> tuple[Event, ...]:
    """Events of every common kind, in an order in which they fit."""
    return (
        NoteWritten("skeins tied, ½ lb"),
        PlanChanged("lots.a.mass", Amount(250, "g")),
        PlanChanged("title", "Blue Sunday"),
        PinSet("stock.pigment", Amount(4, "tsp")),
        LotAdded(new_lot(wool_plan())),
        CautionAcknowledged("stock.lye", ("lye",)),
        WaitStarted("w7", "scour.hold", "Scour hold", 60, (15, 30, 45), ("Stir", "Turn over", "Stir")),
        WaitStarted("w8", None, "Wet out", 20),
        WaitPaused("w8"),
        WaitResumed("w8"),
        WaitExtended("w8", 5),
        StepDone("scour.fill"),
        PlanChanged("lots.a.mass", Amount(300, "g")),
        Undone(13),
        WaitEnded("w8"),
        AlarmQuieted("w7"),
        ClockSlept(700),
        SessionReopened(),
    )
