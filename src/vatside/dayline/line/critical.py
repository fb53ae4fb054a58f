"""What the end of a laid day hangs on: the steps without slack, and who stood in their way."""

from collections import defaultdict
from collections.abc import Sequence

from attrs import frozen

from vatside.dayline.line.net import Net
from vatside.dayline.line.plans import Laid

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
