"""What is made no sooner than it is wanted: stock and vat age while they wait for fibre, and wet fibre grows mould."""

from __future__ import annotations

from vatside.dayline.line.model import Plan as Laid
from vatside.dayline.line.planning import put_off
from vatside.dayline.needed import Needed
from vatside.dayline.tasks import template
from vatside.plan.sheet import Stage

#: One more look at a stock or a vat that is not ready yet, minutes: ours, no source.
ONE_MORE_LOOK = 15
#: How much of a time that is to spare is used up: all of it, or where that cannot be, less.
SHARES = (1.0, 0.75, 0.5, 0.25)
#: Minutes for which wet fibre may wait for its vat: dried within one day or two it grows no mould (EPA, Mold Course,
#: chapter 4).
WET_AT_MOST = 24 * 60


def fresh(needs: Needed, laid: Laid) -> Laid:
    """The same plan with stock and vat made as late as is sensible: they age while they wait for the fibre.

    They keep the minutes of one more look before the first piece goes in; nothing else is moved, and nothing ends
    later.
    """
    first, vat = needs.ready, needs.vat
    if first is None or first not in needs.rounds or vat is None or vat in needs.day.running:
        return laid
    length = {task.id: task.minutes for task in needs.day.tasks}
    before = [task for task, step in needs.steps.items() if step.stage is Stage.DIP and task not in needs.rounds]
    between = sum(length[task] for task in before if laid.starts[vat] < laid.starts[task] < laid.starts[first])
    until = laid.starts[first] - between - ONE_MORE_LOOK - length[vat]
    if until <= laid.starts[vat]:
        return laid
    made = [task for task, step in needs.steps.items() if step.stage in (Stage.STOCK, Stage.VAT)]
    for share in SHARES:
        at = round(laid.starts[vat] + share * (until - laid.starts[vat]))
        later = put_off(needs.day, laid, (*made, *before), {vat: at})
        if later.starts[vat] > laid.starts[vat] and later.starts[first] <= laid.starts[first]:
            return later
    return laid


BEGINS_SCOUR = "soak"
"""The first step of a scour."""


def not_soaked(needs: Needed, laid: Laid) -> Laid:
    """The same plan with its scour put off by whole days where fibre would lie wet for days before its vat is ready.

    Nothing is put off once any of it is begun: what is in the pot comes out of it.
    """
    first, length = needs.ready, {task.id: task.minutes for task in needs.day.tasks}
    of_scour = (task for task, step in needs.steps.items() if step.stage is Stage.SCOUR)
    scour = sorted(of_scour, key=laid.starts.__getitem__)
    groups = {needs.steps[task].group for task in scour}
    to_begin = {needs.steps[task].group for task in scour if template(needs.steps[task]).id == BEGINS_SCOUR}
    is_begun = groups != to_begin or any(task in needs.day.running for task in scour)
    if first is None or first not in needs.rounds or not scour or is_begun:
        return laid
    ends = {needs.steps[task].group: laid.starts[task] + length[task] for task in scour}
    days = (laid.starts[first] - min(ends.values())) // WET_AT_MOST
    early = laid.starts[first] - WET_AT_MOST
    dips = [task for task, step in needs.steps.items() if step.stage is Stage.DIP and laid.starts[task] < early]
    until = {task: laid.starts[task] + days * WET_AT_MOST for task in (*scour, *dips)}
    return put_off(needs.day, laid, tuple(until), until) if days else laid
