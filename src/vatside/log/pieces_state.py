"""What a session knows of its pieces, as frozen values."""

from __future__ import annotations

from collections.abc import Mapping

from attrs import field, frozen

from vatside.dips.depth import Seen
from vatside.dips.on_piece import OnPiece
from vatside.dips.pieces import Place
from vatside.log.moment import Moment


@frozen
class PieceState:
    """Where a piece is, and what it has on it."""

    place: Place
    dips: int
    """Begun, the running one included."""
    since: Moment
    """When it came there."""
    wait: str | None = None
    """The wait that counts its dip or its air."""
    on: OnPiece = field(factory=OnPiece)
    """By the account of the vat."""


@frozen
class Entered:
    """One piece's time in the vat."""

    piece: str
    start: Moment
    end: Moment | None = None
    """None while it is in."""
    celsius: float | None = None
    """How warm the vat was by the clock when it went in; None where that was not known."""


@frozen
class Recorded:
    """A swatch and when it was recorded."""

    at: Moment
    piece: str
    """The piece, or a lot's id."""
    seen: Seen


@frozen
class Dipping:
    """The pieces from the first dip to the finish."""

    pieces: Mapping[str, PieceState] = field(factory=dict)
    """By piece id; one that is not here has not been in yet."""
    entered: tuple[Entered, ...] = ()
    """In the order in which they went in."""
    names: Mapping[str, str] = field(factory=dict)
    """Names that the dyer gave, by piece id."""
    swatches: tuple[Recorded, ...] = ()
    at_least: Mapping[str, int] = field(factory=dict)
    """Dips in all that the dyer wants a piece to have, however few its depth takes; by piece id."""
