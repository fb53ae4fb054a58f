"""What a piece has on it so far."""

from __future__ import annotations

from attrs import frozen

from vatside.chemistry.bath import Bath

MORE = 1.1
"""A fibre that takes so many times as much as the table shows how far its depth follows what it takes: ours."""


@frozen
class OnPiece:
    """What a piece has on it so far; grams of indigotin before rinsing."""

    laid: float = 0.0
    """Gone on by itself, and left by the liquor that it carried."""
    rinsed: float = 0.0
    """Share of it that the rinses take off again."""
    specks: float = 0.0
    """Dye that was not reduced: it washes off."""
    by_table: float = 0.0
    """What these dips would have laid on by the practice table alone, g."""
    by_more: float = 0.0
    """And if the fibre took `MORE` times as much, g."""
    liquor: Bath | None = None
    """What it carries now, aired."""

    @property
    def stays(self) -> float:
        """Indigotin that stays after rinsing, g."""
        return self.laid * (1 - self.rinsed)

    @property
    def goes(self) -> float:
        """Indigotin that the rinses take off, g."""
        return self.laid * self.rinsed + self.specks

    def depth(self, grams: float) -> float:
        """Give what stays as % of the dry fibre (g)."""
        return 100 * self.stays / grams if grams > 0 else 0.0
