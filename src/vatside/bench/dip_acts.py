"""The dips as the screens need them: how they stand at a moment, and what the keys do to a piece."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from attrs import evolve, frozen

from vatside.bench.desk import Desk
from vatside.bench.dip_view import Board, Following, Line
from vatside.bench.glance import WaitView
from vatside.dayline.day_steps import GENTLE, ROTATE
from vatside.dayline.steps import Step, opening
from vatside.dips import rotation
from vatside.dips.rotation import Call, Do, Piece, Place, Standing
from vatside.log.effects.pieces import MOST_DIPS, lot_of
from vatside.log.events.day import NoteWritten, StepDone
from vatside.log.events.vat import DipEnded, DipsPlanned, PieceBack, PieceDone, PieceNamed, PieceTurned
from vatside.log.fold import State
from vatside.log.waits import Moment
from vatside.outlook import dip_board
from vatside.outlook.hand_acts import Scene
from vatside.outlook.interlocks import questions
from vatside.plan.batches import batches
from vatside.plan.measures import fibre_key
from vatside.plan.sheet import Stage
from vatside.units import show_count, show_countdown, show_minutes


def board(desk: Desk, now: Moment) -> Board:
    """Look at the pieces."""
    state, sheet = desk.state, desk.sheet
    pieces, stand = dip_board.pieces_of(state, sheet), dip_board.standings(state, now)
    waits = {wait.id: wait for wait in desk.waits(now)}
    call = _allowed(desk, _last_air(dip_board.next_move(state, sheet, now), pieces, stand), pieces, now)
    lines = tuple(_line(state, row, waits) for row in rotation.board(pieces, stand))
    turning = any(line.turn for line in lines)
    coming = following(pieces, stand if turning else _entered(call, pieces, stand))
    if coming is not None and call.do is Do.REST:
        coming = evolve(coming, seconds=max(coming.seconds, call.seconds))
    return Board(call, lines, coming, afterwards(desk) if call.do is Do.DONE else ())


def _allowed(desk: Desk, call: Call, pieces: Sequence[Piece], now: Moment) -> Call:
    """Order nobody in whom the interlocks would hold back: then what is to be done first stands in the call."""
    piece = next((item for item in pieces if item.id == call.piece), None)
    if call.do is not Do.ENTER or piece is None:
        return call
    raised = dip_board.raise_first(desk.state, desk.sheet, pieces) if piece.phase else ""
    scene = Scene(desk.state, desk.sheet, desk.steps, now)
    held = next(iter(questions(scene, (dip_board.lower(piece),))), None)
    why = raised or (f"{held.block.why} {held.block.instead}" if held else "")
    return evolve(call, do=Do.HOLD, why=why) if why else call


def afterwards(desk: Desk) -> tuple[str, ...]:
    """Give what to do once everybody has had the last dip: what is left of the dips, then how each fibre goes on."""
    steps = desk.steps_in(Stage.DIP)
    ids = [step.id for step in steps]
    last = steps[ids.index(ROTATE) + 1 :] if ROTATE in ids else ()
    dips = [step for step in last if step.id not in desk.state.done]
    airs = [step for batch in batches(desk.plan) if (step := desk.step(batch.id("air"))) is not None
            and step.id not in desk.state.done]  # fmt: skip
    return tuple(_in_short(step) for step in (*dips, *airs))


def _in_short(step: Step) -> str:
    """Give a step's first words, and how long its wait is."""
    words = step.text.partition(":")[0].partition(", until")[0]
    return f"{words}, {show_minutes(step.minutes)}" if step.minutes else words


def _last_air(call: Call, pieces: Sequence[Piece], stand: Mapping[str, Standing]) -> Call:
    """Wait for the pieces that have had their dips and still air; only then is all done."""
    airing = [(stand[piece.id].left or 0.0, piece) for piece in pieces
              if piece.id in stand and stand[piece.id].place is Place.AIRING]  # fmt: skip
    if call.do is not Do.DONE or not airing:
        return call
    left, piece = min(airing, key=lambda item: item[0])
    return Call(Do.WAIT, piece.id, piece.name, left, "then look whether it is deep enough")


