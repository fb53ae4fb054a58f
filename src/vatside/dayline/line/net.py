"""A day made ready for laying: tasks as numbers, links as arcs, resources as rows of bits, one for each minute.

What already runs is no task here any more: it is booked before anything is laid, and what it asks of the others has
become their earliest start (`head`) or the minute up to which it can wait (`limit`).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cache

from attrs import evolve, frozen

from vatside.dayline.line.model import NoPlanError


@cache
def ones(count: int) -> int:
    """`count` set bits, none below zero."""
    return (1 << count) - 1 if count > 0 else 0


@cache
def shifts(length: int) -> tuple[int, ...]:
    """By how much to shift, one after the other, to spread a bit over the `length` - 1 minutes before it."""
    steps, reach = [], 1
    while 2 * reach <= length:
        steps.append(reach)
        reach *= 2
    if reach < length:
        steps.append(length - reach)
    return tuple(steps)


def smeared(taken: int, steps: tuple[int, ...]) -> int:
    """The minutes at which a need cannot begin; `steps` are the shifts that spread a bit over its length."""
    for step in steps:
        taken |= taken >> step
    return taken


def narrowed(taken: int, steps: tuple[int, ...]) -> int:
    """The minutes at which a window that is as long as `steps` spread is taken from end to end."""
    for step in steps:
        taken &= taken >> step
    return taken


def lowest_zero(taken: int) -> int:
    """The first minute that is not taken."""
    free = ~taken
    return (free & -free).bit_length() - 1


def stretch(begin: int, end: int) -> int:
    """The minutes from `begin` to before `end`, those before 0 left out."""
    if begin < 0:
        begin = 0
    return ones(end - begin) << begin


def take(rows: list[int], base: int, size: int, units: int, minutes: int) -> None:
    """Book `units` of a resource of `size` over `minutes`: row `base` + k holds where more than k units are taken."""
    if size == 1:
        rows[base] |= minutes
        return
    for k in range(base + size - 1, base + units - 1, -1):
        rows[k] |= rows[k - units] & minutes
    for k in range(base, base + min(units, size)):
        rows[k] |= minutes


def give_back(rows: list[int], base: int, size: int, units: int, minutes: int) -> None:
    """Undo `take`."""
    for k in range(base, base + size):
        above = rows[k + units] & minutes if k + units < base + size else 0
        rows[k] = rows[k] & ~minutes | above


#: Later than any minute of a day, though it takes weeks.
NEVER = 1 << 20
Arc = tuple[int, int]


@frozen(eq=False)
class Need:
    """A use made ready: row to look at, since, spread, first row, units there, units wanted, minutes as bits."""

    row: int
    since: int
    steps: tuple[int, ...]
    base: int
    size: int
    units: int
    minutes: int


@frozen(eq=False)
class Call:
    """A nudge made ready: its number, its window and its own minute from the start of its task."""

    number: int
    low: int
    high: int
    at: int
    steps: tuple[int, ...]


@frozen(eq=False)
class Held:
    """A span made ready: the rows of its units, from `opener` + `since` to `closer` + `until`; -1 for what runs.

    `span` is its place in the day, `first` the row of the resource's first unit.
    """

    span: int
    first: int
    rows: tuple[int, ...]
    size: int
    units: int
    opener: int
    since: int
    closer: int
    until: int
    need: int


@frozen(eq=False)
class Booked:
    """Units that are taken, or away, whatever is laid."""

    base: int
    size: int
    units: int
    begin: int
    end: int


@frozen(eq=False)
class Net:
    """A day made ready. Numbers of tasks index every sequence.

    `out` are arcs (to, weight): start(to) >= start + weight; a limit is one with a negative weight. `above` are all
    that come before a task, as bits; `head` its earliest start by links alone, `tail` what is left of the day from it.
    The rows of the hands lie at `hands`, those that count seated nudges too at `totals`, the last of all rows.
    `hard` says that a limit may not be missed.
    """

    ids: Sequence[str]
    lengths: Sequence[int]
    counts: Sequence[bool]
    head: Sequence[int]
    tail: Sequence[int]
    limit: Sequence[int]
    due: Sequence[int]
    out: Sequence[tuple[Arc, ...]]
    before: Sequence[tuple[int, ...]]
    after: Sequence[tuple[int, ...]]
    above: Sequence[int]
    needs: Sequence[tuple[Need, ...]]
    hand_needs: Sequence[tuple[Need, ...]]
    calls: Sequence[tuple[Call, ...]]
    held: Sequence[Held]
    opens: Sequence[tuple[int, ...]]
    closes: Sequence[tuple[int, ...]]
    booked: Sequence[Booked]
    early_calls: Sequence[tuple[int, int, int, int]]
    seats: int
    rows: int
    hands: int
    people: int
    totals: int
    first_call: Mapping[str, int]
    units_in_use: Mapping[int, int]
    break_minutes: Sequence[int]
    break_places: Sequence[Sequence[int]]
    horizon: int
    hard: bool = False

    @property
    def size(self) -> int:
        """How many tasks there are to lay."""
        return len(self.lengths)

    def empty_rows(self, breaks: Sequence[int]) -> list[int]:
        """The rows before anything is laid, everybody gone in the breaks."""
        rows = [0] * self.rows
        for book in self.booked:
            self._take(rows, book.base, book.size, book.units, stretch(book.begin, min(book.end, self.horizon + 1)))
        for begin, minutes in zip(breaks, self.break_minutes, strict=True):
            self._take(rows, self.hands, self.people, self.people, stretch(begin, begin + minutes))
        return rows

    def _take(self, rows: list[int], base: int, size: int, units: int, minutes: int) -> None:
        take(rows, base, size, units, minutes)
        if base == self.hands:
            take(rows, self.totals, size, units, minutes)


def ancestors(before: Sequence[Iterable[int]], order: Iterable[int]) -> list[int]:
    """For each task the set, as bits, of those that come before it."""
    above = [0] * len(before)
    for i in order:
        for p in before[i]:
            above[i] |= above[p] | 1 << p
    return above


def in_order(before: Iterable[Iterable[int]]) -> list[int]:
    """Tasks so that each comes after those before it. Raises NoPlanError where they go round in a circle."""
    waiting = [set(earlier) for earlier in before]
    after: list[list[int]] = [[] for _ in waiting]
    for i, earlier in enumerate(waiting):
        for p in earlier:
            after[p].append(i)
    order = [i for i, earlier in enumerate(waiting) if not earlier]
    for i in order:
        for j in after[i]:
            waiting[j].discard(i)
            if not waiting[j]:
                order.append(j)
    if len(order) < len(waiting):
        raise NoPlanError("steps wait for each other in a circle")
    return order


def mirrored(net: Net) -> Net:
    """The same day told backwards from minute 0: what is laid early in it is laid late in the day."""
    n = range(net.size)
    lengths = net.lengths
    out: list[list[Arc]] = [[] for _ in n]
    for i in n:
        for j, w in net.out[i]:
            out[j].append((i, w + lengths[j] - lengths[i]))
    needs = [tuple(_mirrored_need(need, lengths[i]) for need in net.needs[i]) for i in n]
    return evolve(
        net,
        out=[tuple(arcs) for arcs in out],
        before=net.after,
        after=net.before,
        above=ancestors(net.after, in_order(net.after)),
        needs=needs,
        hand_needs=[tuple(need for need in task_needs if need.base == net.hands) for task_needs in needs],
        calls=[tuple(_mirrored_call(call, lengths[i]) for call in net.calls[i]) for i in n],
        held=[_mirrored_span(net, held) for held in net.held],
        opens=net.closes,
        closes=net.opens,
        due=[NEVER] * net.size,
        hard=True,
    )


def ended(backwards: Net, net: Net, end: int) -> Net:
    """A mirrored day with its minute 0 at `end`: nothing of it may be laid after that."""
    n = range(net.size)
    lengths = net.lengths
    return evolve(
        backwards,
        head=[max(0, net.tail[i] - lengths[i], end - lengths[i] - net.limit[i]) for i in n],
        limit=[end - lengths[i] - net.head[i] for i in n],
        booked=[Booked(b.base, b.size, b.units, end - b.end, end - b.begin) for b in net.booked if b.end < NEVER],
        early_calls=[(q, end - 1 - high, end - 1 - low, end - 1 - at) for q, low, high, at in net.early_calls],
    )


def turned_round(starts: Sequence[int], lengths: Sequence[int], end: int) -> list[int]:
    """Starts of a day that ends at `end` as those of the mirrored one, or back again."""
    return [end - start - length for start, length in zip(starts, lengths, strict=True)]


def _mirrored_need(need: Need, length: int) -> Need:
    since = length - need.since - need.minutes.bit_length()
    return Need(need.row, since, need.steps, need.base, need.size, need.units, need.minutes)


def _mirrored_call(call: Call, length: int) -> Call:
    low, high = max(0, length - 1 - call.high), length - 1 - call.low
    return Call(call.number, low, high, length - 1 - call.at, call.steps)


def _mirrored_span(net: Net, held: Held) -> Held:
    return evolve(
        held,
        opener=held.closer,
        since=net.lengths[held.closer] - held.until,
        closer=held.opener,
        until=net.lengths[held.opener] - held.since if held.opener >= 0 else 0,
        need=held.need if held.opener >= 0 else net.horizon,
    )
