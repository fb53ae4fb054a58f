"""Small changes to a laid day, drawn by a seeded hand: what the search tries one after the other."""

from collections.abc import Sequence
from random import Random

from attrs import frozen

from vatside.dayline.line.critical import Hints
from vatside.dayline.line.laying import bring_forward
from vatside.dayline.line.net import Net
from vatside.dayline.line.orders import by_fragments, fragments, ordered
from vatside.dayline.line.plans import Laid

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
        self.fragment = fragments(net)

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
        members: dict[int, list[int]] = {}
        for i in order:
            members.setdefault(self.fragment[i], []).append(i)
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
