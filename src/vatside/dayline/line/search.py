"""The search for a shorter day: first plans by rule, then small changes to the best, counted in evaluations.

Each is justified: laid from its end backwards, then forwards again. An evaluation is one laying, either way. The search
never looks at a clock, so the same day, the same number and the same seed give the same plan.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from contextvars import ContextVar
from functools import cached_property
from random import Random

from attrs import frozen

from vatside.dayline.line.laid import Hints, Laid, LatestStarts, Value, hints, lay
from vatside.dayline.line.laying import bring_forward
from vatside.dayline.line.net import NEVER, Net, ended, mirrored, turned_round
from vatside.dayline.line.orders import by_fragments, fragments, keys, ordered
from vatside.plan.grouping import gathered

GIVES_WAY: ContextVar[Callable[[], None] | None] = ContextVar("gives_way", default=None)
"""What is called before each laying of a search: who searches in a thread of its own lets others go first there."""


#: How many places a step or a fragment is moved at most, by the prototype that the sixty days were made with.
FARTHEST = 6
#: How often a change moves the break, makes a step give way, goes by fragments, and moves forward rather than back.
BREAK, GIVE_WAY, ROUGH, FORWARD = 0.15, 0.10, 0.5, 0.7


@frozen(eq=False)
class Change:
    """What to lay next."""

    order: Sequence[int]
    breaks: Sequence[int]
    floor: Sequence[int] | None


class Changes:
    """Draws changes for one net."""

    def __init__(self, net: Net, random: Random) -> None:
        """Nothing is drawn yet."""
        self.net = net
        self.random = random

    @cached_property
    def fragment(self) -> Sequence[int]:
        """The fragment without slack of each task; a day that is laid as it was asks for none."""
        return fragments(self.net)

    def drawn(self, now: Laid, hints: Hints) -> Change:
        """The break moved, a step that gives way, or a step or fragment without slack moved."""
        order, breaks, floor = ordered(self.net, now.starts), list(now.breaks), None
        draw, rough = self.random.random(), self.random.random() < ROUGH
        if breaks and draw < BREAK:
            which = self.random.randrange(len(breaks))
            breaks[which] = self.random.choice(self.net.break_places[which])
        elif draw > 1 - GIVE_WAY and hints.blocked:
            floor = self._given_way(now, hints)
        elif rough:
            order = self._fragment_moved(order, hints)
        else:
            self._step_moved(order, hints)
        if rough:
            order = by_fragments(self.net, self.fragment, order)
        return Change(order, breaks, floor)

    def _given_way(self, now: Laid, hints: Hints) -> list[int]:
        """One that stood in the way of a critical step may not begin before that has."""
        waiting, in_the_way = self.random.choice(hints.blocked)
        floor = [0] * self.net.size
        floor[in_the_way] = now.starts[waiting] + 1
        return floor

    def _by(self) -> int:
        return self.random.randint(1, FARTHEST)

    def _fragment_moved(self, order: Sequence[int], hints: Hints) -> list[int]:
        """Move a fragment without slack to the front, or one before it to the back."""
        members = gathered((self.fragment[i], i) for i in order)
        groups = list(members)
        p, by = groups.index(self.fragment[self.random.choice(hints.critical)]), self._by()
        if self.random.random() < FORWARD:
            groups.insert(max(0, p - by), groups.pop(p))
        else:
            groups.insert(min(len(groups) - 1, p + by), groups.pop(max(0, p - self._by())))
        return [i for group in groups for i in members[group]]

    def _step_moved(self, order: list[int], hints: Hints) -> None:
        """Move a step without slack to the front, or one before it to the back."""
        p, by = order.index(self.random.choice(hints.critical)), self._by()
        if self.random.random() < FORWARD:
            bring_forward(self.net, order, p, max(0, p - by))
        else:
            put_off(self.net, order, max(0, p - self._by()), min(len(order) - 1, p + by))


def put_off(net: Net, order: list[int], k: int, to: int) -> None:
    """Move the task at `k`, and what has to come after it, back behind place `to`."""
    i = order[k]
    moved = [i] + [x for x in order[k + 1 : to + 1] if net.above[x] >> i & 1]
    rest = [x for x in order[k + 1 : to + 1] if not net.above[x] >> i & 1]
    order[k : to + 1] = rest + moved


#: By how much a plan may end later than the one before and still be gone on from.
SLACK = 0.01
#: After so many changes without a better plan the search goes back to the best, or to another first plan.
PATIENCE = 30
#: With fewer evaluations than these the least slack goes first: that order gets stuck least often.
FEW = 18
#: Of the places of a break every so many is tried first: ours.
COARSE = 3
#: Of an order that has no plan.
STUCK: Value = (NEVER, NEVER, NEVER)
#: With fewer evaluations than these a place is looked for for the break, for one order of the steps.
MANY = 100
#: How many of the first plans are laid backwards and forwards again.
JUSTIFIED = 3


class Search:
    """Looks for a short day within a number of evaluations."""

    def __init__(self, net: Net, evaluations: int, seed: int = 1) -> None:
        """Nothing is laid yet."""
        self.net = net
        self.left = evaluations
        self.random = Random(seed)
        self.changes = Changes(net, self.random)
        self.best: Laid | None = None
        self.firsts: list[Laid] = []
        self.bound: Value = (0, least_late(net), lower_bound(net))

    def run(self) -> Laid | None:
        """The best plan found from nothing; None where no order had one."""
        self._first_plans()
        if self.best is not None:
            self._walk(self.best)
        return self.best

    def first(self, order: Sequence[int], breaks: Sequence[int]) -> None:
        """Lay an order before any other."""
        laid = self._lay(Change(order, breaks, None))
        self.firsts += [] if laid is None else [laid]

    def from_plan(self, laid: Laid) -> Laid:
        """The best plan found from one that is there already; a lunch that is in the way now is moved first."""
        self.best = laid
        if self.net.break_places and 1 < self.left < MANY:
            self._tried([ordered(self.net, laid.starts)], max(map(len, self.net.break_places)))
        self._walk(self.best)
        return self.best

    @property
    def over(self) -> bool:
        """Nothing left to spend, or nothing left to gain."""
        return self.left <= 0 or (self.best is not None and self.best.value <= self.bound)

    # --- laying --------------------------------------------------------------

    def _lay(self, change: Change) -> Laid | None:
        give_way = GIVES_WAY.get()
        if give_way is not None:
            give_way()
        self.left -= 1
        laid = lay(self.net, change.order, change.breaks, change.floor)
        if laid is not None and (self.best is None or laid.value < self.best.value):
            self.best = laid
        return laid

    def _justified(self, laid: Laid) -> Laid:
        """The plan laid backwards, or put off step by step if that gets stuck, and forwards again while it helps."""
        while not self.over:
            self.left -= 1
            starts = self._backwards(laid) or LatestStarts(self.net, laid, laid.value[2]).latest()
            if self.over:
                return laid
            again = self._lay(Change(ordered(self.net, starts), laid.breaks, None))
            if again is None or again.value >= laid.value:
                return laid
            laid = again
        return laid

    @cached_property
    def _mirror(self) -> Net:
        return mirrored(self.net)

    def _backwards(self, laid: Laid) -> list[int] | None:
        """Starts as late as the same end allows, in the order of the plan's ends; None where that order is stuck."""
        lengths, end = self.net.lengths, laid.value[2]
        turned = ended(self._mirror, self.net, end)
        order = ordered(turned, turned_round(laid.starts, lengths, end))
        late = lay(turned, order, turned_round(laid.breaks, self.net.break_minutes, end))
        return None if late is None else turned_round(late.starts, lengths, end)

    # --- first plans ---------------------------------------------------------

    def _first_plans(self) -> None:
        """Plans by rule: three keys, in fragments and step by step, the break in the places that are best for one."""
        orders = list(self._first_orders())
        for breaks in self._first_breaks(orders):
            for order in orders:
                # However few evaluations there are: a first plan is looked for until one is found.
                if self.best is None or not self.over:
                    self.first(order, breaks)
        self.firsts.sort(key=lambda laid: laid.value)
        for laid in self.firsts[:JUSTIFIED]:
            self._justified(laid)

    def _first_orders(self) -> Iterator[list[int]]:
        order_keys = keys(self.net)
        for key in reversed(order_keys) if self.left < FEW else order_keys:
            rank = ordered(self.net, key)
            yield by_fragments(self.net, self.changes.fragment, rank)
            yield rank

    def _first_breaks(self, orders: Sequence[Sequence[int]]) -> list[list[int]]:
        """The breaks at their earliest, in the middle, at their latest; with few evaluations first where they are best.

        A break just behind something spares most. A long search finds such a place by itself.
        """
        places = self.net.break_places
        if not places:
            return [[]]
        most = max(map(len, places))
        tried = self._tried(orders, most) if 1 < self.left < MANY else {}
        best = [min(tried, key=lambda k: (tried[k], k))] if tried else []
        return [_placed(places, k) for k in dict.fromkeys((*best, 0, most // 2, most - 1))]

    def _tried(self, orders: Sequence[Sequence[int]], most: int) -> dict[int, Value]:
        """How good one order is with the breaks at each third place, and before the best of these while that helps."""
        tried: dict[int, Value] = {}

        def value_at(k: int) -> Value:
            if k not in tried:
                laid = self._lay(Change(orders[0], _placed(self.net.break_places, k), None))
                self.firsts += [] if laid is None else [laid]
                tried[k] = STUCK if laid is None else laid.value
            return tried[k]

        best = min(range(0, most, COARSE), key=value_at)
        while best > 0 and value_at(best - 1) < tried[best]:
            best -= 1
        return tried

    # --- going on ------------------------------------------------------------

    def _walk(self, now: Laid) -> None:
        """Small changes, one after the other."""
        failures, seen = 0, hints(self.net, now)
        while not self.over:
            made = self._lay(self.changes.drawn(now, seen))
            better = made is not None and made.value < now.value
            failures = 0 if better else failures + 1
            if made is not None and good_enough(made.value, now.value):
                now = self._justified(made) if better and made is self.best else made
                seen = hints(self.net, now)
            if failures > PATIENCE:
                failures, now = 0, self._from_elsewhere(now)
                seen = hints(self.net, now)

    def _from_elsewhere(self, now: Laid) -> Laid:
        """Where to go on from after too many failures: the best, or one of the first, the good ones more often."""
        if self.firsts and self.random.random() < 0.5:
            return self.firsts[min(int(self.random.expovariate(0.4)), len(self.firsts) - 1)]
        return self.best or now


def _placed(places: Sequence[Sequence[int]], k: int) -> list[int]:
    """Each break at its place of that number, or its last."""
    return [starts[min(k, len(starts) - 1)] for starts in places]


def good_enough(value: Value, before: Value) -> bool:
    """Whether a plan is good enough to go on from."""
    return value[:2] <= before[:2] and value[2] <= before[2] * (1 + SLACK)


def least_late(net: Net) -> int:
    """What is due comes no sooner than the links let it."""
    dues = zip(net.head, net.lengths, net.due, strict=True)
    return sum(max(0, head + length - due) for head, length, due in dues if due < NEVER)


def lower_bound(net: Net) -> int:
    """No plan ends before the longest way through the links, or before all work is shared out."""
    ways = [head + tail for head, tail in zip(net.head, net.tail, strict=True)]
    return max([*ways, *_shared_work(net)], default=0)


def _shared_work(net: Net) -> list[int]:
    """For each resource the minutes that its users take together, shared by its units."""
    if not all(net.counts):
        return []
    work: dict[tuple[int, int], int] = defaultdict(int)
    for needs, calls in zip(net.needs, net.calls, strict=True):
        work[net.hands, net.people] += len(calls)
        for need in needs:
            work[need.base, need.size] += need.units * need.minutes.bit_length()
    return [-(-minutes // units) for (_, units), minutes in work.items()]
