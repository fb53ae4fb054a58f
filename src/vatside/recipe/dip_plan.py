"""What was planned of the dips stays planned while they go on, as far as the account of the vat bears it out.

Worked out anew after each entry, a piece at the edge of its depth would have now one dip more and now one less.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from math import ceil

from attrs import evolve

from vatside.dips.lot import DipLot, pieces_of
from vatside.dips.run import End, Piece, Run
from vatside.dips.so_far import SoFar
from vatside.dips.uptake import Tank
from vatside.recipe.need import bundled
from vatside.recipe.worksheet import Worksheet

NEARLY_DEEP = 0.9
"""A piece that comes to this share of its depth with its planned dips gets no more: ours."""
BARELY_DEEP = 1.0
"""One that comes to less than this share of it with fewer dips keeps those that are planned: ours."""
SAME_VAT = 0.03
"""A vat that began with a strength this near to the plan's is the plan's: ours."""

Dipping = Callable[[tuple[Piece, ...]], Run]
"""Dips pieces in thought in the vat as it is now."""


def began_with(sheet: Worksheet, lots: Sequence[DipLot], so_far: SoFar) -> Tank:
    """Give the vat before its first dip: the plan's, or what the account has with what the pieces took put back."""
    plan = Tank(sheet["vat.liquor"], sheet["vat.strength"])
    if so_far.tank is None or not so_far.tank.litres:
        return plan
    grams = so_far.tank.grams + sum(_took(item, so_far) for item in lots)
    began = Tank(so_far.tank.litres, grams / so_far.tank.litres)
    return plan if abs(began.strength - plan.strength) <= SAME_VAT * plan.strength else began


def _took(item: DipLot, so_far: SoFar) -> float:
    """Indigotin that the pieces of a lot took out of the vat, g."""
    had = [so_far.of(item.lot.id, number) for number in range(1, item.lot.pieces + 1)]
    return sum(1000 * item.piece_kg * one.depth / 100 + one.rinsed_g for one in had)


def before(lots: Sequence[DipLot], entry_g: float) -> tuple[Piece, ...]:
    """Give all pieces as they were before their dips."""
    return bundled([piece for item in lots for piece in pieces_of(item, entry_g)])


def each_piece(lot: DipLot, ends: Sequence[End]) -> Iterator[tuple[str, int]]:
    """Give the dips of every piece of a lot: those that were looked at as one get what that one gets."""
    known = {end.piece.id: end.dips for end in ends}
    dips = 0
    for number in range(1, lot.lot.pieces + 1):
        piece = f"{lot.lot.id}.{number}"
        dips = known.get(piece, dips)
        yield piece, dips


def as_planned(pieces: tuple[Piece, ...], planned: Mapping[str, int], now: Dipping) -> tuple[Piece, ...]:
    """Give pieces under way with their planned dips held, where those come near enough to their depth."""
    free = {end.piece.id: end for end in now(pieces).ends}
    if all(free[piece.id].dips == planned.get(piece.id) for piece in pieces):
        return pieces
    held = tuple(_held(piece, planned) for piece in pieces)
    with_planned = {end.piece.id: end for end in now(held).ends}
    return tuple(
        kept if _bears(piece, free[piece.id], with_planned[piece.id]) else piece
        for piece, kept in zip(pieces, held, strict=True)
    )


def _held(piece: Piece, planned: Mapping[str, int]) -> Piece:
    """Hold the planned dips; not where they are more than a weak vat is given."""
    if piece.exactly is not None or not planned.get(piece.id, 0) <= piece.most:
        return piece
    return evolve(piece, exactly=max(planned.get(piece.id, 0), piece.had, piece.least))


def _bears(piece: Piece, free: End, planned: End) -> bool:
    """Tell whether the planned dips still hold: not too few by much, nor too many."""
    if free.dips > planned.dips:
        return planned.on >= NEARLY_DEEP * piece.wants
    return free.dips == planned.dips or free.on < BARELY_DEEP * piece.wants


def entries_so_far(pieces: Sequence[Piece]) -> int:
    """Give how many entries the pieces have had: each with as many as it takes."""
    return ceil(sum(piece.had / max(int(1 / piece.share + 1e-6), 1) for piece in pieces if piece.share) - 1e-6)