def _entered(call: Call, pieces: Sequence[Piece], stand: Mapping[str, Standing]) -> Mapping[str, Standing]:
    """Give where the pieces are once the one that is called for has gone in; who follows is asked after that."""
    piece = next((item for item in pieces if item.id == call.piece and call.do is Do.ENTER), None)
    return stand if piece is None else _with_in(piece, stand)


def _with_in(piece: Piece, stand: Mapping[str, Standing]) -> Mapping[str, Standing]:
    dips = stand.get(piece.id, Standing()).dips + 1
    return {**stand, piece.id: Standing(Place.IN_VAT, dips, 0.0, 60 * piece.dip_min)}


def _line(state: State, row: rotation.Row, waits: Mapping[str, WaitView]) -> Line:
    where = state.dipping.pieces.get(row.piece)
    wait = waits.get(where.wait or "") if where else None
    turn = wait.nudge or "turn it" if wait is not None and wait.ringing and not wait.over else ""
    return Line(row, where.since if where else None, turn, wait is not None and wait.paused)


def following(pieces: Sequence[Piece], stand: Mapping[str, Standing]) -> Following | None:
    """Give who goes in next if everything is done in time: now, or once a dip or an airing is over.

    What waits to be lifted out counts as lifted: it stands in nobody's way for longer than a hand takes.
    """
    for seconds in _moments(pieces, stand):
        later = {piece.id: _later(piece, stand.get(piece.id, Standing()), seconds) for piece in pieces}
        piece = rotation.next_piece(pieces, later)
        if piece is not None:
            return Following(piece.id, piece.name, seconds)
    return None


def _moments(pieces: Sequence[Piece], stand: Mapping[str, Standing]) -> list[float]:
    """Seconds from now at which a piece comes out, or has aired."""
    moments = {0.0}
    for piece in pieces:
        where = stand.get(piece.id, Standing())
        left = max(where.left or 0.0, 0.0)
        if where.place in (Place.IN_VAT, Place.AIRING):
            moments |= {left, left + 60 * piece.air_min}
    return sorted(moments)


def _later(piece: Piece, where: Standing, seconds: float) -> Standing:
    left = (where.left or 0.0) - seconds
    if where.place is Place.IN_VAT and left <= 0:
        return evolve(where, place=Place.AIRING, left=60 * piece.air_min + min(left, 0.0))
    return evolve(where, left=left) if where.place in (Place.IN_VAT, Place.AIRING) else where


# What the keys do


@frozen
class Unsure:
    """Why something had better wait; the same key once more does it all the same."""

    words: str


def move_on(desk: Desk, piece: str, now: Moment) -> str | Unsure:
    """Do what comes next with a piece: in, turned, out to air, in again, done; say why not where it is too early."""
    view = board(desk, now)
    line = view.line(piece)
    if line is None:
        return "This piece is no longer in the plan."
    row = line.row
    if line.turn:
        return _log(desk, PieceTurned(piece), f"{row.name} turned")
    if row.place is Place.DONE:
        return f"{row.name} is done; x lets it take turns again."
    if (row.left or 0.0) > 0:
        wait = show_countdown(row.left or 0.0)
        if row.place is Place.IN_VAT:
            return Unsure(f"{row.name}: {wait} to go. e lifts it out now.")
        return Unsure(f"{row.name} airs {wait} more; then it may go in. e puts it in all the same.")
    if row.place is Place.IN_VAT:
        return lift(desk, piece)
    if row.place is Place.AIRING and row.dips >= row.planned:
        return _is_done(desk, piece, f"{row.name} is done, {show_count(row.dips, 'dip')}")
    return _hindrance(desk, view, piece, now) or enter(desk, piece)


