"""Orders in which a day may be laid: by what follows, by what can begin, by slack; step by step or in fragments.

A fragment is a run of steps tied by limits with little play, or held together by a thing that others want too.
"""

from collections.abc import Sequence
from heapq import heapify, heappop, heappush

from vatside.dayline.line.net import NEVER, Net
from vatside.plan.grouping import gathered

#: Minutes of play from which a limit does not tie two steps into one fragment.
LOOSE = 11


def ordered(net: Net, key: Sequence[float]) -> list[int]:
    """Tasks by key, each after all that come before it."""
    missing = [len(earlier) for earlier in net.before]
    ready = [(key[i], i) for i in range(net.size) if not missing[i]]
    heapify(ready)
    order = []
    after = net.after
    while ready:
        _, i = heappop(ready)
        order.append(i)
        for j in after[i]:
            missing[j] -= 1
            if not missing[j]:
                heappush(ready, (key[j], j))
    return order


def fragments(net: Net) -> list[int]:
    """For each task the number of its fragment, the smallest number of a task in it."""
    root = list(range(net.size))

    def find(i: int) -> int:
        while root[i] != i:
            root[i] = root[root[i]]
            i = root[i]
        return i

    for i, j in _tied(net):
        a, b = find(i), find(j)
        root[max(a, b)] = min(a, b)
    return [find(i) for i in range(net.size)]


def _tied(net: Net) -> list[tuple[int, int]]:
    tied = []
    for i, arcs in enumerate(net.out):
        for j, w in arcs:
            if w < 0 and _least(net, j, i) + LOOSE > -w:
                tied.append((i, j))
    for held in net.held:
        if held.opener >= 0 and held.closer >= 0:
            tied += [(held.opener, x) for x in _between(net, held.opener, held.closer)]
    return tied


def _least(net: Net, i: int, j: int) -> int:
    return max((w for k, w in net.out[i] if k == j and w >= 0), default=0)


def _between(net: Net, first: int, last: int) -> list[int]:
    inside = net.above[last]
    return [x for x in range(net.size) if inside >> x & 1 and net.above[x] >> first & 1] + [last]


def by_fragments(net: Net, fragment: Sequence[int], rank: Sequence[int]) -> list[int]:
    """Tasks fragment by fragment in the order of `rank`, a fragment once all that come before it stand."""
    return _laid_out(net, list(gathered((fragment[i], i) for i in rank).values()))


def _laid_out(net: Net, groups: list[list[int]]) -> list[int]:
    done, order = 0, []
    masks = [sum(1 << i for i in group) for group in groups]
    wants = [_wanted(net, group, mask) for group, mask in zip(groups, masks, strict=True)]
    todo = list(range(len(groups)))
    while todo:
        for place, g in enumerate(todo):
            if not wants[g] & ~done:
                order += groups[g]
                done |= masks[g]
                del todo[place]
                break
        else:
            done = _first_step(net, [groups[g] for g in todo], done, order)
            for g in todo:
                groups[g] = [i for i in groups[g] if not done >> i & 1]
                masks[g] = sum(1 << i for i in groups[g])
                wants[g] = _wanted(net, groups[g], masks[g])
            todo = [g for g in todo if groups[g]]
    return order


def _wanted(net: Net, group: list[int], mask: int) -> int:
    wanted = 0
    for i in group:
        wanted |= net.above[i]
    return wanted & ~mask


def _first_step(net: Net, groups: list[list[int]], done: int, order: list[int]) -> int:
    """Fragments that wait for each other: lay the first step that can be, alone."""
    for group in groups:
        for i in group:
            if not net.above[i] & ~done:
                order.append(i)
                return done | 1 << i
    raise AssertionError


def keys(net: Net) -> list[list[float]]:
    """What an order can go by: what is due first, most to follow first, what can begin first, least slack first."""
    n = range(net.size)
    due = [[float(at) for at in latest_by_due(net)]] if any(at < NEVER for at in net.due) else []
    return [
        *due,
        [-net.tail[i] for i in n],
        [net.head[i] for i in n],
        [-net.tail[i] - net.head[i] for i in n],
    ]


def latest_by_due(net: Net) -> list[int]:
    """How late each task may begin by links alone so that what is due is in time; never for the others."""
    late = [due - length if due < NEVER else NEVER for due, length in zip(net.due, net.lengths, strict=True)]
    for j in reversed(ordered(net, net.head)):
        for i in net.before[j]:
            arcs = [w for k, w in net.out[i] if k == j and w >= 0]
            if late[j] < NEVER:
                late[i] = min([late[i], *(late[j] - w for w in arcs)])
    return late
