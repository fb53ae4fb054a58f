"""One laying: the tasks of a net in a given order, each as early as it can be.

A task that breaks the `most` of one laid before is first pulled up right behind it; the second time the earlier one is
pushed later, and the laying goes on from there. A span is held to the end of the day until the task that closes it is
laid; if it came out longer than there was room, its opener is laid again with room for that length.
"""

from collections.abc import Mapping, Sequence

from vatside.dayline.line.bits import give_back, lowest_zero, narrowed, ones, shifts, smeared, take
from vatside.dayline.line.net import Held, Net
from vatside.dayline.line.seats import Seats

#: How often one laying may go back before its order is said to have no plan.
MOST_RETURNS = 40


class StuckError(Exception):
    """This order has no plan."""


class Laying:
    """Lays one order; used once."""

    def __init__(self, net: Net, order: Sequence[int], floor: Sequence[int], breaks: Sequence[int]) -> None:
        """`floor` holds the earliest start of each task that the caller asks for beyond the net's own."""
        self.net = net
        self.order = list(order)
        self.floor = list(floor)
        self.need = [held.need for held in net.held]
        self.begin = list(net.head)
        self.laid = [False] * net.size
        self.rows = net.empty_rows(breaks)
        self.seats = Seats(net, self.rows)
        self.room = [net.horizon + 1] * len(net.held)
        self.unit = [held.rows[0] for held in net.held]
        self.asked_unit: Mapping[int, int] = {}
        self.pulled: set[tuple[int, int]] = set()
        self.returns = 0
        self.kept: list[tuple[list[int], list[int], list[int], list[int], list[int]]] = []
        self.blame: list[tuple[int, int]] = []
        self.direct = False

    def run(self) -> None:
        """Lay all. Raises StuckError where the order has no plan."""
        self.seats.seat_early()
        k = 0
        while k < len(self.order):
            self._keep(k)
            k = k + 1 if self._lay(self.order[k]) else self._go_back(k)

    # --- states to go back to ------------------------------------------------

    def _keep(self, k: int) -> None:
        del self.kept[k:]
        self.kept.append((self.rows[:], self.begin[:], self.seats.seat[:], self.room[:], self.unit[:]))

    def _restore(self, k: int) -> None:
        rows, begin, seat, room, unit = self.kept[k]
        self.rows[:] = rows
        self.begin = begin[:]
        self.seats.seat[:] = seat
        self.room = room[:]
        self.unit = unit[:]
        for i in self.order[k:]:
            self.laid[i] = False

    # --- laying one ----------------------------------------------------------

    def _lay(self, i: int) -> bool:
        """Lay a task as early as it can be; False, and `blame`, where something laid before stands in the way."""
        earliest = max(self.begin[i], self.floor[i])
        at = self._start(i, earliest)
        if at + self.net.lengths[i] > self.net.horizon:
            return self._cannot_now(i)
        if at > self.net.limit[i] and self._out_of_time(i, at):
            return False
        self.begin[i] = at
        self.laid[i] = True
        return self._carry(i) and self._booked(i, at) and self._closed(i, at)

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
        steps = shifts(self.need[s])
        best, chosen = None, 0
        asked = self.asked_unit.get(s)
        for row in held.rows if asked is None else (asked, *held.rows):
            there = smeared(self.rows[row + held.size - held.units] >> (earliest + held.since), steps)
            first = lowest_zero(taken | there)
            if best is None or first < best:
                best, chosen, self.unit[s] = first, there, row
        return chosen

    def _carry(self, i: int) -> bool:
        """Carry a start forward through the links; False where a task laid before would have to be later."""
        begin, laid, out = self.begin, self.laid, self.net.out
        todo = [i]
        while todo:
            a = todo.pop()
            start = begin[a]
            for j, w in out[a]:
                if start + w > begin[j]:
                    if laid[j]:
                        self.blame, self.direct = [(j, start + w)], a == i
                        return False
                    begin[j] = start + w
                    todo.append(j)
        return True

    def _closed(self, i: int, at: int) -> bool:
        """Close the spans that end with a task; False where one came out longer than it has room."""
        for s in self.net.closes[i]:
            held = self.net.held[s]
            end = at + held.until
            if end > self.room[s]:
                if held.opener < 0:
                    raise StuckError
                opened = self.begin[held.opener] + held.since
                self.need[s] = end - opened
                self.blame, self.direct = [(held.opener, 0)], False
                return False
            give_back(self.rows, self.unit[s], held.size, held.units, ones(self.room[s] - end) << end)
        return True

    def _booked(self, i: int, at: int) -> bool:
        for need in self.net.needs[i]:
            minutes = need.minutes << (at + need.since)
            if need.size == 1:
                self.rows[need.base] |= minutes
            else:
                take(self.rows, need.base, need.size, need.units, minutes)
        for s in self.net.opens[i]:
            self._open(s, self.net.held[s], at)
        return True

    def _open(self, s: int, held: Held, at: int) -> None:
        """Hold from here up to where the unit is taken again, or to the end of the day."""
        opened = at + held.since
        beyond = self.rows[self.unit[s] + held.size - held.units] >> opened
        room = opened + (beyond & -beyond).bit_length() - 1 if beyond else self.net.horizon + 1
        self.room[s] = room
        take(self.rows, self.unit[s], held.size, held.units, ones(room - opened) << opened)

    # --- where something stands in the way -----------------------------------

    def _out_of_time(self, i: int, at: int) -> bool:
        """A limit that a fact sets is missed: True to lay this one before all others, once."""
        if self.net.hard:
            raise StuckError
        if (i, -1) in self.pulled:
            return False
        self.pulled.add((i, -1))
        self.blame, self.direct = [], True
        return True

    def _cannot_now(self, i: int) -> bool:
        """What the task needs is held to the end of the day: lay first what gives it back."""
        self.blame, self.direct = [(-1, 0)], False
        return False

    def _go_back(self, k: int) -> int:
        self.returns += 1
        if self.returns > MOST_RETURNS:
            raise StuckError
        i = self.order[k]
        self.laid[i] = False
        if not self.blame:
            return self._pull(k, 0)
        j, at = self.blame[0]
        if j < 0:
            return self._let_first(k)
        p = self.order.index(j)
        if self.direct and p + 1 < k and (i, j) not in self.pulled:
            self.pulled.add((i, j))
            return self._pull(k, p + 1)
        return self._push(p, j, at)

    def _pull(self, k: int, to: int) -> int:
        """Lay a task, and what has to come before it, right at place `to`."""
        order, above = self.order, self.net.above[self.order[k]]
        moved = [x for x in order[to:k] if above >> x & 1] + [order[k]]
        rest = [x for x in order[to:k] if not above >> x & 1]
        self._restore(to)
        order[to : k + 1] = moved + rest
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
        """Let the next task that closes something open, and what it needs, go before the one at `k`."""
        i, net = self.order[k], self.net
        for q in range(k + 1, len(self.order)):
            j = self.order[q]
            gives = any(held >= 0 and self.laid[held] for held in (net.held[s].opener for s in net.closes[j]))
            if (gives or any(net.held[s].opener < 0 for s in net.closes[j])) and not net.above[j] >> i & 1:
                return self._pull(q, k)
        raise StuckError
