"""Seats for nudges: one minute of one pair of hands each, moved along when a step wants theirs.

A nudge has no minute of its own until the day is laid. Each sits somewhere in its window; when its minute is wanted it
moves, and others move for it, along an augmenting path (bipartite matching of unit jobs to minutes).
"""

from collections.abc import Mapping

from vatside.dayline.line.bits import stretch, take
from vatside.dayline.line.net import Net


class Seats:
    """The minutes of the nudges of one laying; books them in the rows `totals` beside what the steps take."""

    def __init__(self, net: Net, rows: list[int]) -> None:
        """`rows` belong to the laying and are changed in place."""
        self.net = net
        self.rows = rows
        self.seat = [-1] * net.seats
        self.window = [0] * net.seats
        self.wish = [0] * net.seats
        self.asked: Mapping[int, int] = {}
        self.top = net.totals + net.people - 1
        self.full = net.hands + net.people - 1
        self.seen = 0

    def seat_early(self) -> None:
        """Seat the nudges of what runs; one that has no minute any more is left out."""
        for number, low, high, at in self.net.early_calls:
            self.window[number] = stretch(low, high + 1)
            self.wish[number] = self.asked.get(number, max(0, at))
            self.seen = 0
            self._find(number)

    def seated(self, i: int, at: int) -> bool:
        """Book the hands of a task that begins at `at` and seat its nudges; if one has no seat, False and no change."""
        needs, calls = self.net.hand_needs[i], self.net.calls[i]
        if calls or self._sat_on(i, at):
            return self._moved_along(i, at)
        for need in needs:
            take(self.rows, self.net.totals, need.size, need.units, need.minutes << (at + need.since))
        return True

    def _sat_on(self, i: int, at: int) -> bool:
        """Whether a nudge sits on a minute that a task wants."""
        rows, first = self.rows, self.net.totals - self.net.hands
        return any(rows[need.row + first] & need.minutes << (at + need.since) for need in self.net.hand_needs[i])

    def _moved_along(self, i: int, at: int) -> bool:
        net, rows = self.net, self.rows
        kept = rows[net.totals :], self.seat[:]
        unseated: list[int] = []
        for need in net.hand_needs[i]:
            minutes = need.minutes << (at + need.since)
            self._evict(net.totals + need.size - need.units, minutes, unseated)
            take(rows, net.totals, net.people, need.units, minutes)
        for call in net.calls[i]:
            self.window[call.number] = stretch(at + call.low, at + call.high + 1)
            self.wish[call.number] = self.asked.get(call.number, at + call.at)
            unseated.append(call.number)
        for number in unseated:
            self.seen = 0
            if not self._find(number):
                rows[net.totals :], self.seat[:] = kept
                return False
        return True

    def _evict(self, row: int, minutes: int, unseated: list[int]) -> None:
        over = self.rows[row] & minutes
        while over:
            bit = over & -over
            number = self.seat.index(bit.bit_length() - 1)
            self.seat[number] = -1
            unseated.append(number)
            self._leave(bit)
            over = self.rows[row] & minutes

    def _leave(self, bit: int) -> None:
        for row in range(self.top, self.net.totals - 1, -1):
            if self.rows[row] & bit:
                self.rows[row] ^= bit
                return

    def _find(self, number: int) -> bool:
        """Seat a nudge, others moved along if need be."""
        window = self.window[number] & ~self.seen
        free = window & ~self.rows[self.top]
        if free:
            self._sit(number, free)
            return True
        window &= ~self.rows[self.full]
        while window:
            bit = window & -window
            window ^= bit
            self.seen |= bit
            minute = bit.bit_length() - 1
            for other in [q for q, at in enumerate(self.seat) if at == minute]:
                if self._find(other):
                    self.seat[number] = minute
                    return True
            window &= ~self.seen
        return False

    def _sit(self, number: int, free: int) -> None:
        later = free >> self.wish[number]
        minute = self.wish[number] + (later & -later).bit_length() - 1 if later else free.bit_length() - 1
        self.seat[number] = minute
        take(self.rows, self.net.totals, self.net.people, 1, 1 << minute)
