"""The dips of all lots as entries in their turns, and the entries as rounds: minutes from the first one in.

Who goes in is `dips.queue`'s to say and when the vat rests `dips.rests`'s, as on the board. A round is a run of entries
without a gap, as many as the vat takes before a rest; between two rounds the vat is empty.
"""

from collections.abc import Mapping, Sequence

from attrs import define, field, frozen

from vatside.dips.pieces import Piece, Place, Standing
from vatside.dips.queue import Queue, Turn
from vatside.dips.rests import Rests, Worked, rest_due

#: Entries that are this near to each other, minutes, follow without a gap.
NO_GAP = 0.5


@frozen
class Entry:
    """Pieces that are in together."""

    phase: int
    begin: float
    end: float
    pieces: tuple[str, ...]


@frozen
class Round:
    """Entries that follow each other without a gap."""

    entries: tuple[Entry, ...]

    @property
    def begin(self) -> float:
        """When the first goes in."""
        return self.entries[0].begin

    @property
    def end(self) -> float:
        """When the last comes out."""
        return self.entries[-1].end

    @property
    def phase(self) -> int:
        """0 wool, hair and silk; 1 plant fibres."""
        return self.entries[0].phase

    @property
    def pieces(self) -> frozenset[str]:
        """All that are in it."""
        return frozenset(piece for entry in self.entries for piece in entry.pieces)


@define
class _Turns:
    """A vat and its clock while the pieces take turns."""

    pieces: Mapping[str, Piece]
    had: dict[str, int]
    handling: float
    when: Rests
    now: float = 0.0
    done: Worked = field(factory=Worked)
    entries: list[Entry] = field(factory=list)

    def rest(self) -> None:
        """Let the vat rest if it wants to."""
        due = rest_due(self.done.use(self.now, self.when), self.when)
        self.now += max(due[0] - (self.now - self.done.latest), 0.0) if due else 0.0

    def dip(self, inside: Sequence[Turn]) -> None:
        """One entry."""
        piece = self.pieces[inside[0].id]
        end = self.now + piece.dip_min + self.handling
        self.entries.append(Entry(piece.phase, self.now, end, tuple(turn.id for turn in inside)))
        self.done = self.done.then(self.now, end, 1.0, self.when)
        self.now = end
        for turn in inside:
            self.had[turn.id] += 1

    def wants(self, piece: str) -> bool:
        """Whether it has dips to come."""
        return self.had[piece] < self.pieces[piece].dips


def entries(
    pieces: Sequence[Piece],
    when: Rests,
    handling: float,
    standings: Mapping[str, Standing] | None = None,
    worked: Worked | None = None,
) -> tuple[Entry, ...]:
    """Every entry to come; pieces that have been in go on from where they stand, the vat from what it has done."""
    stand = {piece.id: (standings or {}).get(piece.id, Standing()) for piece in pieces}
    lifted = [_left(where) + handling for where in stand.values() if where.place is Place.IN_VAT]
    had = {piece: where.dips for piece, where in stand.items()}
    day = _Turns(
        {piece.id: piece for piece in pieces}, had, handling, when, max(lifted, default=0.0), worked or Worked()
    )
    turns = [_turn(piece, stand[piece.id], handling) for piece in pieces]
    wanting = [turn for turn in turns if day.wants(turn.id) and stand[turn.id].place is not Place.DONE]
    queue = Queue.of(wanting, [turn for turn in turns if stand[turn.id].dips])
    while queue.phase is not None:
        first = queue.next_in(day.now)
        if first is None:
            day.now = queue.soonest()
            continue
        day.rest()
        inside = _together(queue, queue.next_in(day.now) or first, day.now)
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


def _together(queue: Queue, first: Turn, now: float) -> list[Turn]:
    inside, filled = [first], first.share
    queue.take(first)
    while (more := queue.joins(first, filled, now)) is not None:
        queue.take(more)
        inside.append(more)
        filled += more.share
    return inside


def rounds(found: Sequence[Entry], most: int) -> tuple[Round, ...]:
    """Entries as rounds of at most so many."""
    made: list[list[Entry]] = []
    for entry in found:
        last = made[-1] if made else None
        if last and len(last) < max(most, 1) and entry.phase == last[-1].phase and entry.begin - last[-1].end < NO_GAP:
            last.append(entry)
        else:
            made.append([entry])
    return tuple(Round(tuple(each)) for each in made)
