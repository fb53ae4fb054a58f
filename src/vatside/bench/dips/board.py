"""What the board of the dips shows, as values."""

from __future__ import annotations

from attrs import frozen

from vatside.dips import rotation
from vatside.dips.rotation import Call, Do
from vatside.log.moment import Moment


@frozen
class Line:
    """One piece at a moment."""

    row: rotation.Row
    since: Moment | None
    """When it came to where it is; None: it has not been in yet."""
    turn: str
    """What to do with it right now where it hangs or lies, because its call rings; else empty."""
    paused: bool


@frozen
class Following:
    """The piece that goes in next, or after the one called for; and in how many seconds."""

    name: str
    seconds: float


@frozen
class Board:
    """Everything on the dip board that moves with the clock."""

    call: Call
    lines: tuple[Line, ...]
    following: Following | None
    afterwards: tuple[str, ...] = ()
    """What to do once everybody has had the last dip."""

    @property
    def turning(self) -> Line | None:
        """A piece that wants to be turned."""
        return next((line for line in self.lines if line.turn), None)

    @property
    def piece(self) -> str:
        """The piece that the large words are about; empty where they are about none."""
        if self.call.do is not Do.LIFT and self.turning is not None:
            return self.turning.row.piece
        return self.call.piece or ""

    def line(self, piece: str) -> Line | None:
        """One piece."""
        return next((line for line in self.lines if line.row.piece == piece), None)
