"""A laid day in numbers: starts, seats, units, how good it is; what its end hangs on; how late each step may begin.

To be put off, each step from the last to the first is moved as late as the others leave it.
All are then as late as they can be together, so one that begins by its latest start spoils nothing, if the others keep
theirs. Unlike a laying backwards this never gets stuck: every step has at least the place that it came from.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence

from attrs import frozen

from vatside.dayline.line.laying import Laying, Seats, StuckError
from vatside.dayline.line.net import NEVER, Net, give_back, narrowed, ones, smeared, stretch, take

#: Minutes over the limits of facts, minutes after the wanted hours, last minute.
Value = tuple[int, int, int]


@frozen(eq=False)
class Laid:
    """A laid day in numbers. `value` is overrun, lateness and end in minutes; smaller is better."""

    starts: Sequence[int]
    seats: Sequence[int]
    units: Sequence[int]
    breaks: Sequence[int]
    value: Value


@frozen(eq=False)
class Asked:
    """What an older plan asks of a new one where nothing stands against it: seats of nudges, rows of spans."""

    seats: Mapping[int, int]
    units: Mapping[int, int]


def lay(
    net: Net,
    order: Sequence[int],
    breaks: Sequence[int],
    floor: Sequence[int] | None = None,
    asked: Asked | None = None,
) -> Laid | None:
    """One laying; None where the order has no plan."""
    laying = Laying(net, order, floor or [0] * net.size, breaks)
    if asked is not None:
        laying.seats.asked, laying.asked_unit = asked.seats, asked.units
    try:
        laying.run()
    except StuckError:
        return None
    return Laid(laying.begin, laying.seats.seat, laying.unit, tuple(breaks), value(net, laying.begin))


def value(net: Net, starts: Sequence[int]) -> Value:
    """How good some starts are; smaller is better."""
    overrun = late = end = 0
    for i, start in enumerate(starts):
        done = start + net.lengths[i]
        if net.limit[i] < NEVER:
            overrun += max(0, start - net.limit[i])
        if net.due[i] < NEVER:
            late += max(0, done - net.due[i])
        if net.counts[i] and done > end:
            end = done
    return overrun, late, end


Ends = dict[tuple[int, int], list[int]]


@frozen(eq=False)
class Hints:
    """The tasks that the end hangs on, and pairs (task, one whose hands or thing it waited for)."""

    critical: Sequence[int]
    blocked: Sequence[tuple[int, int]]


def hints(net: Net, laid: Laid) -> Hints:
    """What to change in a laid day if it is to end sooner, or to miss less."""
    links, ends = links_into(net, laid.starts), ends_of(net, laid)
    todo = [i for i in range(net.size) if _matters(net, i, laid)]
    seen, blocked = set(todo), []
    while todo:
        i = todo.pop()
        in_the_way = blockers(net, i, laid.starts[i], ends)
        blocked += [(i, x) for x in in_the_way]
        new = [x for x in links[i] + in_the_way if x not in seen]
        seen.update(new)
        todo += new
    return Hints(sorted(seen), blocked)


def _matters(net: Net, i: int, laid: Laid) -> bool:
    start = laid.starts[i]
    done = start + net.lengths[i]
    if laid.value[0] or laid.value[1]:
        return start > net.limit[i] or done > net.due[i]
    return net.counts[i] and done == laid.value[2]


def links_into(net: Net, starts: Sequence[int]) -> list[list[int]]:
    """For each task those that a link sets it close to."""
    into: list[list[int]] = [[] for _ in starts]
    for i, arcs in enumerate(net.out):
        for j, w in arcs:
            if starts[i] + w == starts[j]:
                into[j].append(i)
    return into


def ends_of(net: Net, laid: Laid) -> Ends:
    """Who gives a resource back at which minute."""
    ends: Ends = defaultdict(list)
    for i, needs in enumerate(net.needs):
        for need in needs:
            ends[need.base, laid.starts[i] + need.since + need.minutes.bit_length()].append(i)
    for s, held in enumerate(net.held):
        ends[laid.units[s], laid.starts[held.closer] + held.until].append(held.closer)
    return ends


def blockers(net: Net, i: int, start: int, ends: Ends) -> list[int]:
    """Those that give back, just as it begins, something that it takes."""
    found: list[int] = []
    for need in net.needs[i]:
        found += ends.get((need.base, start + need.since), ())
    for s in net.opens[i]:
        for row in net.held[s].rows:
            found += ends.get((row, start + net.held[s].since), ())
    return [x for x in found if x != i]


Act = Callable[[list[int], int, int, int, int], None]


class LatestStarts:
    """Moves the steps of one laid day; used once."""

    def __init__(self, net: Net, laid: Laid, until: int) -> None:
        """Book everything as it is laid. All may end by `until`, what is due by when it is due or comes anyway."""
        self.net, self.until = net, until
        self.starts = list(laid.starts)
        self.units = laid.units
        self.rows = net.empty_rows(laid.breaks)
        self.seats = Seats(net, self.rows)
        self.seats.asked = dict(enumerate(laid.seats))
        self.seats.seat_early()
        for i in range(net.size):
            self._needs(i, self.starts[i], take)
            self.seats.seated(i, self.starts[i])
        for s, held in enumerate(net.held):
            begin = self.starts[held.opener] + held.since if held.opener >= 0 else 0
            self._span(s, begin, self.starts[held.closer] + held.until, take)

    def latest(self) -> list[int]:
        """The latest start of each task."""
        self.seats.asked = {}
        for i in sorted(range(self.net.size), key=lambda i: -self.starts[i]):
            self._move(i)
        return self.starts

    def _needs(self, i: int, at: int, act: Act) -> None:
        for need in self.net.needs[i]:
            act(self.rows, need.base, need.size, need.units, need.minutes << (at + need.since))

    def _span(self, s: int, begin: int, end: int, act: Act) -> None:
        held = self.net.held[s]
        if held.opener >= 0 or act is give_back:
            act(self.rows, self.units[s], held.size, held.units, stretch(begin, end))
        else:  # what runs has been held to the end of the day: give back what comes after
            give_back(self.rows, self.units[s], held.size, held.units, stretch(end, self.net.horizon + 1))

    def _move(self, i: int) -> None:
        now, last = self.starts[i], self._last(i)
        if last <= now:
            return
        kept = self.rows[:], self.seats.seat[:]
        self._leave(i)
        at = self._latest(i, now, last)
        if at is None:
            self.rows[:], self.seats.seat[:] = kept
            return
        self._needs(i, at, take)
        self._spans_moved(i, now, at)
        self.starts[i] = at

    def _last(self, i: int) -> int:
        """How late it may begin by links, limits, hours, and by what is held until it ends."""
        net, starts = self.net, self.starts
        last = min(self.until - net.lengths[i], net.horizon - net.lengths[i])
        last = min([last, *(starts[j] - w for j, w in net.out[i])])
        for bound in (net.limit[i], net.due[i] - net.lengths[i]):
            if bound < NEVER - net.lengths[i]:
                last = min(last, max(bound, starts[i]))
        for s in net.closes[i]:
            held = net.held[s]
            end = starts[i] + held.until
            beyond = self.rows[self.units[s] + held.size - held.units] >> end
            if beyond:
                last = min(last, starts[i] + (beyond & -beyond).bit_length() - 1)
        return last

    def _leave(self, i: int) -> None:
        """Give back what it takes, its nudges' seats too."""
        net, rows, at = self.net, self.rows, self.starts[i]
        self._needs(i, at, give_back)
        for need in net.hand_needs[i]:
            give_back(rows, net.totals, net.people, need.units, need.minutes << (at + need.since))
        for call in net.calls[i]:
            if self.seats.seat[call.number] >= 0:
                give_back(rows, net.totals, net.people, 1, 1 << self.seats.seat[call.number])
                self.seats.seat[call.number] = -1

    def _latest(self, i: int, now: int, last: int) -> int | None:
        """The last start up to `last` at which all that it takes is there; None where there is none after `now`."""
        net, rows = self.net, self.rows
        taken = 0
        for need in net.needs[i]:
            taken |= smeared(rows[need.row] >> (now + need.since), need.steps)
        full = rows[net.hands + net.people - 1]
        for call in net.calls[i]:
            taken |= narrowed(full >> (now + call.low), call.steps)
        free = ~taken & ones(last - now + 1)
        while free:
            at = now + free.bit_length() - 1
            if at == now:
                return None
            if self.seats.seated(i, at):
                return at
            free ^= 1 << (at - now)
        return None

    def _spans_moved(self, i: int, before: int, at: int) -> None:
        for s in self.net.opens[i]:
            since = self.net.held[s].since
            self._span(s, before + since, at + since, give_back)
        for s in self.net.closes[i]:
            held = self.net.held[s]
            take(self.rows, self.units[s], held.size, held.units, stretch(before + held.until, at + held.until))
