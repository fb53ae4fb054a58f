"""A lot as it comes to the dips."""

from __future__ import annotations

from attrs import frozen

from vatside.catalogue.dyeing import Dipping, dipping_for
from vatside.recipe.measures import clean_grams, share
from vatside.recipe.plan import Lot, Plan


@frozen
class DipLot:
    """A lot on its way through the dips."""

    lot: Lot
    grams: float
    depth: float
    """%."""
    usual: Dipping

    def id(self, name: str) -> str:
        """Give the figure id of one of its quantities."""
        return f"dip.{self.lot.id}.{name}"

    @property
    def piece_kg(self) -> float:
        """Dry mass of one piece, kg."""
        return self.grams / max(self.lot.pieces, 1) / 1000

    @property
    def most_usual(self) -> int:
        """Dips that are usual at most for its depth, in a vat meant for it."""
        return round(self.usual.dips.high or self.usual.dips.value)


def dip_lot(plan: Plan, lot: Lot) -> DipLot:
    """Give a lot as it comes to the dips."""
    depth = 100 * share(lot.depth)
    return DipLot(lot, clean_grams(plan, lot), depth, dipping_for(depth))
