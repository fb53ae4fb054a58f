"""The dips of a day in thought, entry by entry: dye, time and heat of one vat run together.

The plan and the board ask the same: who goes in is `vatside.dips.entry_rule`'s to say, when the vat rests
`vatside.dips.entry_rule`'s, and what goes on `vatside.dips.uptake`'s. Times are minutes from the first entry.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import cbrt, exp, inf

from attrs import define, field, frozen

from vatside.chemistry.heat import FIBRE_AS_WATER
from vatside.dips.entry_rule import Queue, Rests, Turn, VatWork, rest_due
from vatside.dips.uptake import CLOSE_ENOUGH, MOST_DIPS, WORTH_A_DIP, Law, Tank, enter
from vatside.plan.grouping import gathered

COOLS = 0.17
"""Share of its warmth above the room that a vat of twenty litres with its lid off loses in an hour: common practice,
no source (4.5 degrees an hour at 45). A smaller one cools faster, as its surface by its volume: its cube root."""
COOLS_LITRES = 20.0


def cools(litres: float) -> float:
    """Give the share of its warmth above the room that a vat of so many litres usually loses, 1/min [Newton]."""
    return COOLS / 60 * cbrt(COOLS_LITRES / max(litres, 0.1))


HOB_REACHES = 0.8
"""Share of the hob's heat that stays in the liquor: common practice, no source."""
HEAT_OF_WATER = 4.19
"""kJ/(kg K), from memory."""
TOO_COOL = 0.5
"""A vat is warmed again before it is this near to the coolest that suits the fibre, K: ours."""
BELOW_HIGHEST = 1.0
"""And up to this far below the warmest, K: ours."""


@frozen
class Piece:
    """A piece, or like pieces as one, before its dips."""

    id: str
    phase: int
    law: Law
    kg: float
    """Dry, of all that it stands for."""
    share: float
    """Of one entry."""
    dip: float
    air: float
    wants: float
    """Depth, g/kg after rinsing."""
    has: float = 0.0
    """On it already, g/kg after rinsing."""
    had: int = 0
    """Dips so far."""
    exactly: int | None = None
    """Dips in all that it gets, whatever it comes to; None: as many as its depth takes."""
    least: int = 0
    """Dips in all that it gets at least."""
    most: int = MOST_DIPS
    """And at most, where its depth decides."""

    def like(self, id: str, law: Law) -> Piece:  # noqa: A002
        """Give another of the same kind; a plan of a great many pieces makes each of them so."""
        return Piece(
            id, self.phase, law, self.kg, self.share, self.dip, self.air, self.wants, self.has, self.had,
            self.exactly, self.least, self.most,
        )  # fmt: skip


@frozen
class Warmth:
    """How warm the vat is and is to stay, degrees C."""

    start: float
    low: float
    high: float
    room: float
    hob: float
    """kW."""
    kettle: float = 0.0
    """Temperature of the kettle water that takes the place of as much liquor; 0 where the hob warms it."""


@frozen
class Warming:
    """The vat is warmed again."""

    after: int
    """Entries before it."""
    at: float
    """Minute at which it begins."""
    cold: float
    """degrees C."""
    warm: float
    """degrees C."""
    minutes: float
    """On the hob."""
    holds_up: float
    """Minutes of them for which the next entry waits, beyond airing and rests."""


@frozen
class End:
    """What became of a piece."""

    piece: Piece
    dips: int
    """In all."""
    on: float
    """g/kg after rinsing."""
    rinsed: float
    """Taken off again by the rinses of the dips in thought, g."""
    first: float
    """What its next dip stays to lay on, g/kg."""

    @property
    def deep(self) -> bool:
        """Tell whether it came to its depth."""
        return self.on >= CLOSE_ENOUGH * self.piece.wants


