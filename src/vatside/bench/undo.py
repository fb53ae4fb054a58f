"""What the last act was that can be taken back, and what was taken back last that can be brought back."""

from __future__ import annotations

from collections.abc import Sequence

from attrs import evolve

from vatside.bench.desk import Desk, local
from vatside.log.events import day as events
from vatside.log.events.vat import ReadingTaken
from vatside.log.fold import State, fold
from vatside.log.state import Session
from vatside.log.words.day import words
from vatside.plan.hours import day_words
from vatside.plan.paths import NAMES

NO_ACTS = (
    events.AlarmQuieted, events.ClockCorrected, events.ClockSlept, events.ClockStepped, events.DayLaid,
    events.SessionReopened, events.Undone, events.Unknown,
)  # fmt: skip
"""What the clock did, how the day was laid, an alarm heard, or what was already taken back: no act of the dyer."""
TYPED = (events.PlanChanged, events.PinSet, events.PinCleared, events.AdviceTaken)
"""Each of these is an act of its own; others belong together if they were logged at one moment."""


def take_back(desk: Desk) -> str:
    """Take the last act back; say what it was. Of an earlier sitting it is asked first."""
    desk.settle()
    act = last_act(desk.state)
    if not act:
        return "There is nothing to take back."
    name = _named(desk, act)
    if is_earlier_sitting(desk.state, act) and not desk.once_more.answers(act[0], desk.seconds):
        when = day_words(local(act[0].at), local(desk.clock.now()).date())
        return f"Nothing of this sitting is left to take back. u once more takes back, from {when}: {name}"
    _log(desk, act)
    return f"Taken back: {name}"


def bring_back(desk: Desk) -> str:
    """Bring back what was taken back last, if nothing was done since; say what it was."""
    desk.settle()
    undo = last_undo(desk.state)
    if not undo:
        return "There is nothing to bring back."
    act = tuple(desk.state.entries[entry.event.event - 1] for entry in undo if isinstance(entry.event, events.Undone))
    name = _named(desk, act[::-1])
    _log(desk, undo)
    return f"Brought back: {name}"


def _named(desk: Desk, act: tuple[events.Entry, ...]) -> str:
    """Say what an act was, its latest entry first; what was done all the same is not its name."""
    named = next((entry for entry in reversed(act) if not isinstance(entry.event, events.DoneAllTheSame)), act[-1])
    return said_of(desk.keeping.session, named)


def _log(desk: Desk, entries: tuple[events.Entry, ...]) -> None:
    desk.wrong.clear()
    desk.log(*(events.Undone(entry.seq) for entry in entries))


def last_act(state: State) -> tuple[events.Entry, ...]:
    """Give the entries of the latest act of the dyer that still counts, the latest first."""
    act: list[events.Entry] = []
    for entry in reversed(state.entries):
        if entry.seq in state.undone or (isinstance(entry.event, NO_ACTS) and not _is_part(entry, act)):
            continue
        if act and not _together(entry, act[-1]):
            break
        act.append(entry)
    return tuple(act)


def is_earlier_sitting(state: State, act: tuple[events.Entry, ...]) -> bool:
    """Tell whether an act was done before the day was opened last."""
    opened = max((entry.seq for entry in state.entries if isinstance(entry.event, events.SessionReopened)), default=0)
    return bool(act) and act[-1].seq < opened


def last_undo(state: State) -> tuple[events.Entry, ...]:
    """Give the entries that took the latest act back, the latest first; none if anything was done since."""
    entries, at = state.entries, len(state.entries)
    while at:
        entry = entries[at - 1]
        if not isinstance(entry.event, events.Undone):
            if not isinstance(entry.event, NO_ACTS) and entry.seq not in state.undone:
                break
            at -= 1
            continue
        undo = _of_one_undo(entry, entries)
        if entry.seq not in state.undone and not _brings_back(undo, entries):
            return undo
        at -= len(undo)
    return ()


def _of_one_undo(last: events.Entry, entries: Sequence[events.Entry]) -> tuple[events.Entry, ...]:
    """Give what was logged with an undo: each entry of an act is taken back by its own, the latest first."""
    undos = [last]
    for entry in reversed(entries[: last.seq - 1]):
        if not isinstance(entry.event, events.Undone) or entry.at != last.at:
            break
        later, earlier = _target(entry, entries), _target(undos[-1], entries)
        if later is None or earlier is None or later.seq <= earlier.seq or not _together(earlier, later):
            break
        undos.append(entry)
    return tuple(undos)


def _brings_back(undo: tuple[events.Entry, ...], entries: Sequence[events.Entry]) -> bool:
    """Tell an undo that took an undo back, or that names nothing there is."""
    first = _target(undo[-1], entries)
    return first is None or isinstance(first.event, events.Undone)


def _target(undo: events.Entry, entries: Sequence[events.Entry]) -> events.Entry | None:
    """Give what an undo takes back."""
    event = undo.event
    return entries[event.event - 1] if isinstance(event, events.Undone) and 0 < event.event < undo.seq else None


def said_of(session: Session, entry: events.Entry) -> str:
    """Say what an entry was, by how things stood until then: what it took out has a name only there."""
    before = fold(evolve(session, entries=tuple(item for item in session.entries if item.seq < entry.seq)))
    return words(entry.event, before)


def _is_part(entry: events.Entry, act: list[events.Entry]) -> bool:
    """A reading gone on with takes back the one before it, a step opened again what had begun with it."""
    if not isinstance(entry.event, events.Undone) or not act or entry.at != act[-1].at:
        return False
    return any(isinstance(later.event, ReadingTaken | events.StepReopened) for later in act)


def _together(entry: events.Entry, later: events.Entry) -> bool:
    """A wait that was ended and its step that was done are one act; so are a piece that stays away and its name."""
    if isinstance(entry.event, events.PiecesWeighed) and isinstance(later.event, events.PlanChanged):
        return entry.at == later.at and later.event.path.endswith(f".{NAMES}")
    return entry.at == later.at and not isinstance(entry.event, TYPED) and not isinstance(later.event, TYPED)
