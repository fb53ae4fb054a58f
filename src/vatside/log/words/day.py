"""What happened, one line an event, in the dyer's words and on her clock.

A kind of event without words of its own here is named by its kind.
"""

from __future__ import annotations

from datetime import datetime, tzinfo
from functools import lru_cache

from vatside.catalogue.load import materials
from vatside.dayline.day_steps import steps as steps_of
from vatside.dayline.steps import caution
from vatside.forms.fields import FieldValue, rows
from vatside.log.events import day as events
from vatside.log.events.vat import CareEvent, DipEvent, KeptEvent, StockEvent
from vatside.log.fold import State, fold, history, so_far
from vatside.log.state import Session
from vatside.log.words.vat import BY_HAND, addition_words, care_words, dip_words, kept_words, stock_words
from vatside.plan.hours import whole_hour_words
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.compute import untried
from vatside.units import Amount, show_amount, show_count, show_minutes
from vatside.units.show import plain, span


def log_lines(session: Session, zone: tzinfo | None = None) -> list[str]:
    """Say what happened, one line an event; local time in `zone`, or in the machine's own."""
    final = fold(session)
    misfits = {misfit.seq: misfit.text for misfit in final.misfits}
    lines = []
    for entry, before in zip(session.entries, history(session), strict=False):
        text = plain(entry_words(entry, before, session))
        if entry.seq in misfits:
            text = f"{text} [not carried out: {plain(misfits[entry.seq])}]"
        elif entry.seq in final.undone:
            text = f"{text} [taken back]"
        lines.append(f"{local(entry.at.utc, zone)}  {text}")
    return lines


def local(utc: datetime, zone: tzinfo | None = None) -> str:
    """Write a moment as local time with its zone offset: `2026-05-02 10:01:13 +02:00`."""
    wall = utc.astimezone(zone)
    offset = f"{wall:%z}"
    return f"{wall:%Y-%m-%d %H:%M:%S} {offset[:3]}:{offset[3:5]}"


def entry_words(entry: events.Entry, before: State, session: Session) -> str:
    """An undo is named by what it takes back, an undo of an undo by what it brings back."""
    event: events.Event | None = entry.event
    seq, undos = entry.seq, 0
    while isinstance(event, events.Undone):
        undos += 1
        known = 0 < event.event < seq
        seq, event = event.event, session.entries[event.event - 1].event if known else None
    named = words(event, before) if event is not None else "an entry that is not there"
    return _undoing(undos) + named


def _undoing(undos: int) -> str:
    if undos == 0:
        return ""
    return "Taken back: " if undos % 2 else "Brought back: "


def words(event: events.Event, before: State) -> str:
    """Say what an event was; `before` is how things stood until then."""
    if isinstance(event, StockEvent):
        return stock_words(event, before.plan)
    if isinstance(event, KeptEvent):
        return kept_words(event)
    if isinstance(event, CareEvent):
        return care_words(event, before.plan)
    if isinstance(event, DipEvent):
        return dip_words(event, before)
    families = (_of_the_plan, _of_a_step, _of_a_wait, _of_the_clock, _of_other_days)
    texts = (family(event, before) for family in families)
    return next(filter(None, texts), event.kind.replace("_", " ").capitalize())


def _of_the_plan(event: events.Event, before: State) -> str:
    match event:
        case events.PiecesWeighed():
            name, value = _row(before.plan, event.path, event.value)
            return f"{name} set to {value}, {show_count(event.pieces, 'piece')}"
        case events.PlanChanged():
            name, value = _row(before.plan, event.path, event.value)
            return f"{name} set to {value}" if value else f"{name} left open"
        case events.PinSet():
            name, value = _row(before.plan, event.figure, event.amount)
            return f"{name} set to {value}"
        case events.PinCleared():
            return f"{_row(before.plan, event.figure, None)[0]} follows the plan again"
        case events.AdviceTaken():
            return f"Put right: {event.label}"
        case events.LotAdded():
            return f"Lot taken in: {event.lot.name}, {show_amount(event.lot.mass)}"
        case events.LotRemoved():
            return f"Lot taken out: {_lot_name(before, event.lot)}"
    return ""


