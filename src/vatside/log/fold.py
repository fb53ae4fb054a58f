"""What follows from a session: the fold of its log over its plan, and the sheet that goes on from what was done.

Live running, reopening and replay all go through the same effects, one for each kind of event. The sheet is told what
the log knows and the plan does not: the pieces, the vat as it is now, the colours that came out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from attrs import evolve

from vatside.chemistry.adjust import spent_and_cool
from vatside.chemistry.bath import Bath
from vatside.dips.entry_rule import as_entries
from vatside.dips.rotation import Place
from vatside.dips.uptake import CameOut, PieceSoFar, SoFar, Tank
from vatside.log import waits
from vatside.log.effects import pieces as _dip  # noqa: F401  (registers what the events of the pieces do)
from vatside.log.effects import vat as _care  # noqa: F401  (registers what the events of a vat do)
from vatside.log.effects.day import carry_out
from vatside.log.effects.pieces import lot_of
from vatside.log.events.day import ColourNoted, Entry, Event, Undone
from vatside.log.events.vat import LotDipped
from vatside.log.persistent import AppendOnly
from vatside.log.state import Misfit, Note, PieceState, Session, State, changes_pH, initial_state
from vatside.log.vat_account import brought_up, clocked, in_step
from vatside.log.waits import Moment, seconds_between
from vatside.plan.measures import clean_grams
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.compute import compute
from vatside.recipe.vat_needs import SLOPE
from vatside.vat.account import predict
from vatside.vat.account_changes import tank_of

__all__ = ["Misfit", "Note", "State", "apply", "carried_out", "fold", "history", "initial_state", "taken_back"]


def fold(session: Session) -> State:
    """Give the state after the whole log."""
    undone = taken_back(session.entries)
    state = evolve(initial_state(session), undone=undone)
    last: Moment | None = None
    for entry in session.entries:
        state = _carry_out(state, entry, last, skip=entry.seq in undone)
        last = entry.at
    return evolve(state, entries=AppendOnly(session.entries))


def apply(state: State, entry: Entry) -> State:
    """Give the state after one more entry; taking something back goes through the log anew."""
    if isinstance(entry.event, Undone):
        return fold(evolve(state.began, entries=(*state.entries, entry)))
    return evolve(_carry_out(state, entry, state.last), entries=state.entries.and_one(entry))


def history(session: Session) -> Iterator[State]:
    """Every state that the session went through: first the bare plan, then one after each entry.

    As `apply` would give them, but without their entries.
    """
    states = [initial_state(session)]
    undos: list[Entry] = []
    yield states[0]
    for seq, entry in enumerate(session.entries, start=1):
        if isinstance(entry.event, Undone):
            undos.append(entry)
            _take_back(states, session.upto(seq), taken_back(undos))
        states.append(_next(states[-1], session, seq))
        yield states[-1]


def _take_back(states: list[State], session: Session, undone: frozenset[int]) -> None:
    """Put the states right from the first entry on that counts differently after the latest undo."""
    changed = undone ^ states[-1].undone
    if not changed:
        return
    del states[max(min(changed), 1) :]
    states[-1] = evolve(states[-1], undone=undone)
    for seq in range(len(states), len(session.entries)):
        states.append(_next(states[-1], session, seq))


def _next(state: State, session: Session, seq: int) -> State:
    entry = session.entries[seq - 1]
    last = session.entries[seq - 2].at if seq > 1 else None
    return _carry_out(state, entry, last, skip=seq in state.undone)


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
        _check_undo(entry)
        return carried_out(entry.event, state, entry.at)
    except (KeyError, ValueError) as error:
        return evolve(state, misfits=state.misfits.and_one(Misfit(entry.seq, _reason(error))))


def carried_out(event: Event, state: State, at: Moment) -> State:
    """Give the state after an event; KeyError for what is not there, ValueError in words for what does not fit."""
    after = carry_out(event, brought_up(state, event, at), at)
    return clocked(state, in_step(state, after), event, at)


def _check_undo(entry: Entry) -> None:
    if isinstance(entry.event, Undone) and not 0 < entry.event.event < entry.seq:
        raise KeyError(f"earlier entry {entry.event.event}")


def _reason(error: KeyError | ValueError) -> str:
    return f"there is no {error.args[0]} here" if isinstance(error, KeyError) else str(error)


def _tie_waits(state: State, at: Moment) -> State:
    """On the first entry of another boot, tie the waits to its clocks: the time of day bridges the gap once."""
    return evolve(state, waits=state.waits.each(lambda wait: waits.counted_from(wait, at)))


GONE = Tank(0.0, 0.0)
"""A vat that was let go."""


def sheet_of(state: State) -> Sheet:
    """Give the sheet of a session: its plan, and on from what was done."""
    return compute(state.plan, so_far(state))


def so_far(state: State) -> SoFar:
    """Give what was done to the pieces and the vat, and what came out of it."""
    pieces = pieces_so_far(state)
    return SoFar(
        _tank(state, begun=bool(pieces)),
        pieces,
        _colours(state),
        _corrected(state),
        _stands(state),
        _spent(state),
        _at_least(state),
        _gone_in(state),
        state.tending.seen_spent or (state.tending.let_go is not None and state.tending.account is None),
        _entries(state),
    )


def _entries(state: State) -> int:
    """Give how many entries are over."""
    if not state.dipping.entered:
        return 0
    first = state.dipping.entered[0].start
    ended = ((stay.start, stay.end) for stay in state.dipping.entered if stay.end is not None)
    return len(as_entries((seconds_between(first, start), seconds_between(first, end)) for start, end in ended))


def pieces_so_far(state: State) -> dict[str, PieceSoFar]:
    """Give what every piece that the plan has had in the vat has had."""
    by_piece = {piece: _piece(state.plan, piece, where) for piece, where in state.dipping.pieces.items()}
    return {piece: had for piece, had in by_piece.items() if had is not None}


def _gone_in(state: State) -> frozenset[str]:
    """Give the figures that the steps done so far name: what was weighed, drawn and warmed."""
    if not state.done:
        return frozenset()
    from vatside.dayline.step_uses import figures_in  # late: a day that has not begun names none

    return frozenset(figure for step in state.done for figure in figures_in(state.plan, step))


def _at_least(state: State) -> dict[str, int]:
    """Give the dips that a piece has at least: those that the dyer wants, the one that it is in for included."""
    inside = {piece: where.dips for piece, where in state.dipping.pieces.items() if where.place is Place.IN_VAT}
    wanted = state.dipping.at_least
    return {piece: max(inside.get(piece, 0), wanted.get(piece, 0)) for piece in {**inside, **wanted}}


def _corrected(state: State) -> str:
    """Give the pH by the account once more went into the vat than the plan has; empty before, and without a vat."""
    account = state.tending.account
    if state.plan.kept is not None and not state.tending.topped_up:
        return ""  # what goes into a kept vat until then is written into the plan itself
    if account is None or not any(changes_pH(made.event) for made in state.tending.corrections):
        return ""
    try:
        return predict(account).text
    except ValueError:
        return ""


def _stands(state: State) -> float | None:
    """Give the pH in a vat into which more went than the plan has: as read since, or else by the account."""
    account, tending = state.tending.account, state.tending
    if account is None or not _corrected(state):
        return None
    taken = tending.readings[-1].reading if tending.readings else None
    if taken is None or taken.pH is None or tending.put_in_since:
        return predict(account).pH
    return taken.pH - SLOPE * (account.celsius - taken.sample_in(account.celsius))


def _spent(state: State) -> Bath | None:
    """Give the spent vat, of one into which more went than the plan has, that was dipped in, or is at its end."""
    account, gone = state.tending.account, state.tending.gone
    if account is None and gone is not None:
        return spent_and_cool(evolve(gone.bath, acetate=0.0, citrate=0.0))  # all the acid that it took
    if account is None or not (state.tending.seen_spent or state.dipping.pieces or _corrected(state)):
        return None
    return spent_and_cool(account.bath)


def _tank(state: State, *, begun: bool) -> Tank | None:
    if state.plan.kept is not None and not state.tending.topped_up and not begun:
        return None  # what is kept in the tub is not the vat of this day yet
    if not begun and any(isinstance(entry.event, LotDipped) for entry in state.entries):
        return None  # dips written down for a whole lot: what its pieces have is not known, so the plan stands
    if state.tending.account is not None:
        return tank_of(state.tending.account)
    return GONE if begun and state.tending.let_go is not None else None


def _piece(plan: Plan, piece: str, where: PieceState) -> PieceSoFar | None:
    """Give one piece; None if the plan no longer has it."""
    try:
        lot, _ = lot_of(plan, piece)
    except KeyError:
        return None
    grams = clean_grams(plan, lot) / max(lot.pieces, 1)
    ended = where.dips - (where.place is Place.IN_VAT)
    return PieceSoFar(where.on.depth(grams), where.on.goes, ended, where.place is Place.DONE)


def _colours(state: State) -> dict[str, CameOut]:
    """Give the colour that each lot came out with; nothing is fitted as long as none was recorded."""
    if not state.dipping.swatches and not any(isinstance(entry.event, ColourNoted) for entry in state.entries):
        return {}
    from vatside.log.colours import came_out

    return came_out(state)