@frozen
class Run:
    """How the dips go."""

    ends: tuple[End, ...]
    """In the order of the pieces."""
    tank: Tank
    entries: int
    minutes: float
    """From the first piece in to the last one out."""
    busy: float
    """Of it the vat's own, handling included."""
    rests: float
    """Of it in which the vat rests by rule, beyond what airing leaves it idle."""
    groups: int
    """Entries of the first round."""
    widest: float
    """Largest share of the vat's dye that one entry asks for."""
    phase_ends: tuple[float, ...] = ()
    """Minute at which each phase is through."""
    warmings: tuple[Warming, ...] = ()
    coolest: float = inf
    """degrees C."""

    @property
    def dips(self) -> int:
        """Most that a piece gets."""
        return max((end.dips for end in self.ends), default=0)

    def by_lot(self) -> dict[str, tuple[End, ...]]:
        """Give the pieces of each lot, by its id."""
        lots = gathered((end.piece.id.rpartition(".")[0], end) for end in self.ends)
        return {lot: tuple(ends) for lot, ends in lots.items()}

    @property
    def deep(self) -> bool:
        """Tell whether every piece comes to its depth."""
        return all(end.deep for end in self.ends)

    @property
    def waits_for_air(self) -> bool:
        """Tell whether the vat stands idle while pieces air."""
        return self.minutes - self.busy - self.rests > 1e-6


@define(eq=False)
class _Dipped:
    """A piece on its way."""

    piece: Piece
    turn: Turn
    on: float
    dips: int
    rinsed: float = 0.0
    first: float = 0.0

    def wants(self, tank: Tank) -> bool:
        """Tell whether it goes in once more."""
        piece = self.piece
        if piece.exactly is not None:
            return self.dips < piece.exactly
        if self.dips < piece.least:
            return True
        if self.dips >= piece.most or self.on >= CLOSE_ENOUGH * piece.wants:
            return False
        return piece.law.stays(tank.strength, self.on) >= WORTH_A_DIP * piece.wants

    def end(self) -> End:
        """Give what became of it."""
        return End(self.piece, self.dips, self.on, self.rinsed, self.first)


@define(eq=False)
class _Day:
    """A vat with its clock."""

    tank: Tank
    handling: float
    when: Rests
    warmth: Warmth | None
    now: float = 0.0
    done: VatWork = field(factory=VatWork)
    entries: int = 0
    busy: float = 0.0
    rested: float = 0.0
    widest: float = 0.0
    celsius: float = 0.0
    cooled: float = 0.0
    """Minute up to which it has cooled."""
    coolest: float = inf
    warmings: list[Warming] = field(factory=list)

    def pause(self) -> None:
        """Let the vat rest if it wants to, and warm it in the meantime if it is too cool."""
        due = rest_due(self.done.use(self.now, self.when), self.when)
        left = max(due[0] - (self.now - self.done.latest), 0.0) if due else 0.0
        self._warm(left)
        self.rested += left
        self.now += left

    def _warm(self, rest: float) -> None:
        warmth, idle_since = self.warmth, max(self.done.latest, 0.0)
        if warmth is None:
            return
        self._cool_to(self.now + rest)
        if self.celsius >= warmth.low + TOO_COOL or warmth.high - BELOW_HIGHEST <= self.celsius:
            return
        warm = warmth.high - BELOW_HIGHEST
        minutes = hob_minutes(self.tank.litres, warm - self.celsius, warmth.hob)
        if warmth.kettle:
            share = kettle_share(warm - self.celsius, warmth.kettle - self.celsius)
            self.tank = Tank(self.tank.litres, self.tank.strength * (1 - share))
        holds_up = max(minutes - (self.now + rest - idle_since), 0.0)
        self.warmings.append(Warming(self.entries, idle_since, self.celsius, warm, minutes, holds_up))
        self.now += holds_up
        self.celsius, self.cooled = warm, self.now + rest

    def _cool_to(self, minute: float) -> None:
        """Let the open vat lose warmth up to a minute (Newton)."""
        if self.warmth:
            room, lost = self.warmth.room, cools(self.tank.litres) * (minute - self.cooled)
            self.celsius, self.cooled = room + (self.celsius - room) * exp(-lost), minute

    def dip(self, inside: Sequence[_Dipped]) -> None:
        """Put some pieces in together and take them out again."""
        self._mix_in(inside)
        entry = enter(self.tank, [(item.piece.law, item.piece.kg, item.on) for item in inside])
        for item, laid in zip(inside, entry.laid, strict=True):
            stays = laid * (1 - item.piece.law.rinsed)
            item.first = item.first or stays
            item.on += stays
            item.rinsed += laid * item.piece.law.rinsed * item.piece.kg
            item.dips += 1
        self.tank, self.widest = entry.tank, max(self.widest, entry.share)
        minutes = inside[0].piece.dip + self.handling
        self._cool_to(self.now + minutes)
        self.done = self.done.then(self.now, self.now + minutes, 1.0, self.when)
        self.entries, self.busy, self.now = self.entries + 1, self.busy + minutes, self.now + minutes

    def _mix_in(self, inside: Sequence[_Dipped]) -> None:
        """Wet pieces as cold as the room cool the vat."""
        if self.warmth:
            water = sum(item.piece.kg * (item.piece.law.carried + FIBRE_AS_WATER) for item in inside)
            self.celsius -= (self.celsius - self.warmth.room) * water / (self.tank.litres + water)
            self.coolest = min(self.coolest, self.celsius)


