"""The entries of all lots into the vat, in their turns: who goes in when, and when the vat rests or is warmed again.

Who is next is `vatside.dips.entry_rule`'s to say, as on the board. Minutes from the first in.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import inf

from attrs import define, field, frozen

from vatside.dips.entry_rule import Queue, Rests, Turn, VatWork, entries_had, rest_due
from vatside.dips.rotation import Piece, Place, Standing, lot_id


@frozen
class Entry:
    """Pieces that are in together."""

    phase: int
    begin: float
    end: float
    pieces: tuple[str, ...]
    held_up: float = 0.0
    """Minutes for which it waited until the vat was warm again."""


@define
class _Turns:
    """A vat and its clock while the pieces take turns."""

    pieces: Mapping[str, Piece]
    had: dict[str, int]
    handling: float
    when: Rests
    held_up: Mapping[int, float]
    """Minutes for which an entry waits until the vat is warm again, by the entries before it."""
    over: int
    """Entries that were before."""
    now: float = 0.0
    done: VatWork = field(factory=VatWork)
    entries: list[Entry] = field(factory=list)

    def rest(self) -> None:
        """Let the vat rest if it wants to, and be warmed where that takes longer."""
        due = rest_due(self.done.use(self.now, self.when), self.when)
        self.now += max(due[0] - (self.now - self.done.latest), 0.0) if due else 0.0
        self.now += self._held_up

    @property
    def _held_up(self) -> float:
        return self.held_up.get(self.over + len(self.entries), 0.0)

    def dip(self, inside: Sequence[Turn]) -> None:
        """One entry."""
        piece = self.pieces[inside[0].id]
        end = self.now + piece.dip_min + self.handling
        self.entries.append(Entry(piece.phase, self.now, end, tuple(turn.id for turn in inside), self._held_up))
        self.done = self.done.then(self.now, end, 1.0, self.when)
        self.now = end
        for turn in inside:
            self.had[turn.id] += 1

    def wants(self, piece: str) -> bool:
        """Whether it has dips to come."""
        return self.had[piece] < self.pieces[piece].dips


@define
class _Coming:
    """Pieces that are not there from the beginning, by the minute at which they are."""

    turns: list[tuple[float, Turn]]

    @classmethod
    def of(cls, turns: Sequence[Turn], late: Mapping[str, float]) -> _Coming:
        """Those that have not been in and whose lot comes later."""
        comers = [(late.get(lot_id(turn.id), 0.0), turn) for turn in turns if turn.ready is None]
        return cls(sorted((each for each in comers if each[0] > 0), key=lambda each: each[0]))

    def has(self, turn: Turn) -> bool:
        """Whether a piece is still to come."""
        return any(other is turn for _, other in self.turns)

    def join(self, queue: Queue, now: float) -> None:
        """Line up those that are there by now."""
        while self.turns and self.turns[0][0] <= now:
            queue.comes(self.turns.pop(0)[1])

    def holds_up(self, phase: int | None) -> bool:
        """Whether one is still to come that goes in before the phase at hand: wool before the pH goes up."""
        return any(phase is None or turn.alike[0] < phase for _, turn in self.turns)

    def soonest(self) -> float:
        """When the next one is there."""
        return self.turns[0][0] if self.turns else inf


def entries(
    pieces: Sequence[Piece],
    when: Rests,
    handling: float,
    standings: Mapping[str, Standing] | None = None,
    worked: VatWork | None = None,
    late: Mapping[str, float] | None = None,
    held_up: Mapping[int, float] | None = None,
    entered: int = 0,
    at_work: float = 0.0,
) -> tuple[Entry, ...]:
    """Every entry to come; pieces that have been in go on from where they stand, the vat from what it has done.

    `late` gives the minutes, from the first in, before which a lot is not there: its pieces join then; `held_up` those
    for which an entry waits until the vat is warm again, by the entries before it in all. So many have `entered`; where
    no log tells, each had all that it takes. The vat is `at_work` for some minutes, and nobody goes in.
    """
    stand = {piece.id: (standings or {}).get(piece.id, Standing()) for piece in pieces}
    lifted = [_left(where) + handling for where in stand.values() if where.place is Place.IN_VAT]
    had = {piece: where.dips for piece, where in stand.items()}
    by_id = {piece.id: piece for piece in pieces}
    over = entered or entries_had((had[piece.id], piece.share) for piece in pieces)
    begin = max(*lifted, at_work, 0.0)
    day = _Turns(by_id, had, handling, when, held_up or {}, over, begin, worked or VatWork())
    turns = [_turn(piece, stand[piece.id], handling) for piece in pieces]
    wanting = [turn for turn in turns if day.wants(turn.id) and stand[turn.id].place is not Place.DONE]
    coming = _Coming.of(wanting, late or {})
    there = [turn for turn in wanting if not coming.has(turn)]
    queue = Queue.of(there, [turn for turn in turns if stand[turn.id].dips])
    while queue.phase is not None or coming.turns:
        coming.join(queue, day.now)
        first = None if coming.holds_up(queue.phase) else queue.next_in(day.now)
        if first is None:
            day.now = min(queue.soonest(), coming.soonest()) if not coming.holds_up(queue.phase) else coming.soonest()
            continue
        day.rest()
        inside = queue.take_entry(queue.next_in(day.now) or first, day.now)
        day.dip(inside)
        for turn in inside:
            if day.wants(turn.id):
                turn.ready = day.now + turn.alike[2]
                queue.back(turn)
    return tuple(day.entries)


def _turn(piece: Piece, where: Standing, handling: float) -> Turn:
    ready = None
    if where.place is Place.IN_VAT:
        ready = _left(where) + handling + piece.air_min
    elif where.dips:
        ready = _left(where)
    return Turn(piece.id, (piece.phase, piece.dip_min, piece.air_min), piece.share, ready)


def _left(where: Standing) -> float:
    """Minutes that a piece is still to stay where it is."""
    return max(where.left or 0.0, 0.0) / 60