def _hindrance(desk: Desk, view: Board, piece: str, now: Moment) -> Unsure | None:
    """Say what speaks against putting a piece in right now, where the air does not."""
    if view.call.do is Do.REST:
        return Unsure(f"The vat rests {show_countdown(view.call.seconds)} more. e puts it in all the same.")
    first = dip_board.first_of_all(desk.state, desk.sheet, now)
    if first:
        return Unsure(f"{first[1]} {_first_key(first)}; e puts it in all the same.")
    pieces = dip_board.pieces_of(desk.state, desk.sheet)
    by_id = {item.id: item for item in pieces}
    raised = dip_board.raise_first(desk.state, desk.sheet, pieces)
    if raised and by_id[piece].phase:
        return Unsure(f"{raised} e puts it in all the same.")
    inside = [line.row for line in view.lines if line.row.place is Place.IN_VAT]
    share = sum(by_id[row.piece].share for row in inside) + by_id[piece].share
    if share > 1 + 1e-6:
        return Unsure(f"The vat is full: lift out {inside[0].name} first. e puts it in all the same.")
    return None


def at_once(desk: Desk, piece: str, now: Moment, *, sure: bool) -> str | Unsure:
    """Lift a piece out before its time, or put it in; nobody airs too short without being asked about."""
    line = board(desk, now).line(piece)
    if line is None or line.row.place is Place.DONE:
        return move_on(desk, piece, now)
    if line.row.place is Place.IN_VAT:
        return lift(desk, piece)
    lacks = dip_board.too_soon(desk.state, piece, now)
    if lacks > 0 and not sure:
        return Unsure(
            f"{line.row.name} lacks {show_countdown(lacks)} of air: green that is dipped again stays uneven and "
            "rubs off. e once more puts it in all the same."
        )
    first = dip_board.first_of_all(desk.state, desk.sheet, now)
    if first and not sure:
        return Unsure(f"{first[1]} {_first_key(first)}; e once more dips all the same.")
    return enter(desk, piece, f"{line.row.name} dipped all the same. {first[1]}" if first else "")


def _first_key(first: tuple[Do, str]) -> str:
    return "r reads it" if first[0] is Do.READ else "v and Enter say what to do"


def once_more(desk: Desk, piece: str, now: Moment) -> str:
    """Plan one dip more for a piece, wherever it is; one that was done takes turns again."""
    line = board(desk, now).line(piece)
    if line is None:
        return "This piece is no longer in the plan."
    row = line.row
    dips = max(row.dips, row.planned) + 1
    if dips > MOST_DIPS:
        return f"{row.name} has {MOST_DIPS} dips planned; a vat that takes more is too weak."
    back = (PieceBack(piece),) if row.place is Place.DONE else ()
    desk.log(*back, DipsPlanned(piece, dips))
    return f"{row.name}: {show_count(dips, 'dip')} in all, one more than planned; u takes it back."


def enter(desk: Desk, piece: str, note: str = "") -> str:
    """Put a piece in for its planned time; a note says what it went in without."""
    planned = _piece(desk, piece)
    length = show_minutes(planned.dip_min)
    desk.log(*((NoteWritten(note),) if note else ()), dip_board.lower(planned))
    return f"{planned.name} in for {length}; u takes it back."


def lift(desk: Desk, piece: str) -> str:
    """Lift a piece out to air for its planned time."""
    planned = _piece(desk, piece)
    length = show_minutes(planned.air_min)
    return _log(desk, dip_board.lift(planned), f"{planned.name} out, to air {length}: {_open(desk, planned)}")


def _open(desk: Desk, *pieces: Piece) -> str:
    """Say how pieces are opened in the air, by how their lots are made up."""
    return opening(*(desk.plan.by_id[piece.lot].form for piece in pieces))


def all_at_once(desk: Desk, now: Moment) -> str:
    """Lift out every piece whose dip is over; with none, put in all that may go in together. One undo takes it back."""
    pieces = dip_board.pieces_of(desk.state, desk.sheet)
    stand = dip_board.standings(desk.state, now)
    over = [piece for piece in pieces if piece.id in stand and _is_over(stand[piece.id])]
    if over:
        desk.log(*(dip_board.lift(piece) for piece in over))
        return f"{_named(over)} out, to air: {_open(desk, *over)}; u takes it back."
    entering = _all_in(desk, pieces, stand, now)
    if not entering:
        return "No dip is over, and nobody may go in now."
    desk.log(*(dip_board.lower(piece) for piece in entering))
    return f"{_named(entering)} in for {show_minutes(entering[0].dip_min)}; u takes it back."


