"""A lot whose pieces have been in the vat: how many dips it takes from here on, and what it comes to with them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from attrs import frozen

from vatside.recipe.dip_item import DipLot
from vatside.recipe.forecast import Need, gain, look_ahead, turn_of
from vatside.recipe.so_far import PieceSoFar, SoFar
from vatside.recipe.uptake import CLOSE_ENOUGH, MOST_DIPS, Outcome, Take, Tank, dip_until

LEAST_GRACE = 2
"""A piece may have so many dips more than planned at first before it is given up: a judgement of our own."""


def is_under_way(item: DipLot, so_far: SoFar) -> bool:
    """Tell whether a piece of the lot has been in the vat."""
    return any(had.dips or had.done for had in _had(item, so_far))


def most_had(item: DipLot, so_far: SoFar) -> int:
    """Give how many dips the piece has had that had most of them."""
    return max((had.dips for had in _had(item, so_far)), default=0)


def is_done(item: DipLot, so_far: SoFar) -> bool:
    """Tell whether every piece of the lot has had its last dip."""
    return all(had.done for had in _had(item, so_far))


def _had(item: DipLot, so_far: SoFar) -> Iterator[PieceSoFar]:
    return (so_far.of(item.lot.id, number) for number in range(1, item.lot.pieces + 1))


def dips_to_come(item: DipLot, so_far: SoFar, dips: Sequence[int]) -> tuple[int, ...]:
    """Give how often each piece is still to go in, by the dips that each has in all; a piece that is done, never."""
    had = zip(_had(item, so_far), dips, strict=True)
    return tuple(0 if piece.done else max(many - piece.dips, 0) for piece, many in had)


def dips_at_first(item: DipLot, began: Tank, now: Tank, take: Take) -> int:
    """Give how many dips a lot was to have when it began; in a vat that is stronger now, as if it began in that."""
    vats = (began, now) if now.strength > began.strength else (began,)
    return max(dip_until(vat, item.lot.pieces, item.piece_kg, take, item.depth).dips for vat in vats)


def most_dips(at_first: int) -> int:
    """Give how many dips a piece may come to that was to have so many at first."""
    return min(at_first + max(LEAST_GRACE, at_first // 2), MOST_DIPS)


@frozen
class Turns:
    """How a lot goes on: a vat, what was done, and how a piece is dipped."""

    tank: Tank
    item: DipLot
    so_far: SoFar
    take: Take
    in_turn: float
    """Pieces that take turns; the others follow them."""

    def dips_in_all(self, at_first: int) -> tuple[int, ...]:
        """Give the dips of each piece: those it had, and those that its depth takes from here on.

        A piece gets some more than it was to have at first, and is then given up; but if as many as at first, or the
        usual number, bring every piece to its depth from here, those: stock may have come in.
        """
        each, deep = self._until_deep([most_dips(at_first)] * self.item.lot.pieces)
        if deep:
            return each
        few = max(at_first, self.item.most_usual)
        more, deep = self._until_deep([had.dips + few for had in _had(self.item, self.so_far)])
        return more if deep else each

    def _until_deep(self, most: Sequence[int]) -> tuple[tuple[int, ...], bool]:
        """Dip each piece until it is deep enough, so many times in all at most; tell whether all came to that."""
        had = tuple(_had(self.item, self.so_far))
        ahead = look_ahead(self.tank, self._needs(most), until_deep=True).pieces
        deep = all(piece.done or end.reaches >= CLOSE_ENOUGH * end.wants for piece, end in zip(had, ahead, strict=True))
        return tuple(piece.dips + end.dips for piece, end in zip(had, ahead, strict=True)), deep

    def held_at(self, dips: int) -> tuple[int, ...]:
        """Give the dips of each piece where the dyer holds their number: never fewer than it had; if done, those."""
        return tuple(had.dips if had.done else max(dips, had.dips) for had in _had(self.item, self.so_far))

    def at_least(self, dips: Sequence[int]) -> tuple[int, ...]:
        """Give the dips of each piece, with those that one is to have beyond what was worked out or held."""
        return tuple(
            many if had.done else max(many, self.so_far.at_least.get(f"{self.item.lot.id}.{number}", 0))
            for number, (had, many) in enumerate(zip(_had(self.item, self.so_far), dips, strict=True), start=1)
        )

    def go_on(self, dips: Sequence[int]) -> Outcome:
        """Give what the lot comes to if each piece that is not done has so many dips in all."""
        ahead = look_ahead(self.tank, self._needs(dips))
        return Outcome(
            dips=max(dips, default=0),
            depth=sum(end.reaches for end in ahead.pieces) / max(len(ahead.pieces), 1),
            first=gain(self.tank, self.item.piece_kg, self.take),
            tank=ahead.tank,
            rinsed_g=sum(had.rinsed_g for had in _had(self.item, self.so_far)) + ahead.rinsed_g,
        )

    def _needs(self, dips: Sequence[int]) -> Iterator[Need]:
        lot, kg = self.item.lot, self.item.piece_kg
        to_come = dips_to_come(self.item, self.so_far, dips)
        for number, (had, left) in enumerate(zip(_had(self.item, self.so_far), to_come, strict=True), start=1):
            turn = turn_of(lot.id, number, self.in_turn)
            yield Need(f"{lot.id}.{number}", lot.name, turn, kg, self.take, had.depth, self.item.depth, left)