def hob_minutes(litres: float, kelvin: float, kW: float) -> float:
    """Minutes on the hob that warm so many litres by so many kelvin."""
    return HEAT_OF_WATER * litres * max(kelvin, 0.0) / (60 * kW * HOB_REACHES) if kW > 0 else 0.0


def kettle_share(kelvin: float, hotter: float) -> float:
    """Share of the liquor that is changed for kettle water, so much hotter, to warm it by so many kelvin."""
    return min(max(kelvin, 0.0) / hotter, 1.0) if hotter > 0 else 1.0


def run(pieces: Sequence[Piece], tank: Tank, *, handling: float, when: Rests, warmth: Warmth | None = None) -> Run:
    """Dip all pieces in thought, those of a phase by turns, until each has what it wants."""
    day = _Day(tank, handling, when, warmth, celsius=warmth.start if warmth else 0.0)
    all_ = [_Dipped(piece, _turn(piece), piece.has, piece.had) for piece in pieces]
    by_id = {item.turn.id: item for item in all_}
    place = {item.turn.id: number for number, item in enumerate(all_)}
    queue = Queue.of([item.turn for item in all_ if item.wants(tank)], [item.turn for item in all_ if item.dips])
    groups, phase_ends = 0, {}
    while queue.phase is not None:
        first = queue.next_in(day.now)
        if first is None:
            day.now = queue.soonest()
            continue
        day.pause()
        first = queue.next_in(day.now) or first
        groups += first.ready is None
        inside = queue.take_entry(first, day.now)
        day.dip([by_id[turn.id] for turn in inside])
        phase_ends[first.alike[0]] = day.now
        for turn in sorted(inside, key=lambda turn: place[turn.id]):
            if by_id[turn.id].wants(day.tank):
                turn.ready = day.now + turn.alike[2]
                queue.back(turn)
    return Run(
        tuple(item.end() for item in all_), day.tank, day.entries, day.now, day.busy, day.rested, groups, day.widest,
        tuple(phase_ends.values()), tuple(day.warmings), day.coolest,
    )  # fmt: skip


def _turn(piece: Piece) -> Turn:
    """One under way has aired; whoever has had fewest dips has waited longest."""
    aired = float(piece.had - MOST_DIPS) if piece.had else None
    return Turn(piece.id, (piece.phase, piece.dip, piece.air), piece.share, aired)


def scaled(pieces: Sequence[Piece], factor: float) -> tuple[Piece, ...]:
    """Give the same pieces where each takes so many times as much."""
    laws = {piece.law: piece.law.times(factor) for piece in pieces}
    return tuple(piece.like(piece.id, laws[piece.law]) for piece in pieces)
