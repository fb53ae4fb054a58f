"""A lot whose pieces have been in the vat: how many dips it takes from here on, and what it comes to with them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from attrs import frozen

from vatside.recipe.dip_item import DipLot
from vatside.recipe.forecast import Need, gain, look_ahead, turn_of
from vatside.recipe.so_far import PieceSoFar, SoFar
from vatside.recipe.uptake import MOST_DIPS, Outcome, Take, Tank

LEAST_GRACE = 2
"""A piece may have so many dips more than planned at first before it is given up: a judgement of our own."""


def is_under_way(item: DipLot, so_far: SoFar) -> bool:
    """Tell whether a piece of the lot has been in the vat."""
    return any(had.dips or had.done for had in _had(item, so_far))


def is_done(item: DipLot, so_far: SoFar) -> bool:
    """Tell whether every piece of the lot has had its last dip."""
    return all(had.done for had in _had(item, so_far))


def _had(item: DipLot, so_far: SoFar) -> Iterator[PieceSoFar]:
    return (so_far.of(item.lot.id, number) for number in range(1, item.lot.pieces + 1))


def least_dips(item: DipLot, so_far: SoFar) -> int:
    """Give how many dips the piece has had that had fewest of those that are not done; 0 for a lot that is done."""
    return min((had.dips for had in _had(item, so_far) if not had.done), default=0)


def pieces_left(item: DipLot, so_far: SoFar) -> int:
    """Give how many pieces have not had their last dip."""
    return sum(not had.done for had in _had(item, so_far))


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

    def dips_in_all(self, most: int) -> tuple[int, ...]:
        """Give the dips of each piece: those it had, and those that its depth takes from here on, up to so many."""
        ahead = look_ahead(self.tank, self._needs([most] * self.item.lot.pieces), until_deep=True)
        return tuple(had.dips + end.dips for had, end in zip(_had(self.item, self.so_far), ahead.pieces, strict=True))

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
        for number, (had, many) in enumerate(zip(_had(self.item, self.so_far), dips, strict=True), start=1):
            left = 0 if had.done else max(many - had.dips, 0)
            turn = turn_of(lot.id, number, self.in_turn)
            yield Need(f"{lot.id}.{number}", lot.name, turn, kg, self.take, had.depth, self.item.depth, left)
