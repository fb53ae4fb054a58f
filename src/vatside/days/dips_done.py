"""Dips and airings as they really were, piece by piece."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import frozen

from vatside.log.counting import happened
from vatside.log.events.vat import LotDipped
from vatside.log.fold import State
from vatside.log.moment import seconds_between


@frozen
class Dipped:
    """What one piece went through, or all pieces of a lot alike."""

    piece: str
    """`LOT.NUMBER`, or the lot's id."""
    lot: str
    dips: int
    """Ended ones."""
    dip_min: float
    """The mean dip, minutes."""
    air_min: float
    """All airings together that were ended, minutes; 0 where nobody timed them."""
    airings: int = 0
    """How many those are: the last one may still be going on, or nobody said when it ended."""

    @property
    def each_air_min(self) -> float:
        """The mean airing, minutes."""
        return self.air_min / self.airings if self.airings else 0.0


def dipped(state: State) -> tuple[Dipped, ...]:
    """Give what every piece went through, in the order in which they first went in."""
    return (*_pieces(state), *_lots(state))


def _pieces(state: State) -> Iterator[Dipped]:
    times: dict[str, list[float]] = {}
    for item in state.dipping.entered:
        if item.end is not None:
            times.setdefault(item.piece, []).append(max(seconds_between(item.start, item.end), 0.0) / 60)
    for piece, dips in times.items():
        airs = [wait.banked / 60 for wait in state.past_waits if wait.id.startswith(f"{piece}:air")]
        yield Dipped(piece, piece.rpartition(".")[0], len(dips), sum(dips) / len(dips), sum(airs), len(airs))


def _lots(state: State) -> Iterator[Dipped]:
    """Lots whose dips were written down as a whole."""
    times: dict[str, list[float]] = {}
    for entry in happened(state, LotDipped):
        if isinstance(entry.event, LotDipped):
            times.setdefault(entry.event.lot, []).append(entry.event.minutes)
    for lot, dips in times.items():
        yield Dipped(lot, lot, len(dips), sum(dips) / len(dips), 0.0)
