"""Questions about the pieces of a session: who is where, who goes in next, who comes out pale.

Every answer follows from the state, its sheet and `now`.
"""

from __future__ import annotations

from collections.abc import Sequence

from attrs import evolve

from vatside.chemistry.errors import OutOfRange
from vatside.dayline.day_steps import ROTATE
from vatside.dayline.rounds import BETWEEN
from vatside.dips import rotation
from vatside.dips.entry_rule import NEVER, Stay, VatUse, rest_due, rests, vat_use
from vatside.dips.lot import dip_lots
from vatside.dips.lot import pieces_of as pieces_to_dip
from vatside.dips.rotation import Call, Do, Piece, Place, Row, Standing, pieces
from vatside.dips.run import End, run
from vatside.dips.uptake import SoFar
from vatside.log import fold, waits
from vatside.log.events.vat import DipEnded, DipStarted, LotDipped
from vatside.log.state import Entered, PieceState, State, events_of, waits_for
from vatside.log.vat_account import account_of
from vatside.log.waits import Moment, seconds_between
from vatside.outlook.vat_order import disorder, not_in_order, reading_wanted
from vatside.plan.sheet import Sheet, Weight
from vatside.units import show_minutes
from vatside.vat.account_changes import Forecast, pale_warnings, tank_of


def pieces_of(state: State, sheet: Sheet) -> tuple[Piece, ...]:
    """Give every piece of the plan, by the dyer's names, in the order in which they first go in."""
    return pieces(state.plan, sheet, state.dipping.names)


def standings(state: State, now: Moment) -> dict[str, Standing]:
    """Give where every piece is that has been in the vat, by piece id."""
    return {piece: _standing(state, where, now) for piece, where in state.dipping.pieces.items()}


def _standing(state: State, where: PieceState, now: Moment) -> Standing:
    gone = max(seconds_between(where.since, now), 0.0)
    if where.place not in (Place.IN_VAT, Place.AIRING):
        return Standing(where.place, where.dips, gone)
    wait = state.waits.get(where.wait)
    if wait is None:  # the dyer has ended it: its time is over
        return Standing(where.place, where.dips, gone, 0.0)
    return Standing(where.place, where.dips, waits.elapsed(wait, now), waits.remaining(wait, now))


def next_move(state: State, sheet: Sheet, now: Moment) -> Call:
    """Give the one thing to do next at the vat; it is read after a gap, and put right, before anybody goes in."""
    all_pieces = pieces_of(state, sheet)
    call = rotation.next_move(all_pieces, standings(state, now), use_of(state, sheet, all_pieces, now), rests(sheet))
    if call.do is Do.DONE and any(not piece.dips and piece.id not in state.dipping.pieces for piece in all_pieces):
        return evolve(call, do=Do.READ, why="by the account no dye is dissolved in it, and pieces wait: read it")
    nobody_in = all(where.place is not Place.IN_VAT for where in state.dipping.pieces.values())
    airs = call.do is Do.WAIT and nobody_in
    first = first_of_all(state, sheet, now) if call.do is Do.ENTER or airs else None
    if first and first[0] is Do.READ and (left := at_work(state, now)) > (call.seconds if airs else 0.0):
        return Call(Do.REST, seconds=left, why=f"{first[1]} Then read it (r).")
    return evolve(call, do=first[0], why=first[1]) if first and not airs else call


def at_work(state: State, now: Moment) -> float:
    """Give the seconds for which what was put into the vat has still to work; 0 if nothing has."""
    open_ones = (wait for wait in waits_for(state.tending, state.waits) if wait.ended is None)
    return max((waits.remaining(wait, now) for wait in open_ones), default=0.0)


def first_of_all(state: State, sheet: Sheet, now: Moment) -> tuple[Do, str] | None:
    """Give what is done to the vat before a piece goes in, and why; None if nothing is."""
    wanted = reading_wanted(state, now)
    if wanted:
        return Do.READ, wanted
    amiss = not_in_order(state, sheet, now)
    return (amiss.do, amiss.why) if amiss else None


def next_piece(state: State, sheet: Sheet, now: Moment) -> Piece | None:
    """Give the piece that can go in now; None if nobody can."""
    return rotation.next_piece(pieces_of(state, sheet), standings(state, now))


def board(state: State, sheet: Sheet, now: Moment) -> tuple[Row, ...]:
    """Give the board: a line for each piece."""
    return rotation.board(pieces_of(state, sheet), standings(state, now))


def use_of(state: State, sheet: Sheet, all_pieces: Sequence[Piece], now: Moment) -> VatUse:
    """Give what the vat has done since its rests."""
    entered = state.dipping.entered
    if not entered:
        return VatUse()
    first = entered[0].start
    shares = {piece.id: piece.share for piece in all_pieces}
    stays = (_stay(item, first, shares.get(item.piece, 1.0)) for item in entered)
    return vat_use(stays, seconds_between(first, now) / 60, rests(sheet))


def _stay(item: Entered, first: Moment, share: float) -> Stay:
    end = None if item.end is None else seconds_between(first, item.end) / 60
    return Stay(seconds_between(first, item.start) / 60, end, share)


def lower(piece: Piece) -> DipStarted:
    """Say that a piece goes in for its planned time."""
    return DipStarted(piece.id, piece.dip_min)


