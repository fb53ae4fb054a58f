"""What the dyer does to a live vat, as events; each act answers with a sentence for her."""

from __future__ import annotations

from attrs import evolve

from vatside.bench.commands import free_wait
from vatside.bench.desk import Desk
from vatside.catalogue.looks import Colour
from vatside.dayline.day_steps import STOCK_IN
from vatside.dayline.rounds import BETWEEN
from vatside.days.keep_vat import FEEDING
from vatside.log.effects.vat import RAISED, grams, is_raising
from vatside.log.events import vat as events
from vatside.log.events.day import DoneAllTheSame, Entry, Event, StepDone, Undone, WaitEnded, WaitExtended
from vatside.log.events.vat import VatToppedUp
from vatside.log.fold import State
from vatside.log.state import happened, waits_for
from vatside.log.waits import Wait
from vatside.log.words.vat import care_words
from vatside.outlook.hand_acts import OXIDISE
from vatside.outlook.vat import Outlook, minute_of
from vatside.outlook.vat_deeds import (
    as_measured,
    as_proposed,
    impossible,
    longer_by,
    read_amount,
    rest_of,
    wait_after,
)
from vatside.outlook.vat_end import ACID_WAIT_MIN, acid_given, goes_l, needs_no_acid, pHs_round_acid, total_given
from vatside.outlook.vat_facts import dye_seen, is_good, weighable
from vatside.plan.measures import method_of, powder, reducer_of
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.compute import compute
from vatside.units import Amount, Problem, show_amount, show_minutes
from vatside.vat.corrections import Correction
from vatside.vat.reading import Reading
from vatside.vat.spent import PHRange
from vatside.vat.trust import Comparison

REST = "vat.rest_covered"
"""The step that follows all that goes into the vat."""


def begins_with(step_id: str, state: State) -> tuple[Event, ...]:
    """Give what begins with a step that was done: with the stock in the tub the vat, or the kept one is topped up.

    A kept vat that wants no stock is topped up when its rest begins.
    """
    if state.plan.kept is not None and state.tending.account is not None:
        topped = step_id in (STOCK_IN, REST) and not state.tending.topped_up
        return (VatToppedUp(),) if topped else ()
    return (_made(state),) if step_id == STOCK_IN and state.tending.account is None else ()


def _made(state: State) -> events.VatMade:
    """Give the beginning of a vat: as planned, or as warm as a stock that was read makes its water."""
    read = (taken.reading.celsius for taken in reversed(state.tending.readings))
    stock_C = next((celsius for celsius in read if celsius is not None), None)
    if stock_C is None:
        return events.VatMade()
    sheet = compute(state.plan)
    planned, share = sheet.value("vat.temperature"), sheet.value("vat.stock") / sheet.value("vat.liquor")
    return events.VatMade(temperature=Amount(round(planned + (stock_C - planned) * share, 1), "degC"))


READY = "vat.look"
"""The step that says of the vat that it may be dyed in."""
WARMED = "vat.warm"
"""The step in which a kept vat is warmed."""


def ended(step_id: str, state: State, sheet: Sheet) -> tuple[Event, ...]:
    """Give what a finished step says of the vat: warmed, it is that warm; ready, it lives; oxidised, it stays blue."""
    account = state.tending.account
    if account is None:
        return ()
    if step_id == WARMED and not state.tending.topped_up:
        return (events.CorrectionMade(remedy="warm", warmed_to=Amount(sheet.value("vat.temperature"), "degC")),)
    if step_id == BETWEEN and "dip.alkali" in sheet:
        amount = Amount(weighable(sheet["dip.alkali"].value), "g")
        return (events.CorrectionMade(remedy=RAISED, material="alkali", amount=amount),)
    if step_id == READY and account.asleep:
        return (events.DyeSeen(reduced=True),)
    return _spent(state) if step_id == OXIDISE and not state.tending.seen_spent else ()


def _spent(state: State) -> tuple[Event, ...]:
    """Give what is written down of a vat that was seen to stay blue: one that was kept is fed no more."""
    over = (WaitEnded(wait.id) for wait in _feeding(state))
    return (events.ReadingTaken(Reading(colour=Colour.BLUE)), events.VatSpent(), *over)


