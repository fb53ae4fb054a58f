"""What the last act was that can be taken back."""

from __future__ import annotations

from vatside.session.events import (
    CautionAcknowledged,
    Entry,
    LotAdded,
    LotRemoved,
    NoteWritten,
    PinCleared,
    PinSet,
    PlanChanged,
    StepDone,
    StepReopened,
    WaitEnded,
    WaitExtended,
    WaitPaused,
    WaitResumed,
    WaitStarted,
)
from vatside.session.state import State

TYPED = (PlanChanged, PinSet, PinCleared)
"""Each of these is an act of its own."""
JOINED = (
    CautionAcknowledged, LotAdded, LotRemoved, NoteWritten, StepDone, StepReopened, WaitEnded, WaitExtended,
    WaitPaused, WaitResumed, WaitStarted,
)  # fmt: skip
"""These belong together if they were logged at one moment: a wait ended and its step done."""


def last_act(state: State) -> tuple[Entry, ...]:
    """Give the entries of the latest act of the dyer that still counts, the latest first.

    What the clock did or an alarm heard is no act of hers.
    """
    found: list[Entry] = []
    for entry in reversed(state.entries):
        if entry.seq in state.undone or not isinstance(entry.event, TYPED + JOINED):
            continue
        if found and not _together(entry, found[-1]):
            break
        found.append(entry)
    return tuple(found)


def _together(entry: Entry, later: Entry) -> bool:
    return entry.at == later.at and isinstance(entry.event, JOINED) and isinstance(later.event, JOINED)
