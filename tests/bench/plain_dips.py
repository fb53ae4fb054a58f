"""The dips of one lot in plain floats: like pieces by turns, dye, minutes and heat entry after entry."""

from __future__ import annotations

from collections import deque
from math import cbrt, exp, inf, sqrt

from tests.bench.plain_water import HOB_KW, ROOM

from vatside.catalogue import dyeing
from vatside.catalogue.dyeing import usual_for
from vatside.catalogue.values import Fibre, Warmth

DEPTH = 0.8
"""Of the starter plan, % on weight of fibre."""
PIECES = 6


class Taking:
    """What a kilogram of the fibre takes in dips of the length that is usual for the depth."""

    def __init__(self, fibre: Fibre, warmth: Warmth) -> None:
        law, usual = dyeing.uptakes()[fibre.group], usual_for(DEPTH)
        self.pull = law.pull.value * (1 - exp(-sqrt(usual.dip / law.time.value)))
        self.half, self.ceiling, self.stays = law.half.value, law.ceiling.value, 1 - law.rinsed.value / 100
        self.carried, self.usual = fibre.held.value / 100, usual
        self.air = max(usual.air, usual.dip)
        self.pauses, own = dyeing.pauses(), dyeing.own_results()
        self.each = usual.dip + self.pauses.handling.value
        self.wide = 1.28 * sqrt(own.prior.value**2 + own.day.value**2)
        self.warmth = warmth.of(fibre.group)


class Dips:
    """A day of dips of like pieces; a vat whose start is given is kept warm, one whose start is 0 has no heat."""

    def __init__(
        self, taking: Taking, kg: float, share: float, litres: float, strength: float, factor: float = 1.0,
        start: float = 0.0,
    ) -> None:  # fmt: skip
        self.taking, self.kg, self.litres, self.strength, self.factor = taking, kg, litres, strength, factor
        self.on, self.dips, self.ready = [0.0] * PIECES, [0] * PIECES, [-1.0] * PIECES
        self.first = self.rinsed = self.minutes = self.warm_by = self.warm_hob = self.warm_from = 0.0
        self.count = self.round = self.warm_after = self.since_rest = 0
        self.began, self.latest = -1.0, -inf
        self.celsius, self.cooled, self.coolest, self.warm = start, 0.0, start, start > 0
        warmth = taking.warmth
        self.low, self.high = min(warmth.low or inf, start - 2), max(warmth.high or 0.0, start)
        self.loses = 0.17 / 60 * cbrt(20 / litres)
        self.waiting = deque(piece for piece in range(PIECES) if self._wants(piece))
        while self.waiting:
            self._enters(share)

    def _laid(self, on: float) -> float:
        taking, c = self.taking, self.strength
        carried = taking.carried * c + taking.pull * c / (c + taking.half)
        return self.factor * carried * (1 - on / taking.ceiling)

    def _wants(self, piece: int) -> bool:
        wanted, on = 10 * DEPTH, self.on[piece]
        if on >= 0.95 * wanted or self.dips[piece] >= 30:
            return False
        return self.taking.stays * self._laid(on) >= 0.01 * wanted

    def _enters(self, share: float) -> None:
        """The first in the queue goes in once it has aired, with as many as there is room for."""
        waiting = self.waiting
        self.minutes = max(self.minutes, self.ready[waiting[0]])
        self._rests()
        self.round += self.ready[waiting[0]] < 0
        inside, filled = [waiting.popleft()], share
        while waiting and self.ready[waiting[0]] <= self.minutes + 1e-9 and filled + share <= 1 + 1e-6:
            inside.append(waiting.popleft())
            filled += share
        self._cools_by(len(inside))
        self._dyes(inside)
        self._goes_on()
        for piece in sorted(inside):
            if self._wants(piece):
                self.ready[piece] = self.minutes + self.taking.air
                waiting.append(piece)

    def _dyes(self, inside: list[int]) -> None:
        taking, grams = self.taking, self.strength * self.litres
        wanted = [self._laid(self.on[piece]) * self.kg for piece in inside]
        total = sum(wanted)
        taken = grams * (1 - exp(-total / grams))
        for piece, want in zip(inside, wanted, strict=True):
            laid = want * taken / total / self.kg
            self.first = self.first or taking.stays * laid
            self.on[piece] += taking.stays * laid
            self.rinsed += (1 - taking.stays) * laid * self.kg
            self.dips[piece] += 1
        self.strength = (grams - taken) / self.litres

    def _goes_on(self) -> None:
        """The clock, and what the vat has worked since it rested; two thirds of a rest count as one."""
        pauses, gap = self.taking.pauses, self.minutes - self.latest
        if self.began < 0 or gap >= pauses.rest.value * 2 / 3:
            self.began = self.minutes
        self.since_rest = (0 if gap >= pauses.short_rest.value * 2 / 3 else self.since_rest) + 1
        self.minutes += self.taking.each
        self.count, self.latest = self.count + 1, self.minutes
        self._cools(self.minutes)

    def _rests(self) -> None:
        """The long rest after hours of work, the short one after some entries, and heat in the meantime."""
        pauses, idle, rest = self.taking.pauses, self.minutes - self.latest, 0.0
        if idle < pauses.rest.value and self.latest - self.began >= pauses.work.value:
            rest = max(pauses.rest.value - idle, 0.0)
        elif idle < pauses.short_rest.value and self.since_rest >= pauses.entries.value:
            rest = max(pauses.short_rest.value - idle, 0.0)
        if self.warm:
            self._warms(rest)
        self.minutes += rest

    def _warms(self, rest: float) -> None:
        self._cools(self.minutes + rest)
        if self.celsius >= min(self.low + 0.5, self.high - 1):
            return
        kelvin = self.high - 1 - self.celsius
        hob = 4.19 * self.litres * kelvin / (60 * HOB_KW * 0.8)
        if not self.warm_by:
            self.warm_after, self.warm_by, self.warm_hob, self.warm_from = self.count, kelvin, hob, self.celsius
        self.minutes += max(hob - (self.minutes + rest - max(self.latest, 0.0)), 0.0)
        self.celsius, self.cooled = self.high - 1, self.minutes + rest

    def _cools_by(self, pieces: int) -> None:
        """Wet pieces as cold as the room."""
        water = pieces * self.kg * (self.taking.carried + 0.3)
        self.celsius -= (self.celsius - ROOM) * water / (self.litres + water)
        self.coolest = min(self.coolest, self.celsius)

    def _cools(self, minute: float) -> None:
        if self.warm:
            lost = self.loses * (minute - self.cooled)
            self.celsius, self.cooled = ROOM + (self.celsius - ROOM) * exp(-lost), minute
