"""The dips of all lots: entries in their turns, rounds of them, and these as tasks with what comes before and between.

Who goes in and when the vat rests is `vatside.dips.entry_rule`'s to say, as on the board. A round is a run of entries
without a gap, as many as the vat takes before a rest; between two rounds the vat is empty. Minutes from the first in.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import ceil, inf

from attrs import define, field, frozen

from vatside.catalogue.dyeing import pauses
from vatside.dayline.day_steps import GENTLE, ROTATE
from vatside.dayline.line.model import HANDS, Task, Use
from vatside.dayline.steps import Step
from vatside.dayline.tasks import Draft
from vatside.dips.entry_rule import Queue, Rests, Turn, VatWork, entries_had, rest_due
from vatside.dips.rotation import Piece, Place, Standing

#: Entries that are this near to each other, minutes, follow without a gap.
NO_GAP = 0.5
#: Minutes that a caustic vat stands open at most after its last dip, so not over lunch: ours.
OPEN = 15


@frozen
class Entry:
    """Pieces that are in together."""

    phase: int
    begin: float
    end: float
    pieces: tuple[str, ...]
    held_up: float = 0.0
    """Minutes for which it waited until the vat was warm again."""


@frozen
class Round:
    """Entries that follow each other without a gap, but for what warming the vat takes."""

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
        comers = [(late.get(_lot(turn.id), 0.0), turn) for turn in turns if turn.ready is None]
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


def rounds(dips: Sequence[Entry], most: int) -> tuple[Round, ...]:
    """Entries as rounds of at most so many."""
    made: list[list[Entry]] = []
    for entry in dips:
        last = made[-1] if made else None
        gap = entry.begin - entry.held_up - last[-1].end if last else 0.0
        if last and len(last) < max(most, 1) and entry.phase == last[-1].phase and gap < NO_GAP:
            last.append(entry)
        else:
            made.append([entry])
    return tuple(Round(tuple(in_round)) for in_round in made)


BETWEEN, WET, COVER = "dip.protein_first", "dip.wet", "dip.cover"
"""The step that raises the pH between protein and plant fibres, the one that wets, and the one that covers the vat."""


@frozen
class Dipped:
    """What follows from the rounds: their tasks, and where each piece is through."""

    tasks: tuple[str, ...]
    rounds: tuple[Round, ...]
    last: Mapping[str, tuple[str, int]]
    """By piece: the task of its last round, and the minute of it in which it comes out."""
    cover: str | None


def add_dips(
    draft: Draft,
    steps: Sequence[Step],
    dip_rounds: Sequence[Round],
    ready: str | None,
    hangs: Mapping[str, str],
    *,
    begun: bool,
) -> Dipped:
    """Take up the steps of the dips.

    `ready` is the task that finds the vat ready, `hangs` the one that hangs a lot up. Once they have `begun`, nothing
    but airing and rests says when the next round goes in.
    """
    by_id = {step.id: step for step in steps}
    first = [step for step in steps if step.id not in (GENTLE, ROTATE, BETWEEN, COVER, WET)]
    names = {step.id: draft.add(step) for step in first}
    draft.chain(names, [(step.id, step) for step in first])
    if first and ready:
        draft.link(ready, first[0].id)
    tasks = _rounds(draft, by_id, dip_rounds, None if begun else names[first[-1].id] if first else ready)
    _wet(draft, by_id, dip_rounds, tasks, hangs)
    _hung(draft, dip_rounds, tasks, hangs)
    cover = _cover(draft, by_id, tasks, first[-1].id if first else None)
    return Dipped(tuple(tasks), tuple(dip_rounds), _last(dip_rounds, tasks), cover)


def round_id(number: int) -> str:
    """Name the task of a round, counted from 1."""
    return f"{ROTATE}#{number}"


def _rounds(draft: Draft, by_id: Mapping[str, Step], dip_rounds: Sequence[Round], before: str | None) -> list[str]:
    """One task a round, each as long after the one before as airing and rests ask for."""
    tasks: list[str] = []
    for number, dip_round in enumerate(dip_rounds):
        step = by_id.get(GENTLE if dip_round.phase == 0 and GENTLE in by_id else ROTATE) or by_id.get(ROTATE)
        if step is None:
            break
        task = draft.add(step, _round(number + 1, dip_round))
        earlier = dip_rounds[number - 1] if number else None
        last = tasks[-1] if tasks else before
        if dip_round.phase and (earlier is None or not earlier.phase) and BETWEEN in by_id:
            between = draft.add(by_id[BETWEEN])
            if last:
                draft.link(last, between)
            draft.link(between, task)
        elif earlier is None:
            if before:
                draft.link(before, task)
        else:
            least = max(_length(earlier), ceil(dip_round.begin - earlier.begin - 1e-6))
            draft.link(tasks[-1], task, least)
        tasks.append(task)
    return tasks


def _round(number: int, dip_round: Round) -> Task:
    """A round as a task; one whose pieces still air begins when they have."""
    return Task(
        round_id(number),
        _length(dip_round),
        _hands(dip_round),
        release=ceil(dip_round.begin - 1e-6) if number == 1 else 0,
    )


def _length(dip_round: Round) -> int:
    """Until the last piece of a round is pressed and hung up."""
    return ceil(dip_round.end - dip_round.begin - 1e-6) + _after_lifting()


def _after_lifting() -> int:
    """Minutes of hands after a piece is out: all but those of lowering in and lifting."""
    return max(ceil(pauses().hands.value) - 2, 0)


def _hands(dip_round: Round) -> tuple[Use, ...]:
    """A minute to lower the first in; at each change one to lift, one for the next, the others to press and hang."""
    taken = {0}
    for entry in dip_round.entries:
        out = ceil(entry.end - dip_round.begin - 1e-6)
        taken |= {out - 1, *range(out, out + _after_lifting())}
        taken |= {out} if entry is not dip_round.entries[-1] else set()
    return tuple(Use(HANDS, a, b) for a, b in _runs(sorted(minute for minute in taken if minute >= 0)))


def _runs(minutes: Sequence[int]) -> list[tuple[int, int]]:
    runs: list[tuple[int, int]] = []
    for minute in minutes:
        if runs and runs[-1][1] == minute:
            runs[-1] = (runs[-1][0], minute + 1)
        else:
            runs.append((minute, minute + 1))
    return runs


def _lot(piece: str) -> str:
    return piece.rpartition(".")[0]


def _wet(
    draft: Draft, by_id: Mapping[str, Step], dip_rounds: Sequence[Round], tasks: Sequence[str], hangs: Mapping[str, str]
) -> None:
    """The pieces of the first round are wet before it; those that still simmer stay wet from their scour."""
    if WET not in by_id:
        return
    wet = draft.add(by_id[WET])
    if not tasks:
        return
    draft.link(wet, tasks[0])
    for hang in dict.fromkeys(
        hangs[lot] for lot in sorted({_lot(piece) for piece in dip_rounds[0].pieces}) if lot in hangs
    ):
        draft.link(hang, wet)


def _hung(draft: Draft, dip_rounds: Sequence[Round], tasks: Sequence[str], hangs: Mapping[str, str]) -> None:
    """A lot hangs before the first round that has a piece of it, not before the vat."""
    seen: set[str] = set()
    for dip_round, task in zip(dip_rounds, tasks, strict=False):
        new = {hangs[lot] for lot in {_lot(piece) for piece in dip_round.pieces} if lot in hangs} - seen
        for hang in sorted(new):
            draft.link(hang, task)
        seen |= new


def _cover(draft: Draft, by_id: Mapping[str, Step], tasks: Sequence[str], before: str | None) -> str | None:
    if COVER not in by_id:
        return None
    cover = draft.add(by_id[COVER])
    after = tasks[-1] if tasks else before
    if after:
        draft.link(after, cover, within=OPEN)
    return cover


def _last(dip_rounds: Sequence[Round], tasks: Sequence[str]) -> dict[str, tuple[str, int]]:
    last: dict[str, tuple[str, int]] = {}
    for dip_round, task in zip(dip_rounds, tasks, strict=False):
        for entry in dip_round.entries:
            out = ceil(entry.end - dip_round.begin - 1e-6) + _after_lifting()
            last |= dict.fromkeys(entry.pieces, (task, out))
    return last
