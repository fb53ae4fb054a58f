"""What a day waits for longest: a thing that there are too few of, hands, or what takes its time whatever there is."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from itertools import combinations

from attrs import evolve, frozen

from vatside.dayline.laid_day import LaidDay
from vatside.dayline.line.compiling import compiled
from vatside.dayline.line.model import HANDS, Day, Resource
from vatside.dayline.line.net import Net
from vatside.dayline.line.planning import plan as lay
from vatside.plan.sheet import Stage

#: As many as never stand in the way.
PLENTY = 20
#: Evaluations for each thing of which there is plenty in thought.
EACH = 60
#: Minutes that plenty of a thing must gain before that thing is said to hold the day up: ours.
WORTH = 10
THINGS = {"pot": "pots", "hob": "hobs", "sink": "sinks", "bowl": "bowls", "jar": "jars", HANDS: "hands"}
STAGES = {Stage.SCOUR: "the scour", Stage.STOCK: "the stock", Stage.VAT: "the vat's rest", Stage.FINISH: "the finish"}
AIR, VAT = "air", "the vat"


@frozen
class Bottleneck:
    """What holds a day up, and by how many minutes: those that plenty of it would gain, or that it takes."""

    name: str
    minutes: int
    more_helps: bool
    """More of it would help; else it takes its time whatever there is."""


def bottleneck(day: LaidDay) -> Bottleneck | None:
    """The thing, or two things together, of which plenty gains most; else what takes longest. None on an empty day."""
    found = list(_scarce(day, ((name,) for name in THINGS)))
    if not any(each.minutes >= WORTH for each in found):
        found = list(_scarce(day, combinations(THINGS, 2)))
    most = max(found, key=lambda each: each.minutes, default=None)
    if most is not None and most.minutes >= WORTH:
        return most
    return _takes_longest(day)


def _scarce(day: LaidDay, names: Iterable[tuple[str, ...]]) -> Iterator[Bottleneck]:
    for these in names:
        plenty = day.needed.day
        for name in these:
            plenty = _with_plenty(plenty, name)
        gains = day.laid.end - lay(plenty, EACH).end
        yield Bottleneck(" and ".join(THINGS[name] for name in these), gains, more_helps=True)


def _with_plenty(day: Day, name: str) -> Day:
    resource = day.resources[name]
    sizes = resource.sizes[-1:] * PLENTY + resource.sizes
    made = Resource(PLENTY, resource.away, tuple(sorted(sizes)) if resource.sizes else ())
    return evolve(day, resources={**day.resources, name: made})


def _takes_longest(day: LaidDay) -> Bottleneck | None:
    """The part that has most minutes of the longest way through the links."""
    net = compiled(day.needed.day)
    if not net.size:
        return None
    minutes: dict[str, int] = defaultdict(int)
    i = max(range(net.size), key=lambda each: net.head[each] + net.lengths[each])
    _count(day, net, i, net.lengths[i], minutes)
    while (before := _before(net, i)) is not None:
        _count(day, net, before, net.head[i] - net.head[before], minutes)
        i = before
    name = max(minutes, key=lambda each: minutes[each])
    return Bottleneck(name, minutes[name], more_helps=False)


def _before(net: Net, i: int) -> int | None:
    """The task that a task waits for by a link, if it waits for one."""
    for p in net.before[i]:
        if any(j == i and net.head[p] + w == net.head[i] for j, w in net.out[p]):
            return p
    return None


def _count(day: LaidDay, net: Net, i: int, took: int, minutes: dict[str, int]) -> None:
    """Of a round the minutes in the vat, and those after it in which the vat waits for air or rests."""
    name = net.ids[i]
    if name in day.needed.rounds:
        minutes[VAT] += min(took, net.lengths[i])
        minutes[AIR] += max(took - net.lengths[i], 0)
    else:
        minutes[STAGES.get(day.needed.steps[name].stage, VAT)] += took
