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


@define(eq=False)
class Turn:
    """A piece, or like pieces as one, that takes turns."""

    id: str
    phase: int
    """A phase ends before the next one goes in."""
    dip: float
    air: float
    share: float
    """Of one entry."""
    ready: float | None = None
    """From when on it may go in again; None: it has not been in."""

    @property
    def alike(self) -> tuple[int, float, float]:
        """What pieces that go in together have in common."""
        return (self.phase, self.dip, self.air)


@define
class _Kind:
    """Pieces that may go in together."""

    begun: bool = False
    """One of them has been in."""
    airing: deque[Turn] = field(factory=deque)
    """Longest out first."""
    new: deque[Turn] = field(factory=deque)

    def best(self, now: float) -> Turn | None:
        """Give who goes in first of these: new ones, then who has aired longest."""
        return self.new[0] if self.new else self.aired(now)

    def aired(self, now: float) -> Turn | None:
        """Give who has aired longest, if long enough."""
        return self.airing[0] if self.airing and (self.airing[0].ready or 0.0) <= now + 1e-9 else None


@define
class Queue:
    """Pieces that still have dips to come and are not in the vat."""

    _kinds: dict[tuple[int, float, float], _Kind] = field(factory=dict)

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
        return self._kinds.setdefault(turn.alike, _Kind())

    @property
    def phase(self) -> int | None:
        """The phase that has dips to come; None if nobody has."""
        return min((alike[0] for alike, kind in self._kinds.items() if kind.airing or kind.new), default=None)

    def back(self, turn: Turn) -> None:
        """Let a piece wait in the air for its next dip."""
        self._kind(turn).airing.append(turn)

    def next_in(self, now: float) -> Turn | None:
        """Give who goes into the empty vat now; None if nobody can yet."""
        phase = self.phase
        kinds = [kind for alike, kind in self._kinds.items() if alike[0] == phase]
        for kind in kinds:
            if kind.begun and kind.new:
                return kind.new[0]
        aired = [turn for kind in kinds if (turn := kind.aired(now))]
        if aired:
            return min(aired, key=lambda turn: turn.ready or 0.0)
        return next((kind.new[0] for kind in kinds if kind.new), None)

    def joins(self, inside: Turn, filled: float, now: float) -> Turn | None:
        """Give who goes in beside one that is in the vat, of which so much of an entry is filled; None if nobody."""
        turn = self._kinds[inside.alike].best(now) if inside.alike in self._kinds else None
        return turn if turn and inside.phase == self._first(inside.phase) and filled + turn.share <= 1 + ROOM else None

    def _first(self, phase: int) -> int:
        waiting = self.phase
        return phase if waiting is None else min(phase, waiting)

    def take(self, turn: Turn) -> None:
        """Take a piece out: it goes in."""
        kind = self._kind(turn)
        kind.begun = True
        (kind.new if turn.ready is None else kind.airing).remove(turn)

    def soonest(self) -> float:
        """Give the minute at which somebody of the phase has aired; infinite if nobody airs."""
        phase = self.phase
        return min(
            (kind.airing[0].ready or 0.0 for alike, kind in self._kinds.items() if alike[0] == phase and kind.airing),
            default=inf,
        )
