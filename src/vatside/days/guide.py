"""A past day shown to a newcomer: where its replay stops, what happens there and which key does it."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from attrs import frozen

from vatside.log.events.day import (
    AlarmQuieted,
    CautionAcknowledged,
    Event,
    NoteWritten,
    PinSet,
    PlanChanged,
    StepDone,
    VatKept,
    WaitStarted,
)
from vatside.log.events.pieces import DipEnded, DipStarted, SwatchRecorded
from vatside.log.events.vat import CorrectionMade, ReadingTaken, VatMade, VatSpent
from vatside.log.session import Session


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
    found = sorted(_found(session), key=lambda stop: stop.seq)
    last = len(session.entries)
    shown = tuple(stop for stop in found if stop.seq < last)
    return (Stop(0, "space", BEGIN), *shown, Stop(last, "b", END))


def _found(session: Session) -> Iterator[Stop]:
    for sight in SIGHTS:
        seq = next((entry.seq for entry in session.entries if sight.is_it(entry.event)), None)
        if seq is not None:
            yield Stop(seq, sight.key, sight.words)