def undone_with(step_id: str, state: State) -> tuple[Event, ...]:
    """Give what a step takes back when it is opened again: a vat that nothing has happened to yet, or a topping up."""
    if step_id == OXIDISE:
        spent = happened(state, events.VatSpent)
        return _spent_undone(state, spent[-1]) if spent and not acid_given(state) else ()
    if step_id == BETWEEN:
        return tuple(Undone(entry.seq) for entry in happened(state, events.CorrectionMade) if is_raising(entry.event))
    topped = happened(state, VatToppedUp)
    if topped:
        return (Undone(topped[-1].seq),) if _topped_by(step_id, state) and not _relies_on_it(state) else ()
    tending = state.tending
    if step_id != STOCK_IN or tending.account is None or tending.readings or tending.corrections:
        return ()
    made = happened(state, events.VatMade)
    return (Undone(made[-1].seq),) if made else ()


def _spent_undone(state: State, spent: Entry) -> tuple[Event, ...]:
    """Give what takes it back that a vat stays blue, and that its feeding ended with that."""
    fed = [one for one in happened(state, WaitEnded) if one.at == spent.at and one.seq > spent.seq]
    return tuple(Undone(entry.seq) for entry in (spent, *fed))


def _topped_by(step_id: str, state: State) -> bool:
    """Tell whether a step is the one that tops a kept vat up: its rest only does where no stock went in."""
    return step_id == STOCK_IN or (step_id == REST and STOCK_IN not in state.done)


def _relies_on_it(state: State) -> bool:
    """Tell whether fibre went in or more stock was taken since: a kept vat can be read and corrected without."""
    stock = any(made.event.stock is not None for made in state.tending.corrections)
    return stock or bool(state.dipping.pieces) or bool(happened(state, events.LotDipped))


def take_reading(desk: Desk, reading: Reading, replaces: int = 0) -> str:
    """Write a reading down; the vat begins with it if its stock is in, and waits that asked for it are over.

    `replaces` is the number of the entry that it adds to; 0 for a new reading.
    """
    now = desk.clock.now()
    state = desk.state
    over = [view.id for view in desk.waits(now) if view.over]
    ended = [WaitEnded(wait.id) for wait in waits_for(state.tending, state.waits) if wait.id in over]
    started = begins_with(STOCK_IN, state) if STOCK_IN in state.done and state.tending.let_go is None else ()
    slower, rest_words = _stock_rest(desk, reading)
    seen = () if replaces else dye_seen(state, desk.sheet, reading, now)
    again = [Undone(replaces)] if replaces else []
    desk.log(*started, *again, events.ReadingTaken(reading), *seen, *ended, *slower, *_come_to_life(desk, reading))
    followed = "".join(f"; {care_words(event, state.plan).removeprefix('Vat: ')}" for event in seen)
    return f"Written down{rest_words}{followed}; u takes it back."


def _come_to_life(desk: Desk, reading: Reading) -> tuple[Event, ...]:
    """Give that the rest of a vat is over which lives by its signs, whatever the clock says [Aino2018]."""
    state = desk.state
    waits = [wait for wait in state.waits if wait.step == REST and wait.ended is None]
    lives = reducer_of(state.plan).breeds
    if not waits or not lives or not is_good(state, desk.sheet, reading):
        return ()
    return (WaitEnded(waits[0].id), *(() if REST in state.done else (StepDone(REST),)))


def _stock_rest(desk: Desk, reading: Reading) -> tuple[tuple[WaitExtended, ...], str]:
    """Give what moves the end of the stock's rest where it is warmer or cooler than was thought, and say it."""
    wait = rest_of(desk.state)
    view = next((view for view in desk.waits(desk.clock.now()) if wait is not None and view.id == wait.id), None)
    more = longer_by(desk.state, desk.sheet, reading, view.left / 60) if view is not None else 0.0
    if view is None or not more:
        return (), ""
    word = "slowly" if more > 0 else "quickly"
    left = show_minutes(view.left / 60 + more)
    return (WaitExtended(view.id, more),), f"; so warm it works more {word}: {left} of its rest to go"


def latest_entry(state: State) -> int:
    """Give the number of the entry of the latest reading; 0 if there is none."""
    readings = [entry.seq for entry in state.entries if isinstance(entry.event, events.ReadingTaken)]
    return max((seq for seq in readings if seq not in state.undone), default=0)


def correct(desk: Desk, correction: Correction, event: events.CorrectionMade) -> str:
    """Write a correction down as it was done, with what goes in before it, and start the wait that follows."""
    desk.settle()
    events = (*_along(correction, event, desk.state.plan), event)
    refused = impossible(desk.state, event, desk.clock.now())
    if refused:
        return f"Not written down: {refused}"
    wait = wait_after(correction, desk.state.seq + len(events) + 1)
    desk.log(*events, *([wait] if wait else []))
    words = "; ".join(care_words(one, desk.state.plan) for one in events)
    if wait is None:
        return f"{words}. u takes it back."
    return f"{words}. {wait.label} for {show_minutes(wait.minutes)}, then r: read it again."


