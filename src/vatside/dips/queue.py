"""Who goes into the vat next: one rule for the plan and for the board.

Wool and silk go in before plant fibres, as the pH goes up later and not down. Pieces that are dipped and aired alike go
in together, and all of them have their first dip before one of them has its second, so that they stay alike. Else
whoever has aired and waited longest goes in first; another kind begins in gaps, or when the one before is through.
Times are minutes on any clock that all pieces share.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable
from math import inf

from attrs import define, field

ROOM = 1e-6
"""What is left of an entry that counts as full."""


Alike = tuple[int, float, float]
"""Phase, dip and air: what pieces that go in together have in common."""


@define(eq=False)
class Turn:
    """A piece, or like pieces as one, that takes turns."""

    id: str
    alike: Alike
    """A phase ends before the next one goes in."""
    share: float
    """Of one entry."""
    ready: float | None = None
    """From when on it may go in again; None: it has not been in."""


@define
class _Kind:
    """Pieces that may go in together."""

    phase: int
    begun: bool = False
    """One of them has been in."""
    airing: deque[Turn] = field(factory=deque)
    """Longest out first."""
    new: deque[Turn] = field(factory=deque)

    def aired(self, now: float) -> Turn | None:
        """Give who has aired longest, if long enough."""
        return self.airing[0] if self.airing and (self.airing[0].ready or 0.0) <= now + 1e-9 else None


@define
class Queue:
    """Pieces that still have dips to come and are not in the vat."""

    _kinds: dict[Alike, _Kind] = field(factory=dict)

    @classmethod
    def of(cls, turns: Iterable[Turn], others: Iterable[Turn] = ()) -> Queue:
        """Line pieces up as they come; those in the air by the minute at which they have aired.

        The `others` have been in too: they are in the vat, or through.
        """
        queue, waiting = cls(), list(turns)
        for turn in waiting:
            if turn.ready is None:
                queue._kind(turn).new.append(turn)
        for turn in sorted((turn for turn in waiting if turn.ready is not None), key=lambda turn: turn.ready or 0.0):
            queue._kind(turn).airing.append(turn)
            queue._kind(turn).begun = True
        for turn in others:
            queue._kind(turn).begun = True
        return queue

    def _kind(self, turn: Turn) -> _Kind:
        kind = self._kinds.get(turn.alike)
        if kind is None:
            kind = self._kinds[turn.alike] = _Kind(turn.alike[0])
        return kind

    @property
    def phase(self) -> int | None:
        """The phase that has dips to come; None if nobody has."""
        first = None
        for kind in self._kinds.values():
            if (kind.new or kind.airing) and (first is None or kind.phase < first):
                first = kind.phase
        return first

    def back(self, turn: Turn) -> None:
        """Let a piece wait in the air for its next dip."""
        self._kinds[turn.alike].airing.append(turn)

    def next_in(self, now: float) -> Turn | None:
        """Give who goes into the empty vat now; None if nobody can yet."""
        phase, aired, other = self.phase, None, None
        for kind in self._kinds.values():
            if kind.phase != phase:
                continue
            if kind.new:
                if kind.begun:
                    return kind.new[0]
                other = other or kind.new[0]
            turn = kind.aired(now)
            if turn is not None and (aired is None or (turn.ready or 0.0) < (aired.ready or 0.0)):
                aired = turn
        return aired or other

    def joins(self, inside: Turn, filled: float, now: float) -> Turn | None:
        """Give who goes in beside one that is in the vat, of which so much of an entry is filled; None if nobody."""
        kind = self._kinds.get(inside.alike)
        if kind is None or (self.phase or 0) < kind.phase:
            return None
        turn = kind.new[0] if kind.new else kind.aired(now)
        return turn if turn is not None and filled + turn.share <= 1 + ROOM else None

    def take(self, turn: Turn) -> None:
        """Take the piece out that was given to go in."""
        kind = self._kinds[turn.alike]
        kind.begun = True
        (kind.new if turn.ready is None else kind.airing).popleft()

    def soonest(self) -> float:
        """Give the minute at which somebody of the phase has aired; infinite if nobody airs."""
        phase = self.phase
        ready = (kind.airing[0].ready or 0.0 for kind in self._kinds.values() if kind.phase == phase and kind.airing)
        return min(ready, default=inf)
