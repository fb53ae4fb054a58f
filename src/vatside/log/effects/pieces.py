"""What the events of the pieces do to how things stand. Importing this registers them with `carry_out`."""

from __future__ import annotations

from attrs import evolve

from vatside.chemistry.colour import Lab
from vatside.dips.depth import Graded, Picked, Seen
from vatside.dips.lot import dip_lot, law_for
from vatside.dips.own_results import OnPiece, can_be, in_words
from vatside.dips.rotation import Place
from vatside.log import waits
from vatside.log.effects.day import carry_out
from vatside.log.events import vat as events
from vatside.log.events.day import PinSet
from vatside.log.state import Entered, PieceState, Recorded, State
from vatside.log.vat_account import warmth_at
from vatside.log.waits import Moment, Wait, seconds_between
from vatside.plan.measures import celsius, clean_grams
from vatside.plan.paths import LONGEST_NAME, piece_name
from vatside.plan.plan import Lot, Plan
from vatside.recipe.compute import compute
from vatside.units import Kind, fits, show_amount, to_base
from vatside.vat.account import Account, planned_account
from vatside.vat.account_changes import dip

DEEPEST = 20.0
"""No step of a ladder is deeper, %."""
TURN_AT = 4.0
"""Minutes in the air after which a piece is turned and its folds opened: common practice, no source."""
MOST_DIPS = 100
"""No piece is planned to have more dips, as in the plan."""
WORTH_TURNING = 2.0
"""A dip or an airing shorter than this is not interrupted, minutes: common practice, no source."""


@carry_out.register
def _(event: events.DipStarted, state: State, at: Moment) -> State:
    lot_of(state.plan, event.piece)
    before = _piece(state, event.piece, at)
    if before.place is Place.IN_VAT:
        raise ValueError(f"{name_of(state, event.piece)} is in the vat already")
    if before.place is Place.DONE:
        raise ValueError(f"{name_of(state, event.piece)} is done; take it back first")
    state = _end_wait(state, before.wait, at)
    label, count = f"Dip {name_of(state, event.piece)}", before.dips + 1
    wait = _wait(f"{event.piece}:dip{count}", label, event.minutes, event.minutes / 2, "turn it, spread it", at)
    now = evolve(before, place=Place.IN_VAT, dips=count, since=at, wait=wait.id)
    entered = (*state.dipping.entered, Entered(event.piece, at, celsius=warmth_at(state, at)))
    dipping = evolve(state.dipping, entered=entered)
    return _stand(evolve(state, waits=state.waits.begun(wait), dipping=dipping), event.piece, now)


@carry_out.register
def _(event: events.DipEnded, state: State, at: Moment) -> State:
    lot, _ = lot_of(state.plan, event.piece)
    before = _piece(state, event.piece, at)
    if before.place is not Place.IN_VAT:
        raise ValueError(f"{name_of(state, event.piece)} is not in the vat")
    minutes = _minutes_in(state, before, at)
    state = _end_wait(state, before.wait, at)
    state, on = _dipped(state, lot, before.on, minutes)
    label = f"Air {name_of(state, event.piece)}"
    wait = _wait(f"{event.piece}:air{before.dips}", label, event.air, TURN_AT, "turn it, open the folds", at)
    now = evolve(before, place=Place.AIRING, since=at, wait=wait.id, on=on)
    entered = tuple(
        evolve(item, end=at) if item.piece == event.piece and item.end is None else item
        for item in state.dipping.entered
    )
    state = evolve(state, waits=state.waits.begun(wait), dipping=evolve(state.dipping, entered=entered))
    return _stand(state, event.piece, now)


@carry_out.register
def _(event: events.PieceTurned, state: State, at: Moment) -> State:
    where = _piece(state, event.piece, at)
    lot_of(state.plan, event.piece)
    wait = state.waits.get(where.wait)
    if wait is None:
        return state
    return evolve(state, waits=state.waits.changed(waits.quieted(wait, at)))


@carry_out.register
def _(event: events.PieceDone, state: State, at: Moment) -> State:
    lot_of(state.plan, event.piece)
    before = _piece(state, event.piece, at)
    if before.place is Place.IN_VAT:
        raise ValueError(f"{name_of(state, event.piece)} is in the vat; lift it out first")
    state = _end_wait(state, before.wait, at)
    return _stand(state, event.piece, evolve(before, place=Place.DONE, since=at, wait=None))


@carry_out.register
def _(event: events.PieceBack, state: State, at: Moment) -> State:
    lot_of(state.plan, event.piece)
    before = _piece(state, event.piece, at)
    if before.place is not Place.DONE:
        raise ValueError(f"{name_of(state, event.piece)} was not done")
    return _stand(state, event.piece, evolve(before, place=Place.WAITING, since=at))


@carry_out.register
def _(event: events.DipsPlanned, state: State, _at: Moment) -> State:
    lot_of(state.plan, event.piece)
    if not 1 <= event.dips <= MOST_DIPS:
        raise ValueError(f"{name_of(state, event.piece)} cannot have {event.dips} dips: 1 to {MOST_DIPS}")
    at_least = {**state.dipping.at_least, event.piece: event.dips}
    return evolve(state, dipping=evolve(state.dipping, at_least=at_least))


@carry_out.register
def _(event: events.UptakeLearned, state: State, _at: Moment) -> State:
    if not all(can_be(item) for item in event.learned):
        raise ValueError(f"a fibre takes up {in_words()} times what the table says")
    return evolve(state, plan=evolve(state.plan, learned=event.learned))