def _along(correction: Correction, event: events.CorrectionMade, plan: Plan) -> tuple[events.CorrectionMade, ...]:
    """Give what goes in before a correction: more or less of it by as much as the correction itself was."""
    proposed = as_proposed(correction, plan)
    times = 1.0
    if event.amount is not None and proposed.amount is not None and correction.along:
        what = powder(plan, correction.material)
        times = grams(what, event.amount, plan) / grams(what, proposed.amount, plan)
    return tuple(as_proposed(evolve(item, grams=times * item.grams), plan) for item in correction.along)


def put_in(desk: Desk, event: events.CorrectionMade) -> str:
    """Write down what went in of her own."""
    refused = impossible(desk.state, event, desk.clock.now())
    if refused:
        return f"Not written down: {refused}"
    desk.log(event)
    return f"{care_words(event, desk.state.plan)}; u takes it back."


def measured(desk: Desk, volume: Amount) -> str:
    """Write down how much liquor stands in the tub."""
    refused = impossible(desk.state, events.VolumeMeasured(volume), desk.clock.now())
    if refused:
        return f"Not written down: {refused}"
    desk.log(events.VolumeMeasured(volume))
    return f"Reckoned with {show_amount(volume)} in the tub from now on; u takes it back."


def trust(desk: Desk, comparison: Comparison) -> str:
    """Take the pH that was read as the true one: the account's alkali is put right by it."""
    desk.log(events.PHTrusted(comparison.measured, Amount(round(comparison.celsius, 1), "degC")))
    return f"The account now stands at pH {comparison.measured:.1f} at {comparison.celsius:.0f} °C; u takes it back."


def seen_blue(desk: Desk, aim: PHRange) -> str:
    """Write down that it was stirred in the air until it stayed blue; its pH says whether acid is to follow."""
    desk.log(*_spent(desk.state))
    if method_of(desk.state.plan).end is not None:
        return "Written down: blue, and it stays blue. No acid: what follows stands on the next pages. u takes it back."
    next_ = "Now read the pH of a cooled sample (r)"
    acid = "it should need no acid" if needs_no_acid(desk.state, aim) else "acid may go in after that"
    return f"Written down: blue, and it stays blue. {next_}; {acid}. u takes it back."


def with_acid(event: events.CorrectionMade, plan: Plan, text: str) -> events.CorrectionMade | Problem:
    """Give acid into a spent vat in another amount, as typed."""
    amount = read_amount(powder(plan, event.material), plan, text)
    return amount if isinstance(amount, Problem) else evolve(event, amount=amount)


def neutralise(desk: Desk, event: events.CorrectionMade) -> str:
    """Write down acid into the spent vat, and start the wait until its pH is read."""
    desk.settle()
    desk.log(event, free_wait("Acid at work", ACID_WAIT_MIN, desk.state.seq + 2))
    return f"{care_words(event, desk.state.plan)}. In {show_minutes(ACID_WAIT_MIN)} read the pH of a cooled sample: r."


def let_go(desk: Desk, where: str, *insisted: DoneAllTheSame) -> str:
    """Write down that the vat is gone: how much of it, its pH, the acid, where it went, and what had spoken against."""
    desk.settle()
    state = desk.state
    account = state.tending.account
    if account is None:
        return "There is no vat here."
    before, after = pHs_round_acid(state)
    acid, amount = total_given(state)
    over = [WaitEnded(wait.id) for wait in _of_the_vat(state)]
    gone = events.VatLetGo(as_measured(goes_l(state)), before, acid, amount, after, where)
    desk.log(*insisted, gone, *over)
    return "Written down: the vat is gone. u takes it back."


def _of_the_vat(state: State) -> tuple[Wait, ...]:
    """Give the waits that a vat which is gone leaves behind: those of what went in, and that of its feeding."""
    at_work = (wait for wait in waits_for(state.tending, state.waits) if wait.ended is None)
    return (*at_work, *_feeding(state))


def _feeding(state: State) -> tuple[Wait, ...]:
    """Give the waits that say when the kept vat is fed."""
    return tuple(wait for wait in state.waits if wait.step is None and wait.label == FEEDING and wait.ended is None)


def outlook_of(desk: Desk) -> Outlook:
    """Look at the vat of a desk; what was seen stands until something happens, or the minute is over."""
    now, known = desk.clock.now(), desk.vat_seen
    if (
        not isinstance(known, Outlook)
        or known.state is not desk.state
        or known.sheet is not desk.sheet
        or known.minute != minute_of(now)
    ):
        known = desk.vat_seen = Outlook(desk.state, desk.sheet, now)
    return known
