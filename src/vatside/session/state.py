"""What follows from a session: the fold of its log over its plan.

Live running, reopening and replay all go through `apply`. To add a kind of event: one frozen class in
`events.py` (and in its union) and one function registered here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import datetime
from functools import singledispatch

from attrs import evolve, frozen

from vatside.recipe.place import add_lot, is_pin, remove_lot, set_value
from vatside.recipe.plan import Plan
from vatside.session import waits as running
from vatside.session.events import (
    AlarmQuieted,
    CautionAcknowledged,
    ClockCorrected,
    Entry,
    Event,
    FieldValue,
    LotAdded,
    LotRemoved,
    Moment,
    NoteWritten,
    PinCleared,
    PinSet,
    PlanChanged,
    StepDone,
    StepReopened,
    Undone,
    WaitEnded,
    WaitExtended,
    WaitPaused,
    WaitResumed,
    WaitStarted,
)
from vatside.session.fitting import check_change, check_pins, plan_problems
from vatside.session.session import Session
from vatside.session.waits import Wait


@frozen
class Note:
    """Free words and when they were written."""

    at: Moment
    text: str


@frozen
class Misfit:
    """An event that could not be carried out; it stays in the log and changes nothing."""

    seq: int
    text: str


@frozen
class State:
    """How things stand after some entries of a log."""

    session: str
    """Id of the session."""
    created: datetime
    initial: Plan
    """The plan as the session began with."""
    plan: Plan
    """The plan now, changes and pins included."""
    done: Mapping[str, Moment]
    """Finished steps, by id."""
    acknowledged: Mapping[str, tuple[str, ...]]
    """Cautions read, by step."""
    waits: tuple[Wait, ...]
    """Waits not ended yet, in the order in which they were started."""
    past_waits: tuple[Wait, ...]
    """Ended waits, in the order in which they ended."""
    notes: tuple[Note, ...]
    entries: tuple[Entry, ...]
    """The whole log, taken-back entries included."""
    undone: frozenset[int]
    """Numbers of the entries that are taken back."""
    misfits: tuple[Misfit, ...]

    @property
    def last(self) -> Moment | None:
        """When the latest entry was made; None for an empty log."""
        return self.entries[-1].at if self.entries else None

    @property
    def seq(self) -> int:
        """Number of the latest entry; 0 for an empty log."""
        return self.entries[-1].seq if self.entries else 0

    def wait(self, wait_id: str) -> Wait:
        """Give an open wait; KeyError if there is none of that id."""
        for wait in self.waits:
            if wait.id == wait_id:
                return wait
        raise KeyError(wait_id)


def initial_state(session: Session) -> State:
    """Give the state before the first entry."""
    plan = session.plan
    return State(
        session.id, session.created, plan, plan, {}, {}, (), (), (), (), frozenset(), ()
    )  # fmt: skip


def fold(session: Session) -> State:
    """Give the state after the whole log."""
    undone = taken_back(session.entries)
    state = evolve(initial_state(session), undone=undone)
    last: Moment | None = None
    for entry in session.entries:
        state = _carry_out(state, entry, last, skip=entry.seq in undone)
        last = entry.at
    return evolve(state, entries=session.entries)


def apply(state: State, entry: Entry) -> State:
    """Give the state after one more entry; taking something back goes through the log anew."""
    if isinstance(entry.event, Undone):
        return fold(Session(state.session, state.created, state.initial, (*state.entries, entry)))
    return evolve(_carry_out(state, entry, state.last), entries=(*state.entries, entry))


def taken_back(entries: Iterable[Entry]) -> frozenset[int]:
    """Numbers of the entries that do not count; read from the end, as an undo can itself be undone."""
    undone: set[int] = set()
    for entry in reversed(tuple(entries)):
        if isinstance(entry.event, Undone) and entry.seq not in undone and entry.event.event < entry.seq:
            undone.add(entry.event.event)
    return frozenset(undone)


def _carry_out(state: State, entry: Entry, last: Moment | None, *, skip: bool = False) -> State:
    """Let one entry change the state; one that does not fit is noted as a misfit."""
    if last is not None and last.boot != entry.at.boot:
        state = _tie_waits(state, entry.at)
    if skip:
        return state
    try:
        return carry_out(entry.event, state, entry.at)
    except (KeyError, ValueError) as error:
        return evolve(state, misfits=(*state.misfits, Misfit(entry.seq, _reason(error))))


def _reason(error: KeyError | ValueError) -> str:
    return f"there is no {error.args[0]} here" if isinstance(error, KeyError) else str(error)


def _tie_waits(state: State, at: Moment) -> State:
    """On the first entry of another boot, tie the waits to its clocks: the time of day bridges the gap once."""
    return evolve(state, waits=tuple(running.tied(wait, at) for wait in state.waits))


@singledispatch
def carry_out(_event: Event, state: State, _at: Moment) -> State:
    """Give the state after an event; kinds without a function of their own change nothing."""
    return state


@carry_out.register
def _(event: PlanChanged, state: State, _at: Moment) -> State:
    return _set(state, event.path, event.value)


@carry_out.register
def _(event: LotAdded, state: State, _at: Moment) -> State:
    plan = add_lot(state.plan, event.lot)
    problems = plan_problems(plan)
    if problems:
        raise ValueError(problems[0])
    return evolve(state, plan=plan)


@carry_out.register
def _(event: LotRemoved, state: State, _at: Moment) -> State:
    if all(lot.id != event.lot for lot in state.plan.lots):
        raise KeyError(f"lot {event.lot}")
    return evolve(state, plan=remove_lot(state.plan, event.lot))


@carry_out.register
def _(event: PinSet, state: State, _at: Moment) -> State:
    if not is_pin(event.figure):
        raise KeyError(f"figure {event.figure}")
    return _set(state, event.figure, event.amount)


@carry_out.register
def _(event: PinCleared, state: State, _at: Moment) -> State:
    if not is_pin(event.figure):
        raise KeyError(f"figure {event.figure}")
    return _set(state, event.figure, None)


@carry_out.register
def _(event: StepDone, state: State, at: Moment) -> State:
    return evolve(state, done={**state.done, event.step: at})


@carry_out.register
def _(event: StepReopened, state: State, _at: Moment) -> State:
    if event.step not in state.done:
        raise KeyError(f"finished step {event.step}")
    return evolve(state, done={step: when for step, when in state.done.items() if step != event.step})


@carry_out.register
def _(event: CautionAcknowledged, state: State, _at: Moment) -> State:
    known = state.acknowledged.get(event.step, ())
    new = tuple(caution for caution in event.cautions if caution not in known)
    return evolve(state, acknowledged={**state.acknowledged, event.step: known + new})


@carry_out.register
def _(event: NoteWritten, state: State, at: Moment) -> State:
    return evolve(state, notes=(*state.notes, Note(at, event.text)))


@carry_out.register
def _(event: WaitStarted, state: State, at: Moment) -> State:
    if any(wait.id == event.wait for wait in state.waits):
        raise ValueError(f"wait {event.wait} runs already")
    wait = Wait(
        id=event.wait,
        step=event.step,
        label=event.label,
        minutes=running.sane_minutes(event.minutes),
        started=at,
        since=at,
        nudges=event.nudges,
        nudge_labels=event.nudge_labels,
    )
    return evolve(state, waits=(*state.waits, wait))


@carry_out.register
def _(event: WaitPaused, state: State, at: Moment) -> State:
    return _change_wait(state, event.wait, running.is_running, lambda wait: running.paused(wait, at))


@carry_out.register
def _(event: WaitResumed, state: State, at: Moment) -> State:
    return _change_wait(state, event.wait, running.is_paused, lambda wait: running.resumed(wait, at))


@carry_out.register
def _(event: WaitExtended, state: State, _at: Moment) -> State:
    return _change_wait(state, event.wait, _any, lambda wait: running.extended(wait, event.minutes))


@carry_out.register
def _(event: AlarmQuieted, state: State, at: Moment) -> State:
    return _change_wait(state, event.wait, _any, lambda wait: running.quieted(wait, at))


@carry_out.register
def _(event: WaitEnded, state: State, at: Moment) -> State:
    ended = running.ended(_open_wait(state, event.wait), at)
    others = tuple(wait for wait in state.waits if wait.id != event.wait)
    return evolve(state, waits=others, past_waits=(*state.past_waits, ended))


@carry_out.register
def _(event: ClockCorrected, state: State, _at: Moment) -> State:
    return evolve(state, waits=tuple(running.corrected(wait, event.seconds) for wait in state.waits))


def _set(state: State, path: str, value: FieldValue) -> State:
    """Set one place of the plan; KeyError or ValueError if the form would not have let it through."""
    check_change(state.plan, path, value)
    plan = set_value(state.plan, path, value)
    check_pins(plan)
    return evolve(state, plan=plan)


def _any(_wait: Wait) -> bool:
    return True


def _open_wait(state: State, wait_id: str) -> Wait:
    try:
        return state.wait(wait_id)
    except KeyError:
        raise KeyError(f"running wait {wait_id}") from None


def _change_wait(state: State, wait_id: str, fits: Callable[[Wait], bool], change: Callable[[Wait], Wait]) -> State:
    """Replace one open wait; ValueError if it is not in a state that the change fits."""
    wait = _open_wait(state, wait_id)
    if not fits(wait):
        raise ValueError(f"{wait.label} is {'paused' if running.is_paused(wait) else 'running'} already")
    changed = change(wait)
    return evolve(state, waits=tuple(changed if old is wait else old for old in state.waits))
