"""One laying: the tasks of a net in a given order, each as early as it can be, with the seats of the nudges.

A task that breaks the `most` of one laid before is first pulled up right behind it; the second time the earlier one is
pushed later, and the laying goes on from there. A span is held to the end of the day until the task that closes it is
laid; if it came out longer than there was room, its opener is laid again with room for that length.
A nudge sits somewhere in its window; when its minute is wanted it moves, along an augmenting path (bipartite matching).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from vatside.dayline.line.net import Held, Net, give_back, lowest_zero, narrowed, ones, shifts, smeared, stretch, take


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


#: How often one laying may go back before its order is said to have no plan.
MOST_RETURNS = 40


class StuckError(Exception):
    """An order that has no plan."""


class MustMove(NamedTuple):
    """Why a task could not be laid: another, laid before, has to begin at `at`, or be laid again with more room.

    `near` says that a link of its own ties the two; `task` is negative where none is to blame.
    """

    task: int
    at: int
    near: bool


#: What the task needs is held to the end of the day, or the task is too late for something that runs.
HELD, URGENT = MustMove(-1, 0, near=False), MustMove(-2, 0, near=False)
Kept = tuple[list[int], list[int], list[int], list[int], list[int]]


class Laying:
    """Lays one order; used once."""

    def __init__(self, net: Net, order: Sequence[int], floor: Sequence[int], breaks: Sequence[int]) -> None:
        """`floor` holds the earliest start of each task that the caller asks for beyond the net's own."""
        self.net = net
        self.order = list(order)
        self.floor = list(floor)
        self.room_wanted = [held.need for held in net.held]
        self.begin = list(net.head)
        self.laid = [False] * net.size
        self.rows = net.empty_rows(breaks)
        self.seats = Seats(net, self.rows)
        self.room = [net.horizon + 1] * len(net.held)
        self.unit = [held.rows[0] for held in net.held]
        self.asked_unit: Mapping[int, int] = {}
        self.pulled: set[tuple[int, int]] = set()
        self.returns = 0
        self.kept: list[Kept] = []

    def run(self) -> None:
        """Lay all. Raises StuckError where the order has no plan."""
        self.seats.seat_early()
        k = 0
        while k < len(self.order):
            self._keep(k)
            why = self._lay(self.order[k])
            k = k + 1 if why is None else self._go_back(k, why)

    # --- states to go back to ------------------------------------------------

    def _keep(self, k: int) -> None:
        del self.kept[k:]
        self.kept.append((self.rows[:], self.begin[:], self.seats.seat[:], self.room[:], self.unit[:]))

    def _restore(self, k: int) -> None:
        rows, begin, seat, room, unit = self.kept[k]
        self.rows[:] = rows
        self.seats.seat[:] = seat
        self.begin, self.room, self.unit = begin[:], room[:], unit[:]
        for i in self.order[k:]:
            self.laid[i] = False

    # --- laying one ----------------------------------------------------------

    def _lay(self, i: int) -> MustMove | None:
        """Lay a task as early as it can be; why not, where something laid before stands in the way."""
        net = self.net
        at = self._start(i, max(self.begin[i], self.floor[i]))
        if at + net.lengths[i] > net.horizon:
            return HELD
        if at > net.limit[i] and self._first_time_late(i):
            return URGENT
        self.begin[i] = at
        self.laid[i] = True
        why = self._carry(i)
        if why is None:
            self._book(i, at)
            why = self._close(i, at)
        return why

    def _start(self, i: int, earliest: int) -> int:
        """The first start at which all that the task takes is there, its nudges and those of others seated."""
        net, rows = self.net, self.rows
        taken = 0
        for need in net.needs[i]:
            taken |= smeared(rows[need.row] >> (earliest + need.since), need.steps)
        for s in net.opens[i]:
            taken |= self._span_taken(s, earliest, taken)
        full = rows[net.hands + net.people - 1]
        for call in net.calls[i]:
            taken |= narrowed(full >> (earliest + call.low), call.steps)
        while True:
            at = earliest + lowest_zero(taken)
            if at > net.horizon or self.seats.seated(i, at):
                return at
            taken |= 1 << (at - earliest)

    def _span_taken(self, s: int, earliest: int, taken: int) -> int:
        """Minutes at which a span cannot open; the unit that lets it open first is chosen, the smallest of equals."""
        held = self.net.held[s]
        steps = shifts(self.room_wanted[s])
        best, chosen = self.net.horizon + 2, 0
        asked = self.asked_unit.get(s)
        for row in held.rows if asked is None else (asked, *held.rows):
            there = smeared(self.rows[row + held.size - held.units] >> (earliest + held.since), steps)
            first = lowest_zero(taken | there)
            if first < best:
                best, chosen, self.unit[s] = first, there, row
        return chosen

    def _carry(self, i: int) -> MustMove | None:
        """Carry a start forward through the links, up to a task laid before that would have to be later."""
        begin, laid, out = self.begin, self.laid, self.net.out
        todo = [i]
        while todo:
            a = todo.pop()
            start = begin[a]
            for j, w in out[a]:
                if start + w > begin[j]:
                    if laid[j]:
                        return MustMove(j, start + w, a == i)
                    begin[j] = start + w
                    todo.append(j)
        return None

    def _book(self, i: int, at: int) -> None:
        for need in self.net.needs[i]:
            take(self.rows, need.base, need.size, need.units, need.minutes << (at + need.since))
        for s in self.net.opens[i]:
            self._open(s, self.net.held[s], at)

    def _open(self, s: int, held: Held, at: int) -> None:
        """Hold from here up to where the unit is taken again, or to the end of the day."""
        opened = at + held.since
        beyond = self.rows[self.unit[s] + held.size - held.units] >> opened
        room = opened + (beyond & -beyond).bit_length() - 1 if beyond else self.net.horizon + 1
        self.room[s] = room
        take(self.rows, self.unit[s], held.size, held.units, ones(room - opened) << opened)

    def _close(self, i: int, at: int) -> MustMove | None:
        """Close the spans that end with a task, up to one that came out longer than it has room."""
        for s in self.net.closes[i]:
            held = self.net.held[s]
            end = at + held.until
            if end <= self.room[s]:
                give_back(self.rows, self.unit[s], held.size, held.units, ones(self.room[s] - end) << end)
            elif held.opener < 0:
                raise StuckError
            else:
                self.room_wanted[s] = end - self.begin[held.opener] - held.since
                return MustMove(held.opener, 0, near=False)
        return None

    def _first_time_late(self, i: int) -> bool:
        """Whether a task that misses the limit of a fact may still be tried before all others."""
        if self.net.hard:
            raise StuckError
        again = (i, -1) in self.pulled
        self.pulled.add((i, -1))
        return not again

    # --- where something stands in the way -----------------------------------

    def _go_back(self, k: int, why: MustMove) -> int:
        """Change the order or a floor; the place to go on from."""
        self.returns += 1
        if self.returns > MOST_RETURNS:
            raise StuckError
        i = self.order[k]
        self.laid[i] = False
        if why is URGENT:
            return self._pull(k, 0)
        if why is HELD:
            return self._let_first(k)
        p = self.order.index(why.task)
        if why.near and p + 1 < k and (i, why.task) not in self.pulled:
            self.pulled.add((i, why.task))
            return self._pull(k, p + 1)
        return self._push(p, why.task, why.at)

    def _pull(self, k: int, to: int) -> int:
        """Lay a task, and what has to come before it, right at place `to`."""
        self._restore(to)
        bring_forward(self.net, self.order, k, to)
        return to

    def _push(self, p: int, j: int, at: int) -> int:
        """Lay a task later, and with it those laid before that may not come so long before it."""
        floor = self.floor
        floor[j] = max(floor[j], at)
        todo = [j]
        while todo:
            a = todo.pop()
            for b, w in self.net.out[a]:
                if self.laid[b] and floor[a] + w > max(self.begin[b], floor[b]):
                    floor[b] = floor[a] + w
                    p = min(p, self.order.index(b))
                    todo.append(b)
        self._restore(p)
        return p

    def _let_first(self, k: int) -> int:
        """Let the next task that gives something back, and what it needs, go before the one at `k`."""
        i, above = self.order[k], self.net.above
        for q in range(k + 1, len(self.order)):
            j = self.order[q]
            if self._gives_back(j) and not above[j] >> i & 1:
                return self._pull(q, k)
        raise StuckError

    def _gives_back(self, j: int) -> bool:
        openers = [self.net.held[s].opener for s in self.net.closes[j]]
        return any(opener < 0 or self.laid[opener] for opener in openers)


def bring_forward(net: Net, order: list[int], k: int, to: int) -> None:
    """Move the task at `k`, and what has to come before it, forward to place `to`."""
    above = net.above[order[k]]
    moved = [x for x in order[to:k] if above >> x & 1] + [order[k]]
    rest = [x for x in order[to:k] if not above >> x & 1]
    order[to : k + 1] = moved + rest