def all_words(desk: Desk, now: Moment) -> str:
    """Say what `all_at_once` would do."""
    return "all out" if any(map(_is_over, dip_board.standings(desk.state, now).values())) else "all in"


def _is_over(where: Standing) -> bool:
    return where.place is Place.IN_VAT and (where.left or 0.0) <= 0


def _all_in(desk: Desk, pieces: Sequence[Piece], stand: Mapping[str, Standing], now: Moment) -> list[Piece]:
    """Give the pieces that go in one after another by the rule of the board, until nobody else may."""
    entering: list[Piece] = []
    while board(desk, now).call.do is Do.ENTER:
        piece = rotation.next_piece(pieces, stand)
        if piece is None:
            break
        entering.append(piece)
        stand = _with_in(piece, stand)
    return entering


def _named(pieces: Sequence[Piece]) -> str:
    return pieces[0].name if len(pieces) == 1 else show_count(len(pieces), "piece")


def done_or_back(desk: Desk, piece: str, now: Moment, *, just: str = "") -> str | Unsure:
    """Say that a piece has had its last dip, or let it take turns again.

    With another piece `just` ended by the same key, the next one is not ended unasked: a key may bounce.
    """
    view = board(desk, now)
    line, before = view.line(piece), view.line(just)
    if line is None:
        return "This piece is no longer in the plan."
    if line.row.place is Place.IN_VAT:
        return f"{line.row.name} is in the vat; lift it out first."
    if line.row.place is Place.DONE:
        return _log(desk, PieceBack(piece), f"{line.row.name} takes turns again")
    if before is not None:
        return Unsure(f"x was for {before.row.name}; once more ends {line.row.name} too.")
    return _is_done(desk, piece, f"{line.row.name} is done")


def _is_done(desk: Desk, piece: str, words: str) -> str:
    """Say that a piece has had its last dip, and how it goes on from here."""
    lot, _ = lot_of(desk.state.plan, piece)
    air = desk.sheet.value(f"finish.{fibre_key(lot)}.last_air")
    desk.log(PieceDone(piece), *_gentle_done(desk, piece))
    return f"{words}: let it hang for its last airing, {show_minutes(air)}; u takes it back."


def _gentle_done(desk: Desk, piece: str) -> tuple[StepDone, ...]:
    """Tick the dips of wool and silk with the last of their pieces, where plant fibre has a step of its own."""
    if desk.step(GENTLE) is None or GENTLE in desk.state.done:
        return ()
    known, pieces = desk.state.dipping.pieces, dip_board.pieces_of(desk.state, desk.sheet)
    gentle = [item.id for item in pieces if not item.phase]
    left = {one for one in gentle if one not in known or known[one].place is not Place.DONE}
    return (StepDone(GENTLE),) if left == {piece} else ()


def call_it(desk: Desk, piece: str, name: str) -> str:
    """Give a piece a name of its own, or take it away."""
    name = name.strip()
    desk.log(PieceNamed(piece, name))
    return f"It is called {name}; u takes it back." if name else "It goes by its lot again."


def finish(desk: Desk) -> str:
    """Tick the step that the board has carried out."""
    if desk.step(ROTATE) is not None and ROTATE not in desk.state.done:
        desk.log(StepDone(ROTATE))
    return "Every piece is done; on with the steps."


def _piece(desk: Desk, piece: str) -> Piece:
    return next(item for item in dip_board.pieces_of(desk.state, desk.sheet) if item.id == piece)


def _log(desk: Desk, event: DipEnded | PieceTurned | PieceBack, words: str) -> str:
    desk.log(event)
    return f"{words}; u takes it back."
