"""The pieces of a plan, where each is, and who goes into the vat next: pure questions about waits and the vat's rests.

A lot's pieces are like one another; what each is called says `vatside.plan.paths`.

Who goes in and when the vat rests, the rules say that the plan goes by (`vatside.dips.entry_rule`). Times are seconds,
minutes where they say so; the vat's own are minutes.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from enum import StrEnum

from attrs import frozen

from vatside.dips.entry_rule import Queue, Rests, Turn, VatUse, rest_due
from vatside.dips.lot import dip_order, share_of_entry
from vatside.plan.measures import clean_grams, fibre_of, held, share
from vatside.plan.paths import piece_name
from vatside.plan.plan import Lot, Plan
from vatside.plan.sheet import Sheet
from vatside.units import Kind


class Place(StrEnum):
    """Where a piece is."""

    WAITING = "waiting"
    IN_VAT = "in the vat"
    AIRING = "airing"
    DONE = "done"


@frozen
class Piece:
    """One piece of a lot, as the plan has it."""

    id: str
    """`LOT.NUMBER`, counted from 1."""
    name: str
    lot: str
    phase: int
    """0 protein and silk, 1 plant fibres: a phase ends before the next one goes in."""
    grams: float
    depth: float
    """Wanted, %."""
    dips: int
    """Planned."""
    dip_min: float
    air_min: float
    share: float
    """Of one entry: pieces that are dipped and aired alike go in together until it is full."""


@frozen
class Standing:
    """Where a piece is at one moment."""

    place: Place = Place.WAITING
    dips: int = 0
    """Begun so far, the running one included."""
    gone: float = 0.0
    """Seconds since it came there."""
    left: float | None = None
    """Seconds it is still to stay, below zero for too long already; None where nothing counts."""


def pieces(plan: Plan, sheet: Sheet, names: Mapping[str, str] | None = None) -> tuple[Piece, ...]:
    """Give every piece of the plan in the order in which they first go in; `names` by piece id."""
    given, order, dips = names or {}, dip_order(plan, sheet.value("vat.strength")), dict(sheet.piece_dips)
    return tuple(_piece(plan, sheet, lot, number, given, dips) for lot in order for number in range(1, lot.pieces + 1))


def lot_id(piece: str) -> str:
    """Give the lot that a piece belongs to, by its id."""
    return piece.rpartition(".")[0]


def _piece(plan: Plan, sheet: Sheet, lot: Lot, number: int, names: Mapping[str, str], dips: Mapping[str, int]) -> Piece:
    def value(name: str, least: float) -> float:
        return max(sheet.value(f"dip.{lot.id}.{name}"), least)

    piece = f"{lot.id}.{number}"
    return Piece(
        id=piece,
        name=piece_name(lot, number, names.get(piece, "")),
        lot=lot.id,
        phase=1 if fibre_of(lot).group == "cellulose" else 0,
        grams=clean_grams(plan, lot) / max(lot.pieces, 1),
        depth=100 * share(lot.depth),
        dips=dips.get(piece, round(value("dips", 0))),
        dip_min=value("dip", 0),
        air_min=value("air", 0),
        share=share_of_entry(
            value("piece", 0), sheet.value("vat.entry"), held(plan, f"dip.{lot.id}.at_once", Kind.NUMBER)
        ),
    )


TOGETHER = 0.99
"""Minutes: like pieces are lifted one after another, so one after another they have aired; within so many from one to
the next they go in together. Less than a minute, the least that a plan tells apart: ours."""


class Do(StrEnum):
    """What the board calls for."""

    LIFT = "lift out"
    ENTER = "put in"
    REST = "let the vat rest"
    READ = "read"
    MEND = "put right"
    HOLD = "not yet"
    WAIT = "wait"
    LOOK = "look"
    DONE = "all dipped"


@frozen
class Call:
    """The one thing to do next."""

    do: Do
    piece: str | None = None
    name: str = ""
    seconds: float = 0.0
    """Until it is to be done; below zero for overdue."""
    why: str = ""


@frozen
class Row:
    """One line of the board."""

    piece: str
    name: str
    lot: str
    dips: int
    planned: int
    place: Place
    gone: float
    """Seconds since it came there."""
    left: float | None
    """Seconds it is still to stay."""
    note: str
    """What to do with it, in a few words."""


def next_move(all_pieces: Sequence[Piece], standings: Mapping[str, Standing], vat: VatUse, when: Rests) -> Call:
    """Give the one thing to do next.

    Lift out what has had its time; then let the vat rest if it wants to; then put in who is next; else say what comes
    first. A piece that has had its planned dips is called for a look once nobody else can go in.
    """
    stand = _standings(all_pieces, standings)
    lift = _overdue(all_pieces, stand)
    if lift is not None:
        return lift
    resting = _rest(all_pieces, stand, vat, when)
    if resting is not None:
        return resting
    ready = next_piece(all_pieces, standings)
    if ready is not None:
        left = stand[ready.id].left
        return Call(Do.ENTER, ready.id, ready.name, min(left or 0.0, 0.0), _why(ready, stand[ready.id]))
    return _wait(all_pieces, stand)


def _standings(all_pieces: Iterable[Piece], standings: Mapping[str, Standing]) -> dict[str, Standing]:
    return {piece.id: standings.get(piece.id, Standing()) for piece in all_pieces}


def _overdue(all_pieces: Iterable[Piece], stand: Mapping[str, Standing]) -> Call | None:
    over = [
        (stand[piece.id].left or 0.0, piece)
        for piece in all_pieces
        if stand[piece.id].place is Place.IN_VAT and (stand[piece.id].left or 0.0) <= 0
    ]
    if not over:
        return None
    left, piece = min(over, key=lambda item: item[0])
    return Call(Do.LIFT, piece.id, piece.name, left, "its dip is over")


def _rest(all_pieces: Iterable[Piece], stand: Mapping[str, Standing], vat: VatUse, when: Rests) -> Call | None:
    """A rest begins once the vat is empty, and only if somebody still has to go in."""
    due = rest_due(vat, when)
    busy = any(item.place is Place.IN_VAT for item in stand.values())
    if due is None or busy or not any(_wants(piece, stand[piece.id]) for piece in all_pieces):
        return None
    left = 60 * (due[0] - vat.idle)
    return Call(Do.REST, seconds=left, why=f"after {due[1]}; look at it, warm it, read it") if left > 0 else None


def _wants(piece: Piece, where: Standing) -> bool:
    """Tell whether a piece has dips to come."""
    return where.place is not Place.DONE and where.dips < piece.dips


def next_piece(all_pieces: Sequence[Piece], standings: Mapping[str, Standing]) -> Piece | None:
    """Give the piece that goes in next, now; None if nobody can. Who that is, the plan's own rule says.

    A piece that is in the air may not go in before its time; nobody goes in where the entry is full. Beside one that
    is in goes who could have gone in with it, or has aired within a minute of the latest: the others wait for the next.
    """
    stand = _standings(all_pieces, standings)
    inside = [piece for piece in all_pieces if stand[piece.id].place is Place.IN_VAT]
    wanting = [_turn(piece, stand[piece.id]) for piece in all_pieces if _is_out(piece, stand[piece.id])]
    begun = [_turn(piece, stand[piece.id]) for piece in all_pieces if stand[piece.id].dips]
    queue = Queue.of(wanting, begun)
    if inside:
        filled = sum(piece.share for piece in inside)
        since = min(stand[piece.id].gone for piece in inside) / 60
        turn = queue.joins(_turn(inside[0], stand[inside[0].id]), filled, min(TOGETHER - since, 0.0))
    else:
        turn = queue.next_in(0.0)
    return next((piece for piece in all_pieces if turn and piece.id == turn.id), None)


def _is_out(piece: Piece, where: Standing) -> bool:
    return _wants(piece, where) and where.place is not Place.IN_VAT


def _turn(piece: Piece, where: Standing) -> Turn:
    """Give a piece as it takes turns, now being minute 0."""
    ready = (where.left or 0.0) / 60 if where.place is Place.AIRING else 0.0 if where.dips else None
    return Turn(piece.id, (piece.phase, piece.dip_min, piece.air_min), piece.share, ready)


def too_soon(where: Standing) -> bool:
    """Tell whether a piece is still to air."""
    return where.place is Place.AIRING and (where.left or 0.0) > 0


def _why(piece: Piece, where: Standing) -> str:
    count = f"dip {where.dips + 1} of {piece.dips}"
    return f"{count}; it has aired long enough" if where.place is Place.AIRING else count


def _wait(all_pieces: Sequence[Piece], stand: Mapping[str, Standing]) -> Call:
    """Nobody can go in: say what comes first, or who is to be looked at."""
    coming = [
        (stand[piece.id].left or 0.0, piece)
        for piece in all_pieces
        if stand[piece.id].place is Place.IN_VAT or (too_soon(stand[piece.id]) and _wants(piece, stand[piece.id]))
    ]
    finished = [piece for piece in all_pieces if is_to_look_at(piece, stand[piece.id])]
    if finished:
        first = finished[0]
        return Call(Do.LOOK, first.id, first.name, 0.0, "wet looks darker than dry. Deep enough, or once more?")
    if not coming:
        return Call(Do.DONE, why="every piece has had its dips")
    left, piece = min(coming, key=lambda item: item[0])
    next_up = "then lift it out" if stand[piece.id].place is Place.IN_VAT else _why_nobody(all_pieces, stand)
    return Call(Do.WAIT, piece.id, piece.name, left, next_up)


def _why_nobody(all_pieces: Sequence[Piece], stand: Mapping[str, Standing]) -> str:
    """Say why the vat stands idle while pieces that have not been in are there, or else that somebody airs."""
    new = [piece for piece in all_pieces if stand[piece.id].place is Place.WAITING and _wants(piece, stand[piece.id])]
    busy = any(item.place is Place.IN_VAT for item in stand.values())
    return "then it has aired long enough" if busy or not new else "plant fibres go in last"


def is_to_look_at(piece: Piece, where: Standing) -> bool:
    """Tell whether a piece has had its planned dips and its air, and waits for the dyer's word."""
    return where.place is Place.AIRING and where.dips >= piece.dips and not too_soon(where)


def board(all_pieces: Sequence[Piece], standings: Mapping[str, Standing]) -> tuple[Row, ...]:
    """Give a line for each piece, in the order in which they first go in: no row moves under the hand."""
    stand = _standings(all_pieces, standings)
    upcoming = next_piece(all_pieces, standings)
    return tuple(_row(piece, stand[piece.id], piece == upcoming) for piece in all_pieces)


def _row(piece: Piece, where: Standing, is_next: bool) -> Row:
    return Row(
        piece.id, piece.name, piece.lot, where.dips, piece.dips, where.place, where.gone, where.left,
        _note(piece, where, is_next),
    )  # fmt: skip


def _note(piece: Piece, where: Standing, is_next: bool) -> str:
    if where.place is Place.IN_VAT:
        return "lift out" if (where.left or 0.0) <= 0 else ""
    if is_next:
        return "next in"
    if where.place is Place.AIRING and not too_soon(where):
        return "look" if where.dips >= piece.dips else "aired"
    return ""
