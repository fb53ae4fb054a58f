"""What the last act was that can be taken back."""

from __future__ import annotations

from attrs import evolve

from vatside.log.events.day import (
    AdviceTaken,
    AlarmQuieted,
    ClockCorrected,
    ClockSlept,
    ClockStepped,
    Entry,
    PinCleared,
    PinSet,
    PlanChanged,
    SessionReopened,
    StepReopened,
    Undone,
    Unknown,
)
from vatside.log.events.vat import ReadingTaken
from vatside.log.fold import State, fold
from vatside.log.session import Session
from vatside.log.words.day import words

NO_ACTS = (AlarmQuieted, ClockCorrected, ClockSlept, ClockStepped, SessionReopened, Undone, Unknown)
"""What the clock did, an alarm heard, or what was already taken back: no act of the dyer."""
TYPED = (PlanChanged, PinSet, PinCleared, AdviceTaken)
"""Each of these is an act of its own; others belong together if they were logged at one moment."""


def last_act(state: State) -> tuple[Entry, ...]:
    """Give the entries of the latest act of the dyer that still counts, the latest first."""
    found: list[Entry] = []
    for entry in reversed(state.entries):
        if entry.seq in state.undone or (isinstance(entry.event, NO_ACTS) and not _is_part(entry, found)):
            continue
        if found and not _together(entry, found[-1]):
            break
        found.append(entry)
    return tuple(found)


def said_of(session: Session, entry: Entry) -> str:
    """Say what an entry was, by how things stood until then: what it took out has a name only there."""
    before = fold(evolve(session, entries=tuple(item for item in session.entries if item.seq < entry.seq)))
    return words(entry.event, before)


def _is_part(entry: Entry, found: list[Entry]) -> bool:
    """A reading gone on with takes back the one before it, a step opened again what had begun with it."""
    if not isinstance(entry.event, Undone) or not found or entry.at != found[-1].at:
        return False
    return any(isinstance(later.event, ReadingTaken | StepReopened) for later in found)


def _together(entry: Entry, later: Entry) -> bool:
    """A wait that was ended and its step that was done are one act."""
    return entry.at == later.at and not isinstance(entry.event, TYPED) and not isinstance(later.event, TYPED)