def _of_a_step(event: events.Event, before: State) -> str:
    match event:
        case events.StepDone():
            return f"Done: {step_text(before, event.step)}"
        case events.StepReopened():
            return f"Open again: {step_text(before, event.step)}"
        case events.CautionAcknowledged():
            read = ", ".join(_caution_title(name) for name in event.cautions)
            return f"Cautions read: {read} (before: {step_text(before, event.step)})"
        case events.ReducerFound():
            return f"Tub of reducer found {event.tub}: none of it goes in"
        case events.DoneAllTheSame():
            return f"Done all the same, although: {event.why}"
    return ""


def _of_a_wait(event: events.Event, before: State) -> str:
    match event:
        case events.WaitStarted():
            return f"Wait started: {event.label}, {show_minutes(event.minutes)}"
        case events.WaitPaused():
            return f"Wait paused: {_wait_label(before, event.wait)}"
        case events.WaitResumed():
            return f"Wait goes on: {_wait_label(before, event.wait)}"
        case events.WaitExtended():
            change = "longer" if event.minutes >= 0 else "shorter"
            return f"Wait {show_minutes(abs(event.minutes))} {change}: {_wait_label(before, event.wait)}"
        case events.WaitEnded():
            return f"Wait ended: {_wait_label(before, event.wait)}"
        case events.AlarmQuieted():
            return f"Alarm heard: {_wait_label(before, event.wait)}"
    return ""


def _of_the_clock(event: events.Event, _before: State) -> str:
    match event:
        case events.ClockSlept():
            return f"The machine slept or stood still for {span(event.seconds)}"
        case events.ClockStepped():
            return f"The clock was set {'forward' if event.seconds > 0 else 'back'} by {span(abs(event.seconds))}"
        case events.ClockCorrected():
            return f"The waits were put {'forward' if event.seconds > 0 else 'back'} by {span(abs(event.seconds))}"
        case events.SessionReopened():
            return "Session opened again"
        case events.NoteWritten():
            return f"Note: {event.text}"
        case events.DayLaid():
            return f"The day as it was laid out, {show_count(len(event.starts), 'step')}"
        case events.Unknown():
            return f"Something that this version does not know: {event.name}"
    return ""


def _of_other_days(event: events.Event, before: State) -> str:
    """What comes from the shelf, or out of the day."""
    match event:
        case events.PowderTaken():
            known = materials().get(event.entry.material)
            lot = f", {event.lot}" if event.lot else ""
            name = known.name if known else event.entry.material
            return f"From the shelf: {name}{lot}, {show_amount(event.entry.purity)}"
        case events.ColourNoted():
            depth = show_amount(event.depth) if event.depth is not None else ""
            lab = "L* a* b* " + ", ".join(f"{number:g}" for number in event.lab) if event.lab else ""
            colour = ", ".join(part for part in (event.words, depth, lab) if part)
            return f"Colour of {_lot_name(before, event.lot)}: {colour}"
    return ""


def _lot_name(before: State, lot_id: str) -> str:
    return next((lot.name for lot in before.plan.lots if lot.id == lot_id), lot_id)


def step_text(before: State, step: str) -> str:
    """The sentence of a step as things stood; its id if the plan has no such step."""
    if step.startswith(BY_HAND):
        return addition_words(step.removeprefix(BY_HAND), before.plan)
    if before.dipping.pieces and step.startswith(("dip.", "finish.")):
        return _texts(before.plan, untried(before.plan, so_far(before))).get(step, step)
    return _step_texts(before.plan).get(step, step)


@lru_cache(maxsize=4)
def _step_texts(plan: Plan) -> dict[str, str]:
    return _texts(plan, untried(plan))


def _texts(plan: Plan, sheet: Sheet) -> dict[str, str]:
    return {step.id: step.text for step in steps_of(plan, sheet)}


def _caution_title(name: str) -> str:
    try:
        return caution(name).title
    except KeyError:
        return name


def _wait_label(before: State, wait_id: str) -> str:
    past = reversed(before.past_waits)
    known = before.waits.get(wait_id) or next((wait for wait in past if wait.id == wait_id), None)
    return known.label if known else wait_id


def _row(plan: Plan, path: str, value: FieldValue) -> tuple[str, str]:
    """Name a place of the plan and print a value for it, as the form does."""
    row = rows(plan).get(path)
    if row is None:
        return path, _value(value)
    name = f"{row.group}, {row.label.lower()}" if row.group else row.label
    if row.clock and isinstance(value, str):
        return name, whole_hour_words(value)
    return name, dict(row.choices).get(str(value)) or _value(value)


def _value(value: FieldValue) -> str:
    if value is None:
        return ""
    return show_amount(value) if isinstance(value, Amount) else str(value)
