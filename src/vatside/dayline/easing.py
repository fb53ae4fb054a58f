"""A day under way that no order of the steps keeps as it is: what is lent to it, or let go, so that it is laid at all.

Whoever has three lots soaking in two bowls has a third one, or needs it soon: she is told which, and from when.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from functools import partial
from itertools import accumulate
from typing import TypeVar

from attrs import evolve

from vatside.dayline.line.model import HANDS, Day, NoPlanError, Resource
from vatside.dayline.line.model import Plan as Laid
from vatside.dayline.needed import Needed

Ease = Callable[[Needed], Needed]
Made = TypeVar("Made")
PLENTY = 20
"""As many as never stand in the way."""


def _as_it_is(needs: Needed) -> Needed:
    return needs


def _with_more(things: tuple[str, ...], count: int, needs: Needed) -> Needed:
    """So many more of some things; a pot that is lent is as large as the largest."""
    resources = dict(needs.day.resources)
    for thing in things:
        there = resources[thing]
        sizes = (*there.sizes, *there.sizes[-1:] * count)
        resources[thing] = Resource(there.units + count, there.away, sizes)
    return evolve(needs, day=evolve(needs.day, resources=resources), kept=needs.kept or needs.day)


def _without_limits(needs: Needed) -> Needed:
    """No step has to follow another within some minutes; then every order has a plan if there is enough of all."""
    links = tuple(evolve(link, most=None) for link in needs.day.links)
    return evolve(needs, day=evolve(needs.day, links=links), kept=needs.kept or needs.day)


def _anyhow(count: int, needs: Needed) -> Needed:
    things = tuple(name for name in needs.day.resources if name != HANDS)
    return _without_limits(_with_more(things, count, needs))


EASES: tuple[Ease, ...] = (
    *(partial(_with_more, (thing,), 1) for thing in ("bowl", "pot", "hob")),
    _without_limits,
    *(partial(_anyhow, count) for count in (1, PLENTY)),
)
"""What is tried one after the other: what is found in any house first, then what fibre or vat suffer from."""


def at_all(lays: Callable[[Ease], Made], *, begun: bool) -> Made:
    """What `lays` makes of the day as it is, or of one that has begun with the least eased that lets it be laid."""
    for ease in (_as_it_is, *EASES[:-1]) if begun else ():
        with suppress(NoPlanError):
            return lays(ease)
    return lays(EASES[-1] if begun else _as_it_is)


def lacking(needs: Needed, laid: Laid) -> Iterator[tuple[str, int, int, int]]:
    """Of what there is too little: the thing, how many are wanted at once, from which minute on, how many there are."""
    for thing, there in (needs.kept or needs.day).resources.items():
        if needs.day.resources[thing].units > there.units:
            changes = sorted(_changes(needs.day, laid, thing))
            taken = list(accumulate(count for _, count in changes))
            since = next((at for (at, _), count in zip(changes, taken, strict=True) if count > there.units), None)
            if since is not None:
                yield thing, max(taken), max(since, 0), there.units


def _changes(day: Day, laid: Laid, thing: str) -> Iterator[tuple[int, int]]:
    """Each minute at which some of a thing are taken, or given back, and how many."""
    starts, length = laid.starts, {task.id: task.minutes for task in day.tasks}
    held = [
        (starts[span.first], starts[span.last] + (length[span.last] if span.to_end else 0), span.units)
        for span in day.spans
        if span.resource == thing
    ]
    used = [
        (starts[task.id] + use.since, starts[task.id] + use.until, use.units)
        for task in day.tasks
        for use in task.uses
        if use.resource == thing
    ]
    for begin, end, count in (*held, *used):
        if end > max(begin, 0):
            yield begin, count
            yield end, -count
