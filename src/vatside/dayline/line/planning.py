"""A day laid, held and laid anew: what the rest of the program asks for.

`plan` looks for a short day, `hold` keeps an old plan and moves only what has to, `replan` goes on searching from
there. All are pure: the same day, the same evaluations and the same seed give the same plan.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from attrs import define, evolve

from vatside.dayline.line.compiling import compiled
from vatside.dayline.line.laid import Asked, Laid, LatestStarts, lay
from vatside.dayline.line.model import HANDS, Day, NoPlanError, Plan
from vatside.dayline.line.net import NEVER, Net, ended, mirrored, turned_round
from vatside.dayline.line.orders import ordered
from vatside.dayline.line.search import Search

#: What a new day is given; about a second where one laying takes two milliseconds.
EVALUATIONS = 600
#: What a change under way is given: as much as nobody waits for.
AT_ONCE = 25


@define
class _Last:
    """The day that was compiled last: it is laid, put off, and asked how late each of its steps may begin."""

    known: tuple[Day, Net] | None = None


_LAST = _Last()


def net_of(day: Day) -> Net:
    """The day made ready for laying. Raises NoPlanError for a limit against itself or a thing that there is not."""
    known = _LAST.known
    if known is None or known[0] is not day:
        known = _LAST.known = (day, compiled(day))
    return known[1]


def plan(day: Day, evaluations: int = EVALUATIONS, seed: int = 1, like: Plan | None = None) -> Plan:
    """The shortest day found. Raises NoPlanError where no order of the steps keeps every limit.

    The order of a plan that it is `like` is tried first: of days as short, that one.
    """
    net = net_of(day)
    search = Search(net, evaluations, seed)
    if like is not None:
        search.first(ordered(net, _keys_of(net, like)), _breaks(net, like.breaks))
    best = search.run()
    if best is None:
        raise NoPlanError("no order of the steps keeps every limit")
    return as_plan(day, net, best)


def latest(day: Day, laid: Plan, until: int) -> dict[str, int]:
    """How late each step that is to come may begin if all ends by `until` and what is due by then.

    No step is said to be later than where all of them together are as late as they can be.
    """
    net = net_of(_same_units(day, laid))
    kept = laid_again(net, laid)
    late = LatestStarts(net, kept, max(until, kept.value[2])).latest()
    return dict(zip(net.ids, late, strict=True))


def put_off(day: Day, laid: Plan, tasks: Collection[str], until: Mapping[str, int]) -> Plan:
    """The same plan with these tasks as late as the others let them be: some of them `until` a minute at the latest.

    They are laid backwards round all others, or moved by as much together where that gets stuck. The others stay where
    they are, or go where nothing ends later for it. The plan comes back as it is where there is no such place.
    """
    day = _same_units(day, laid)
    net = net_of(day)
    chosen = {i for i, name in enumerate(net.ids) if name in tasks}
    last = {i: until[net.ids[i]] for i in chosen if net.ids[i] in until}
    asked = _asked(net, evolve(laid, nudges={name: at for name, at in laid.nudges.items() if name not in tasks}))
    for starts in (_laid_late(net, laid, chosen, last), _moved(net, laid, chosen, last)):
        again = starts and lay(net, _these_last(net, starts, chosen), laid.breaks, starts, asked)
        if again and again.value <= laid.value:
            return as_plan(day, net, again)
    return laid


def _moved(net: Net, laid: Plan, chosen: Collection[int], until: Mapping[int, int]) -> list[int]:
    """The starts of all, those of the chosen up to the last that is wanted by a minute later by as much as that is."""
    last = max((laid.starts[net.ids[i]] for i in until), default=0)
    by = max((minute - laid.starts[net.ids[i]] for i, minute in until.items()), default=0)
    starts = [laid.starts[name] for name in net.ids]
    return [start + (by if i in chosen and start <= last else 0) for i, start in enumerate(starts)]


def _laid_late(net: Net, laid: Plan, chosen: Collection[int], until: Mapping[int, int]) -> list[int] | None:
    """The starts of all, those of the chosen as late as can be; None where the day gets stuck when it is laid back."""
    end, lengths = laid.end, net.lengths
    turned = ended(mirrored(net), net, end)
    back = turned_round([laid.starts[name] for name in net.ids], lengths, end)
    floor = [end - until[i] - lengths[i] if i in until else 0 if i in chosen else at for i, at in enumerate(back)]
    pauses = turned_round(laid.breaks, net.break_minutes, end)
    late = lay(turned, _these_last(turned, back, chosen), pauses, floor)
    return None if late is None else turned_round(late.starts, lengths, end)


def _these_last(net: Net, starts: Sequence[int], chosen: Collection[int]) -> list[int]:
    """An order by starts in which all that can be is laid before the chosen, so that it does not give way to them."""
    return ordered(net, [start + (NEVER if i in chosen else 0) for i, start in enumerate(starts)])


def hold(day: Day, old: Plan) -> Plan:
    """The old plan for a day that has changed: nothing is moved earlier, and later only what has to be.

    A day that has not changed comes back to the minute. Raises NoPlanError where nothing keeps every limit.
    """
    day = _same_units(day, old)
    net = net_of(day)
    return as_plan(day, net, laid_again(net, old))


def replan(day: Day, old: Plan, evaluations: int = AT_ONCE, seed: int = 1) -> Plan:
    """The old plan held, and a shorter one looked for from there."""
    day = _same_units(day, old)
    net = net_of(day)
    search = Search(net, evaluations, seed)
    return as_plan(day, net, search.from_plan(laid_again(net, old)))


def _same_units(day: Day, old: Plan) -> Day:
    """The day with everything that stands in a pot left in the pot that it was put into."""
    spans = tuple(
        evolve(span, unit=old.units[s])
        if span.unit is None and span.size is not None and span.first in day.running and s in old.units
        else span
        for s, span in enumerate(day.spans)
    )
    return day if spans == day.spans else evolve(day, spans=spans)


def laid_again(net: Net, old: Plan) -> Laid:
    """The old plan laid again; where that misses a limit, the steps that cannot wait are laid first, and sooner.

    The others keep their times where they can: she counts on them.
    """
    floor = [max(0, old.starts.get(name) or 0) for name in net.ids]
    key = _keys_of(net, old)
    breaks = _breaks(net, old.breaks)
    laid = lay(net, ordered(net, key), breaks, floor, _asked(net, old))
    if laid is not None and not laid.value[0]:
        return laid
    urgent = [_urgency(net, i) for i in range(net.size)]
    others = _urgent_first(net, key, urgent)
    only_urgent = [0 if of < NEVER else at for of, at in zip(urgent, floor, strict=True)]
    held = [lay(net, order, breaks, only_urgent, _asked(net, old)) for order in others]
    best = _best_of(laid, *held)
    if best is None or best.value[0]:
        anew = _best_of(*(lay(net, order, pauses) for order in others for pauses in _all_breaks(net, breaks)))
        best = anew if best is None or (anew is not None and anew.value[:2] < best.value[:2]) else best
    best = best or Search(net, AT_ONCE).run()
    if best is None:
        raise NoPlanError("no order of the steps keeps every limit")
    return best


def _best_of(*laid: Laid | None) -> Laid | None:
    return min((each for each in laid if each is not None), key=lambda each: each.value, default=None)


def _keys_of(net: Net, old: Plan) -> list[int]:
    """The starts of an older plan to go by; of what it did not have the earliest by links."""
    return [old.starts.get(name, head) for name, head in zip(net.ids, net.head, strict=True)]


def _urgent_first(net: Net, key: Sequence[float], urgent: Sequence[int]) -> list[list[int]]:
    """Orders with those first that a running step waits for: by the old plan, by what follows."""
    return [
        ordered(net, [u if u < NEVER else NEVER + k for u, k in zip(urgent, by, strict=True)])
        for by in (key, [-t for t in net.tail])
    ]


def _urgency(net: Net, i: int) -> int:
    """The earliest limit among a task and all that wait for it."""
    below = [j for j in range(net.size) if j == i or net.above[j] >> i & 1]
    return min((net.limit[j] for j in below), default=NEVER)


def _breaks(net: Net, old: Sequence[int]) -> list[int]:
    return [
        begin if begin in places else places[0]
        for begin, places in zip(_padded(net, old), net.break_places, strict=True)
    ]


def _padded(net: Net, old: Sequence[int]) -> list[int]:
    return [*old, *(places[0] for places in net.break_places[len(old) :])][: len(net.break_places)]


def _all_breaks(net: Net, breaks: list[int]) -> list[list[int]]:
    return [breaks, *([places[-1] for places in net.break_places] for _ in breaks[:1])]


def _asked(net: Net, old: Plan) -> Asked:
    seats = {
        net.first_call[name] + k: minute
        for name, minutes in old.nudges.items()
        if name in net.first_call
        for k, minute in enumerate(minutes)
        if minute >= 0
    }
    rows = {
        s: held.first + old.units[held.span]
        for s, held in enumerate(net.held)
        if held.span in old.units and held.first + old.units[held.span] in held.rows
    }
    return Asked(seats, rows)


def as_plan(day: Day, net: Net, laid: Laid) -> Plan:
    """The plan of a laying: its task numbers turned back into the names of the day."""
    starts = dict(day.running) | dict(zip(net.ids, laid.starts, strict=True))
    nudges = {
        task.id: tuple(laid.seats[net.first_call[task.id] : net.first_call[task.id] + len(task.nudges)])
        for task in day.tasks
        if task.nudges
    }
    units = dict(net.units_in_use) | {
        held.span: laid.units[s] - held.first
        for s, held in enumerate(net.held)
        if day.spans[held.span].size is not None
    }
    ends = [starts[task.id] + task.minutes for task in day.tasks if task.counts]
    return Plan(starts, nudges, tuple(laid.breaks), units, laid.value[0], laid.value[1], max(ends, default=0))


def is_same(one: Day, other: Day, end: int) -> bool:
    """Tell whether two days differ in nothing that counts up to their end but in the hours of the clock."""
    return _up_to(one, end) == _up_to(other, end)


def _up_to(day: Day, end: int) -> Day:
    """A day without what is due and without those who go after its end."""
    hands = day.resources[HANDS]
    there = evolve(hands, away=tuple(each for each in hands.away if each[0] < end))
    tasks = tuple(evolve(task, due=None) for task in day.tasks)
    return evolve(day, tasks=tasks, resources={**day.resources, HANDS: there}, horizon=0)


def as_due(day: Day, laid: Plan) -> Plan:
    """A laying with the minutes by which it is late by the hours of this day."""
    ends = ((laid.starts[task.id] + task.minutes, task.due) for task in day.tasks)
    return evolve(laid, late=sum(max(0, end - due) for end, due in ends if due is not None))