@carry_out.register
def _(event: events.PieceNamed, state: State, _at: Moment) -> State:
    lot_of(state.plan, event.piece)
    name = event.name.strip()
    if not name.isprintable() or len(name) > LONGEST_NAME:
        raise ValueError(f"a piece's name must be printable and of {LONGEST_NAME} letters at most")
    names = {piece: given for piece, given in state.dipping.names.items() if piece != event.piece}
    return evolve(state, dipping=evolve(state.dipping, names=names | ({event.piece: name} if name else {})))


@carry_out.register
def _(event: events.SwatchRecorded, state: State, at: Moment) -> State:
    if all(lot.id != event.piece for lot in state.plan.lots):
        lot_of(state.plan, event.piece)
    recorded = Recorded(at, event.piece, seen_of(event))
    return evolve(state, dipping=evolve(state.dipping, swatches=(*state.dipping.swatches, recorded)))


@carry_out.register
def _(event: events.DryMassTaken, state: State, at: Moment) -> State:
    if all(lot.id != event.lot for lot in state.plan.lots):
        raise KeyError(f"lot {event.lot}")
    when = "before" if event.before else "after"
    return carry_out(PinSet(f"finish.{when}.{event.lot}", event.mass), state, at)


def lot_of(plan: Plan, piece: str) -> tuple[Lot, int]:
    """Give the lot of a piece and its number in it; KeyError if the plan has no such piece."""
    lot_id, _, number = piece.rpartition(".")
    for lot in plan.lots:
        if lot.id == lot_id and number.isascii() and number.isdigit() and 1 <= int(number) <= lot.pieces:
            return lot, int(number)
    raise KeyError(f"piece {piece}")


def name_of(state: State, piece: str) -> str:
    """Give the name of a piece: the dyer's own, or its lot's with a number."""
    given = state.dipping.names.get(piece, "")
    try:
        return piece_name(*lot_of(state.plan, piece), given)
    except KeyError:
        return given or piece


def seen_of(event: events.SwatchRecorded) -> Seen:
    """Give how a swatch was recorded; ValueError in words if it was not, or cannot be."""
    if event.lab:
        if len(event.lab) != len("Lab") or not 0 <= event.lab[0] <= 100 or max(map(abs, event.lab)) > 200:
            raise ValueError("a measured colour has three numbers: L* from 0 to 100, a* and b*")
        return Lab(*event.lab)
    if event.step is None:
        raise ValueError("a swatch is measured, or held against a step of the ladder")
    if not fits(event.step.unit, Kind.PERCENT) or not 0 < to_base(event.step, Kind.PERCENT) <= DEEPEST:
        raise ValueError(f"{show_amount(event.step)} is no depth")
    step = to_base(event.step, Kind.PERCENT)
    if event.grade is None:
        return Picked(step)
    if not 1 <= event.grade <= 5:
        raise ValueError(f"grades go from 1 to 5, not to {event.grade:g}")
    return Graded(step, event.grade, event.darker)


def _piece(state: State, piece: str, at: Moment) -> PieceState:
    return state.dipping.pieces.get(piece) or PieceState(Place.WAITING, 0, at)


def _stand(state: State, piece: str, now: PieceState) -> State:
    return evolve(state, dipping=evolve(state.dipping, pieces={**state.dipping.pieces, piece: now}))


def _wait(wait_id: str, label: str, minutes: float, nudge: float, words: str, at: Moment) -> Wait:
    minutes = waits.sane_minutes(minutes)
    turns = ((nudge,), (words,)) if minutes >= WORTH_TURNING and nudge < minutes else ((), ())
    return Wait(wait_id, None, label, minutes, started=at, since=at, nudges=turns[0], nudge_labels=turns[1])


def _end_wait(state: State, wait_id: str | None, at: Moment) -> State:
    """End the wait of a piece, unless the dyer has ended it already."""
    wait = state.waits.get(wait_id)
    if wait is None:
        return state
    past = state.past_waits.and_one(waits.ended(wait, at))
    return evolve(state, waits=state.waits.without(wait.id), past_waits=past)


def _minutes_in(state: State, where: PieceState, at: Moment) -> float:
    """Minutes that a piece really was in the vat."""
    known = state.waits.get(where.wait)
    if known is not None:
        return waits.elapsed(known, at) / 60
    return max(seconds_between(where.since, at), 0.0) / 60


def _dipped(state: State, lot: Lot, on: OnPiece, minutes: float) -> tuple[State, OnPiece]:
    """Take a dip into the account of the vat; without an account the piece is dipped all the same."""
    account = _account(state)
    if account is None:
        return state, on
    grams = clean_grams(state.plan, lot) / max(lot.pieces, 1)
    own = dip_lot(state.plan, lot).learned.factor
    law = law_for(state.plan, lot, minutes)
    account, on = dip(account, on, law, grams, celsius(state.plan.water.room), own)
    return evolve(state, tending=evolve(state.tending, account=account)), on


def _account(state: State) -> Account | None:
    """Give the account of the vat; the first dip opens one for a vat that nobody said was made."""
    if state.tending.account is not None or state.tending.let_go is not None:
        return state.tending.account
    try:
        return planned_account(state.plan, compute(state.plan))
    except ValueError:
        return None