def lift(piece: Piece) -> DipEnded:
    """Say that a piece comes out to air for its planned time."""
    return DipEnded(piece.id, piece.air_min)


def forecasts(state: State, sheet: Sheet) -> tuple[Forecast, ...]:
    """Give what every piece that is not done will come to with the dips that the sheet has for it.

    From the vat as its account has it now; empty where that cannot be worked out, or the vat was let go.
    """
    if state.tending.account is None and state.tending.let_go is not None:
        return ()
    try:
        tank = tank_of(account_of(state, sheet))
    except OutOfRange:
        return ()
    by_id = {piece.id: piece for piece in pieces_of(state, sheet) if not _is_done(state, piece.id)}
    lots = dip_lots(state.plan, sheet.value("vat.strength"))
    had = fold.pieces_so_far(state)
    takers = [
        evolve(piece, exactly=max(by_id[piece.id].dips, piece.had))
        for lot in lots
        for piece in pieces_to_dip(lot, sheet.value("vat.entry"), SoFar(pieces=had))
        if piece.id in by_id
    ]
    ends = run(takers, tank, handling=0.0, when=NEVER).ends
    return tuple(_forecast(by_id[end.piece.id], end) for end in ends)


def _forecast(piece: Piece, end: End) -> Forecast:
    return Forecast(piece.id, piece.name, end.on / 10, piece.depth, end.dips - end.piece.had)


def lots_dipped(state: State) -> set[str]:
    """Give the lots of which a dip is known, of a piece or of the lot as a whole."""
    by_piece = {piece.rpartition(".")[0] for piece in state.dipping.pieces}
    return by_piece | {event.lot for event in events_of(state, LotDipped)}


def _is_done(state: State, piece: str) -> bool:
    where = state.dipping.pieces.get(piece)
    return where is not None and where.place is Place.DONE


def too_soon(state: State, piece: str, now: Moment) -> float:
    """Give the seconds of air that a piece still lacks; 0 if it may go in. For asking before it does all the same."""
    where = standings(state, now).get(piece, Standing())
    return where.left or 0.0 if rotation.too_soon(where) else 0.0


def warnings(state: State, sheet: Sheet, now: Moment) -> tuple[str, ...]:
    """Give what is to be known before the next piece goes in.

    That the vat is out of order, or would harm what is still to go in, that the pH goes up before plant fibres
    follow wool or silk, who will come out pale or take far too many dips, and that the vat wants a rest.
    """
    all_pieces = pieces_of(state, sheet)
    due = rest_due(use_of(state, sheet, all_pieces, now), rests(sheet))
    more = rotation.next_move(all_pieces, standings(state, now), VatUse(), NEVER).do is not Do.DONE
    wants = due is not None and bool(due[0]) and more
    rest = f"Once it is empty, the vat wants {show_minutes(due[0])} of rest after {due[1]}." if due and wants else ""
    many = (
        notice.text
        for notice in sheet.notices
        if notice.weight is Weight.CARE and notice.figure in {f"dip.{piece.lot}.dips" for piece in all_pieces}
    )
    harm = [notice.text for notice in sheet.notices if notice.figure == "vat.pH" and notice.weight is Weight.DANGER]
    out = disorder(state, sheet, now) if more else None
    last = (raise_first(state, sheet, all_pieces), *pale_ones(state, sheet), *many, rest)
    sentences = (out.text if out else "", *(harm if more else ()), *last)
    return tuple(words for words in sentences if words)


def waiting(state: State, sheet: Sheet) -> tuple[str, ...]:
    """Name the pieces that still wait for a dip of those planned, or are in the vat, once any has been in.

    None do once the step of the dips is done.
    """
    if ROTATE in state.done or not state.dipping.pieces:
        return ()
    all_pieces = pieces_of(state, sheet)
    return tuple(piece.name for piece in all_pieces if not _is_through(state.dipping.pieces.get(piece.id), piece))


def raise_first(state: State, sheet: Sheet, all_pieces: Sequence[Piece]) -> str:
    """Say that the pH goes up, once protein and silk are out and before the first plant fibre goes in; else empty."""
    wanted, known = sheet.value("dip.raise_pH", 0.0), state.dipping.pieces
    if not wanted or BETWEEN in state.done or any(piece.phase and piece.id in known for piece in all_pieces):
        return ""
    if gentle_left(state, all_pieces):
        return ""
    after = next((piece.name for piece in all_pieces if piece.phase), "")
    return f"Raise the pH to {wanted:g} before {after} goes in, a little alkali at a time, by reading; tick its step."


def gentle_left(state: State, all_pieces: Sequence[Piece]) -> bool:
    """Tell whether wool, hair or silk has still to go in, as far as planned."""
    return any(not _is_through(state.dipping.pieces.get(piece.id), piece) for piece in all_pieces if not piece.phase)


def _is_through(where: PieceState | None, piece: Piece) -> bool:
    """Tell whether a piece is out of the vat for good, as far as planned."""
    if where is None or where.place is Place.IN_VAT:
        return False
    return where.place is Place.DONE or where.dips >= piece.dips


def pale_ones(state: State, sheet: Sheet) -> tuple[str, ...]:
    """Name the pieces that will miss their own depth, and what can still be done for them; empty if none will."""
    try:
        strength = tank_of(account_of(state, sheet)).strength
    except OutOfRange:
        return ()
    return pale_warnings(forecasts(state, sheet), strength)
