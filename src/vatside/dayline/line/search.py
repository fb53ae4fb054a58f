"""The search for a shorter day: first plans by rule, then small changes to the best, counted in evaluations.

An evaluation is one laying, forwards or backwards; the search never looks at a clock, so that the same day and the same
seed give the same plan.
"""

from collections.abc import Callable, Sequence
from random import Random

from vatside.dayline.line.critical import critical
from vatside.dayline.line.justify import Backwards
from vatside.dayline.line.net import Net
from vatside.dayline.line.orders import by_fragments, fragments, keys, ordered
from vatside.dayline.line.plans import Laid, lay

#: How much worse than the one before a plan may be and still be gone on from.
SLACK = 0.01
#: After so many changes without a better plan the search goes back to the best, or to another first plan.
PATIENCE = 30


class Search:
    """Looks for a short day within a number of evaluations."""

    def __init__(self, net: Net, evaluations: int, seed: int = 1) -> None:
        """Nothing is laid yet."""
        self.net = net
        self.left = evaluations
        self.random = Random(seed)
        self.fragment = fragments(net)
        self.backwards = Backwards(net)
        self.best: Laid | None = None
        self.firsts: list[Laid] = []
        self.bound = lower_bound(net)
        self.floor = [0] * net.size

    # --- laying --------------------------------------------------------------

    def lay(self, order: Sequence[int], breaks: Sequence[int], floor: Sequence[int] | None = None) -> Laid | None:
        """One evaluation."""
        self.left -= 1
        laid = lay(self.net, order, breaks, floor)
        if laid is not None and (self.best is None or laid.value < self.best.value):
            self.best = laid
        return laid

    @property
    def over(self) -> bool:
        """Nothing left to spend, or nothing left to gain."""
        return self.left <= 0 or (self.best is not None and self.best.value <= (0, 0, self.bound))

    # --- first plans ---------------------------------------------------------

    def first_plans(self) -> None:
        """Plans by rule: three keys, in fragments and step by step, the break in several places."""
        for breaks in self.first_breaks():
            for key in keys(self.net):
                rank = ordered(self.net, key)
                for order in (by_fragments(self.net, self.fragment, rank), rank):
                    if self.over:
                        return
                    laid = self.lay(order, breaks)
                    if laid is not None:
                        self.firsts.append(laid)
        self.firsts.sort(key=lambda laid: laid.value)
        for laid in self.firsts[:3]:
            if not self.over:
                self.justified(laid)

    def first_breaks(self) -> list[list[int]]:
        """Where the break may be tried first: at its earliest, in the middle, at its latest."""
        if not self.net.break_places:
            return [[]]
        return [[places[len(places) * k // 4 - (k == 4)] for places in self.net.break_places] for k in (0, 2, 4)]

    def justified(self, laid: Laid) -> Laid:
        """The plan laid backwards and forwards again while that helps."""
        while not self.over:
            self.left -= 1
            starts = self.backwards.latest(laid)
            if starts is None or self.over:
                return laid
            again = self.lay(ordered(self.net, starts), laid.breaks)
            if again is None or again.value >= laid.value:
                return laid
            laid = again
        return laid

    # --- going on ------------------------------------------------------------

    def run(self) -> Laid | None:
        """The best plan found; None where no order had one."""
        self.first_plans()
        if self.best is None:
            return None
        self.walk(self.best)
        return self.best

    def walk_from(self, laid: Laid) -> None:
        """Go on from a plan that is there already."""
        self.best = laid
        self.walk(laid)

    def walk(self, now: Laid) -> None:
        """Small changes, one after the other."""
        failures = 0
        hints = critical(self.net, now)
        while not self.over:
            made = self.changed(now, hints)
            if made is None:
                failures += 1
            else:
                better = made.value < now.value
                if close(made.value, now.value):
                    if better and made is self.best:
                        made = self.justified(made)
                    now = made
                    hints = critical(self.net, now)
                failures = 0 if better else failures + 1
            if failures > PATIENCE:
                failures = 0
                now = self.again()
                hints = critical(self.net, now)

    def again(self) -> Laid:
        """Where to go on from after too many failures."""
        if self.firsts and self.random.random() < 0.5:
            return self.firsts[min(int(self.random.expovariate(0.4)), len(self.firsts) - 1)]
        return self.best

    def changed(self, now: Laid, hints: tuple[list[int], list[tuple[int, int]]]) -> Laid | None:
        """One small change, laid."""
        breaks = list(now.breaks)
        draw = self.random.random()
        order = ordered(self.net, now.starts)
        floor = None
        rough = self.random.random() < 0.5
        if breaks and draw < 0.15:
            which = self.random.randrange(len(breaks))
            breaks[which] = self.random.choice(self.net.break_places[which])
        elif draw > 0.9 and hints[1]:
            floor = self.giving_way(now, hints[1])
        elif rough:
            order = self.moved_fragment(order, hints)
        else:
            self.moved(order, hints)
        if rough:
            order = by_fragments(self.net, self.fragment, order)
        return self.lay(order, breaks, floor)

    def moved_fragment(self, order: list[int], hints: tuple[list[int], list[tuple[int, int]]]) -> list[int]:
        members: dict[int, list[int]] = {}
        for i in order:
            members.setdefault(self.fragment[i], []).append(i)
        groups = list(members)
        p = groups.index(self.fragment[self.random.choice(hints[0])])
        by = self.random.randint(1, 6)
        if self.random.random() < 0.7:
            groups.insert(max(0, p - by), groups.pop(p))
        else:
            groups.insert(min(len(groups) - 1, p + by), groups.pop(max(0, p - self.random.randint(1, 6))))
        return [i for g in groups for i in members[g]]

    def giving_way(self, now: Laid, blocked: list[tuple[int, int]]) -> list[int]:
        i, x = self.random.choice(blocked)
        floor = [0] * self.net.size
        floor[x] = now.starts[i] + 1
        return floor

    def moved(self, order: list[int], hints: tuple[list[int], list[tuple[int, int]]]) -> None:
        """Move a task without slack up to 6 places earlier, or one before it later."""
        i = self.random.choice(hints[0])
        p = order.index(i)
        by = self.random.randint(1, 6)
        if self.random.random() < 0.7:
            earlier(self.net, order, p, max(0, p - by))
        else:
            x = max(0, p - self.random.randint(1, 6))
            later(self.net, order, x, min(len(order) - 1, p + by))


def earlier(net: Net, order: list[int], p: int, to: int) -> None:
    """Move the task at `p`, and what has to come before it, up to place `to`."""
    above = net.above[order[p]]
    moved = [x for x in order[to:p] if above >> x & 1] + [order[p]]
    rest = [x for x in order[to:p] if not above >> x & 1]
    order[to : p + 1] = moved + rest


def later(net: Net, order: list[int], p: int, to: int) -> None:
    """Move the task at `p`, and what has to come after it, down behind place `to`."""
    i = order[p]
    moved = [i] + [x for x in order[p + 1 : to + 1] if net.above[x] >> i & 1]
    rest = [x for x in order[p + 1 : to + 1] if not net.above[x] >> i & 1]
    order[p : to + 1] = rest + moved


def close(value: tuple[int, int, int], before: tuple[int, int, int]) -> bool:
    """Whether a plan is good enough to go on from."""
    return value[:2] <= before[:2] and value[2] <= before[2] * (1 + SLACK)


def lower_bound(net: Net) -> int:
    """No plan ends before: the longest way through the links, or the work shared by all hands."""
    ways = [head + tail for head, tail in zip(net.head, net.tail, strict=True)]
    return max(ways, default=0)


Rule = Callable[[Net], list[float]]
