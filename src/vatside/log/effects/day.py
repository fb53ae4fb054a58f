"""What each kind of event does to how things stand.

To add a kind: one frozen class in `log/events/day.py` (and in its union), one function registered here, and its words
in `log/words/day.py`. A function raises KeyError for what is not there and ValueError, in words, for what does not fit;
the event then stays in the log and changes nothing.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import singledispatch

from attrs import evolve

from vatside.dayline.day_steps import GENTLE, ROTATE
from vatside.forms.fields import check_change, check_pins, plan_problems, powder_rows
from vatside.log import waits
from vatside.log.events import day as events
from vatside.log.state import Note, State
from vatside.log.waits import Moment, Wait
from vatside.plan.measures import plant_after
from vatside.plan.paths import add_lot, is_pin, pieces_of, remove_lot, set_value, with_method
from vatside.plan.plan import FieldValue, Plan
from vatside.units import Kind, fits, show_amount


@singledispatch
def carry_out(_event: events.Event, state: State, _at: Moment) -> State:
    """Give the state after an event; kinds without a function of their own change nothing."""
    return state


@carry_out.register
def _(event: events.PlanChanged, state: State, _at: Moment) -> State:
    return _set(state, event.path, event.value)


@carry_out.register
def _(event: events.PiecesWeighed, state: State, _at: Moment) -> State:
    return _set(_set(state, event.path, event.value), pieces_of(event.path), event.pieces)


@carry_out.register
def _(event: events.MethodChosen, state: State, _at: Moment) -> State:
    check_change(state.plan, event.path, event.value)
    return evolve(state, plan=with_method(state.plan, str(event.value)))


@carry_out.register
def _(event: events.PowderTaken, state: State, _at: Moment) -> State:
    values = powder_rows(state.plan, event.place, event.entry)
    if not values:
        raise KeyError(f"use for {event.place}")
    for path, value in values.items():
        state = _set(state, path, value)
    return state


@carry_out.register
def _(event: events.LotAdded, state: State, _at: Moment) -> State:
    plan = add_lot(state.plan, event.lot)
    problems = plan_problems(plan)
    if problems:
        raise ValueError(problems[0])
    return _with_plan(state, plan)


@carry_out.register
def _(event: events.LotRemoved, state: State, _at: Moment) -> State:
    if all(lot.id != event.lot for lot in state.plan.lots):
        raise KeyError(f"lot {event.lot}")
    if len(state.plan.lots) == 1:
        raise ValueError("the last lot stays")
    return _with_plan(state, remove_lot(state.plan, event.lot))


@carry_out.register
def _(event: events.ColourNoted, state: State, _at: Moment) -> State:
    if all(lot.id != event.lot for lot in state.plan.lots):
        raise KeyError(f"lot {event.lot}")
    if event.depth is not None and not (fits(event.depth.unit, Kind.PERCENT) and event.depth.value >= 0):
        raise ValueError(f"{show_amount(event.depth)} is no depth")
    if event.lab and len(event.lab) != len("Lab"):
        raise ValueError("a measured colour has three numbers: L*, a* and b*")
    return state


@carry_out.register
def _(event: events.PinSet, state: State, _at: Moment) -> State:
    if not is_pin(event.figure):
        raise KeyError(f"figure {event.figure}")
    return _set(state, event.figure, event.amount)


@carry_out.register
def _(event: events.PinCleared, state: State, _at: Moment) -> State:
    if not is_pin(event.figure):
        raise KeyError(f"figure {event.figure}")
    return _set(state, event.figure, None)


@carry_out.register
def _(event: events.AdviceTaken, state: State, _at: Moment) -> State:
    for put in event.places:
        state = _set(state, put.path, put.amount)
    return state


@carry_out.register
def _(event: events.StepDone, state: State, at: Moment) -> State:
    first = dict.fromkeys(_done_before(state, event.step), at)
    return evolve(state, done={**first, **state.done, event.step: at})


def _done_before(state: State, step: str) -> tuple[str, ...]:
    """Give what is done with a step: with the last dips, those of wool, hair and silk before the plant fibres.

    Logs of days before the dips were parted know the last only.
    """
    return (GENTLE,) if step == ROTATE and plant_after(state.plan) else ()


@carry_out.register
def _(event: events.StepReopened, state: State, _at: Moment) -> State:
    if event.step not in state.done:
        raise KeyError(f"finished step {event.step}")
    return evolve(state, done={step: when for step, when in state.done.items() if step != event.step})


@carry_out.register
def _(event: events.CautionAcknowledged, state: State, at: Moment) -> State:
    by_caution = dict(zip(event.cautions, event.here, strict=False))
    read = {caution: (at, by_caution.get(caution)) for caution in event.cautions}
    known = state.acknowledged.get(event.step, {})
    return evolve(state, acknowledged={**state.acknowledged, event.step: {**known, **read}})


@carry_out.register
def _(_event: events.ReducerFound, state: State, _at: Moment) -> State:
    """A tub that is bad now is looked into again before anything of it goes in, whatever was said of it before."""
    left = {
        step: {key: when for key, when in read.items() if key != REDUCER} for step, read in state.acknowledged.items()
    }
    return evolve(state, acknowledged=left)


REDUCER = "reducer"
"""The caution of reducers that heat themselves when damp."""


@carry_out.register
def _(event: events.NoteWritten, state: State, at: Moment) -> State:
    return evolve(state, notes=state.notes.and_one(Note(at, event.text)))


@carry_out.register
def _(event: events.WaitStarted, state: State, at: Moment) -> State:
    wait = Wait(
        id=event.wait,
        step=event.step,
        label=event.label,
        minutes=waits.sane_minutes(event.minutes),
        started=at,
        since=at,
        nudges=event.nudges,
        nudge_labels=event.nudge_labels,
    )
    return evolve(state, waits=state.waits.begun(wait))


@carry_out.register
def _(event: events.WaitPaused, state: State, at: Moment) -> State:
    return _change_wait(state, event.wait, waits.is_running, lambda wait: waits.paused(wait, at))


@carry_out.register
def _(event: events.WaitResumed, state: State, at: Moment) -> State:
    return _change_wait(state, event.wait, waits.is_paused, lambda wait: waits.resumed(wait, at))


@carry_out.register
def _(event: events.WaitExtended, state: State, _at: Moment) -> State:
    return _change_wait(state, event.wait, _any, lambda wait: waits.extended(wait, event.minutes))


@carry_out.register
def _(event: events.AlarmQuieted, state: State, at: Moment) -> State:
    """An alarm that was heard stays in the log when its wait is taken back."""
    if not any(wait.id == event.wait for wait in state.waits):
        return state
    return _change_wait(state, event.wait, _any, lambda wait: waits.quieted(wait, at))


@carry_out.register
def _(event: events.WaitEnded, state: State, at: Moment) -> State:
    ended = waits.ended(_open_wait(state, event.wait), at)
    return evolve(state, waits=state.waits.without(event.wait), past_waits=state.past_waits.and_one(ended))


@carry_out.register
def _(event: events.ClockCorrected, state: State, _at: Moment) -> State:
    return evolve(state, waits=state.waits.each(lambda wait: waits.corrected(wait, event.seconds)))


@carry_out.register
def _(event: events.DayLaid, state: State, _at: Moment) -> State:
    if not _holds_together(event):
        raise ValueError("a plan of the day that does not hold together")
    return evolve(state, laid=event)


LONGEST_BREAK_MIN = 24 * 60
"""Longer is no break of a day."""


def _holds_together(event: events.DayLaid) -> bool:
    """Tell whether a day can be held to a plan: what it names is there, spans have numbers, breaks are breaks."""
    named = all(task in event.starts for task in event.rounds)
    numbered = all(span.isascii() and span.isdigit() for span in event.units)
    return named and numbered and all(0 < minutes <= LONGEST_BREAK_MIN for _, minutes in event.breaks)


def _set(state: State, path: str, value: FieldValue) -> State:
    """Set one place of the plan; KeyError or ValueError if the form would not have let it through."""
    check_change(state.plan, path, value)
    plan = set_value(state.plan, path, value)
    check_pins(plan)
    return _with_plan(state, plan)


def _with_plan(state: State, plan: Plan) -> State:
    """Change the plan; what has gone into stock and vat stays what it was."""
    if state.done:
        from vatside.dayline.step_uses import as_gone_in  # late: a day that has not begun holds nothing

        plan = as_gone_in(state.done, state.plan, plan)
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
        raise ValueError(f"{wait.label} is {'paused' if waits.is_paused(wait) else 'running'} already")
    return evolve(state, waits=state.waits.changed(change(wait)))
