"""Who goes into the vat next, and when the vat wants a rest: one rule for the plan and for the board.

Wool and silk go in before plant fibres, as the pH goes up later and not down. Pieces that are dipped and aired alike go
in together, and all of them have their first dip before one of them has its second, so that they stay alike. Else
whoever has aired and waited longest goes in first; another kind begins in gaps, or when the one before is through.
Times are minutes on any clock that all pieces share.
The vat rests after some entries for a short time, after hours of work for a long one; there times are minutes too.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable
from math import ceil, inf

from attrs import define, field, frozen

from vatside.plan.sheet import Sheet
from vatside.units import show_count

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

    def comes(self, turn: Turn) -> None:
        """Line up a piece that was not there from the beginning."""
        self._kind(turn).new.append(turn)

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

    def take_entry(self, first: Turn, now: float) -> list[Turn]:
        """Take out whoever goes in together with the first."""
        inside, filled = [first], first.share
        self.take(first)
        while (more := self.joins(first, filled, now)) is not None:
            self.take(more)
            inside.append(more)
            filled += more.share
        return inside

    def soonest(self) -> float:
        """Give the minute at which somebody of the phase has aired; infinite if nobody airs."""
        phase = self.phase
        ready = (kind.airing[0].ready or 0.0 for kind in self._kinds.values() if kind.phase == phase and kind.airing)
        return min(ready, default=inf)


COUNTS = 2 / 3
"""A gap between two entries that was so much of a rest, as a share, counts as one: a judgement of our own."""


@frozen
class Stay:
    """One piece's time in the vat, on any clock that all stays share."""

    start: float
    end: float | None
    """None while it is in."""
    share: float
    """Of an entry: a half where two pieces fill it."""


@frozen
class VatUse:
    """What the vat has done since it last rested."""

    worked: float = 0.0
    """Since the first entry after a long rest."""
    entries: int = 0
    """Entries since a rest; pieces that go in together make one."""
    idle: float = 0.0
    """Since the last piece came out; 0 while one is in."""


@frozen
class Rests:
    """When the vat wants a rest."""

    after_work: float
    long: float
    after_entries: float
    short: float


NEVER = Rests(0, 0, 0, 0)
"""A vat that wants no rest."""


def rests(sheet: Sheet) -> Rests:
    """Give the plan's rests."""
    return Rests(*(sheet.value(f"dip.{name}") for name in ("rest_after", "rest", "entries", "short_rest")))


@frozen
class VatWork:
    """What the vat has done up to the end of its latest entry."""

    began: float | None = None
    """First entry after a long rest."""
    entries: int = 0
    """Since a rest."""
    latest: float = -inf
    """End of the latest stay."""
    filled: float = 0.0
    """Of the latest entry."""

    def then(self, start: float, end: float, share: float, when: Rests) -> VatWork:
        """Go on with one more stay; the gap before it was a rest if it was long enough.

        It begins an entry if the vat was empty, or if the latest entry has no room for it.
        """
        gap, filled = start - self.latest, self.filled + share
        begins = gap >= 0 or filled > 1 + ROOM
        return VatWork(
            start if self.began is None or gap >= COUNTS * when.long else self.began,
            (0 if gap >= COUNTS * when.short else self.entries) + begins,
            max(self.latest, end),
            share if begins else filled,
        )

    def use(self, now: float, when: Rests) -> VatUse:
        """Give what it has done by now; the rest that is going on counts once it is over."""
        if self.began is None:
            return VatUse()
        idle = max(now - self.latest, 0.0)
        worked = 0.0 if idle >= when.long else now - idle - self.began
        return VatUse(max(worked, 0.0), 0 if idle >= when.short else self.entries, idle)


def as_entries(stays: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    """Give the entries that stays make, each from its first piece in to its last one out.

    A piece goes in with others as long as none of these is out again.
    """
    made: list[tuple[float, float]] = []
    first_out = -inf
    for begin, end in sorted(stays):
        if begin >= first_out:
            made.append((begin, end))
            first_out = end
        else:
            made[-1] = made[-1][0], max(made[-1][1], end)
            first_out = min(first_out, end)
    return made


def entries_had(pieces: Iterable[tuple[int, float]]) -> int:
    """Give how many entries pieces of so many dips, each of a share of an entry, have had: each with all it takes."""
    return ceil(sum(dips / max(int(1 / share + ROOM), 1) for dips, share in pieces if share) - ROOM)


def vat_use(stays: Iterable[Stay], now: float, when: Rests) -> VatUse:
    """Give what the vat has done since its rests."""
    done = VatWork()
    for stay in sorted(stays, key=lambda item: item.start):
        done = done.then(stay.start, inf if stay.end is None else stay.end, stay.share, when)
    return done.use(now, when)


def rest_due(vat: VatUse, when: Rests) -> tuple[float, str] | None:
    """Give the minutes of rest that the vat wants and why; None if it can go on."""
    if when.after_work and vat.worked >= when.after_work:
        return when.long, f"{when.after_work / 60:g} h of work"
    if when.after_entries and vat.entries >= when.after_entries:
        return when.short, show_count(vat.entries, "entry", "entries")
    return None
