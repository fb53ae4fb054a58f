"""A whole day to be laid: from plan, sheet and steps, from how far it has come; and its hours on the clock.

Minute 0 is `begin`; everything before it is a fact. Raises `NoPlanError` for what cannot be done as it is written.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from datetime import datetime, tzinfo
from math import ceil, floor

from attrs import evolve, frozen

from vatside.catalogue.dyeing import pauses
from vatside.dayline.entries import entries
from vatside.dayline.going import NOT_BEGUN, Going, passed
from vatside.dayline.hours import NIGHT_MIN, Hours
from vatside.dayline.line.model import HANDS, Break, Day, Resource, Span, Task
from vatside.dayline.rounds import WET, Dipped, Round, add_dips, rounds
from vatside.dayline.steps import Step
from vatside.dayline.tasks import Draft, add_bath, add_vat, held_by, template
from vatside.dips.entry_rule import rests
from vatside.dips.rotation import lot_id, pieces
from vatside.plan.batches import Batch, batches, baths
from vatside.plan.grouping import gathered
from vatside.plan.measures import fibre_key, litres
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet, Stage


def add_batch(draft: Draft, plan: Plan, batch: Batch, steps: Sequence[Step], dipped: Dipped, wash_l: float) -> None:
    """Take up the steps of one fibre; its airing begins when the last of its pieces is out."""
    row = [(template(step).id, step) for step in steps if not template(step).another_day]
    names = {name: draft.add(step) for name, step in row}
    draft.chain(names, row)
    for name, step in row:
        for thing, until, to_end in held_by(step):
            if until in names:
                draft.span(thing, names[name], names[until], to_end=to_end, size=wash_l if thing == "pot" else None)
    if row:
        _after_dips(draft, plan, batch, names[row[0][0]], dipped)


def _after_dips(draft: Draft, plan: Plan, batch: Batch, first: str, dipped: Dipped) -> None:
    lots = {lot.id for lot in plan.lots if fibre_key(lot) == batch.key}
    ends: dict[str, int] = {}
    for piece, (task, minute) in dipped.last.items():
        if lot_id(piece) in lots:
            ends[task] = max(ends.get(task, 0), minute)
    for task in sorted(ends):
        draft.link(task, first, ends[task], within=None)


def add_ending(draft: Draft, steps: Sequence[Step], cover: str | None, rounds: Sequence[str]) -> None:
    """Take up what is done with the vat today, after it is covered; one covered for a night still has its rounds."""
    row = [(step.id, step) for step in steps if not template(step).another_day]
    names = {name: draft.add(step) for name, step in row}
    draft.chain(names, row)
    for before in (cover, *rounds[-1:]):
        if row and before:
            draft.link(before, names[row[0][0]], within=None)


#: No day is laid over fewer minutes than these, and behind what all steps and the air between dips take there is room
#: for waiting.
LEAST_HORIZON, ROOM = 1440, 600


@frozen
class Needed:
    """What is to be laid, and which step each task is of."""

    day: Day
    steps: Mapping[str, Step]
    ready: str | None
    """The first round of the dips, before which vat and fibre are ready; without one the last step of the vat.

    None where no vat is made, or where it is made already.
    """
    vat: str | None
    """The last step of the vat."""
    rounds: Mapping[str, Round]
    """By task."""
    another_day: tuple[Step, ...]
    nights: tuple[tuple[int, int], ...] = ()
    """From when to when nobody works, as far as the day could reach."""
    kept: Day | None = None
    """The day as it is where no order of the steps keeps it, and `day` is laid with more than there is."""


def needed(
    plan: Plan,
    sheet: Sheet,
    steps: Sequence[Step],
    begin: datetime,
    going: Going = NOT_BEGUN,
    zone: tzinfo | None = None,
    stays_up: int = 0,
) -> Needed:
    """Everything that is still to be laid of a day, or of one that begins then; nights begin so many minutes later."""
    draft = Draft()
    hangs = _scoured(draft, plan, sheet, steps)
    vat = add_vat(draft, [step for step in steps if step.stage in (Stage.STOCK, Stage.VAT)])
    hours = Hours(plan, begin, zone, stays_up)
    dip_rounds = rounds(
        entries(
            () if going.vat_over else pieces(plan, sheet),
            rests(sheet),
            pauses().handling.value,
            going.standings,
            going.worked,
            _late(draft, plan, hours, None if going.standings else vat),
            dict(sheet.held_up),
            going.entered,
            going.at_work,
        ),
        ceil(sheet.value("dip.entries", 0.0)) or 1000,
    )
    of_dips = [step for step in steps if step.stage is Stage.DIP]
    been_in = {lot_id(piece) for piece in going.standings}
    to_hang = {lot: hang for lot, hang in hangs.items() if lot not in been_in}
    dipped = add_dips(draft, of_dips, dip_rounds, vat, to_hang, begun=bool(going.standings))
    finish = [step for step in steps if step.stage is Stage.FINISH]
    for batch in batches(plan):
        own = [step for step in finish if step.id.startswith(batch.id(""))]
        add_batch(draft, plan, batch, own, dipped, _wash_litres(plan, sheet, batch))
    add_ending(draft, [step for step in finish if not template(step).each], dipped.cover, dipped.tasks)
    _close(draft)
    _released(draft, plan, hours)
    over = passed(plan, sheet, steps, going)
    gone_by = [name for name, step in draft.steps.items() if step.id in over and name not in dipped.tasks]
    running = _facts(draft, going, dipped.tasks, gone_by)
    day = _day(draft, plan, sheet, hours, going, running)
    ready = _ready(day, vat, None if going.standings else next(iter(dipped.tasks), None))
    day = _due(day, ready, hours.minute(plan.ready_by), at_start=ready in dipped.tasks)
    later = tuple(step for step in steps if template(step).another_day)
    nights = tuple((a, b) for a, b, _ in hours.nights(day.horizon))
    return Needed(day, draft.steps, ready, vat, dict(zip(dipped.tasks, dip_rounds, strict=False)), later, nights)


def _ready(day: Day, vat: str | None, first_round: str | None) -> str | None:
    """What the vat is wanted for: it is ready once its first fibre can go in, however early it stands there itself."""
    if vat is None:
        return None
    length = next(task.minutes for task in day.tasks if task.id == vat)
    return None if day.running.get(vat, 0) + length <= 0 else first_round or vat


def _due(day: Day, ready: str | None, minute: int | None, *, at_start: bool) -> Day:
    """The day with the minute by which that is to begin, or to end."""
    if ready is None or minute is None:
        return day
    return evolve(
        day,
        tasks=tuple(
            evolve(task, due=minute + (task.minutes if at_start else 0)) if task.id == ready else task
            for task in day.tasks
        ),
    )


def _scoured(draft: Draft, plan: Plan, sheet: Sheet, steps: Sequence[Step]) -> dict[str, str]:
    """Take up all baths; for each lot the task that hangs it up."""
    hangs: dict[str, str] = {}
    for bath in baths(plan):
        own = [step for step in steps if step.id.startswith(bath.id(""))]
        hang = add_bath(draft, plan, sheet, bath, own)
        hangs |= {lot.id: hang for lot in bath.lots if hang}
    return hangs


def _wash_litres(plan: Plan, sheet: Sheet, batch: Batch) -> float:
    """Litres that the pot of a wash must hold: of a part, where all of it is larger than every pot."""
    largest = max(litres(plan, pot) for pot in (plan.vessels.scour_pot, *plan.place.pots))
    return min(sheet.value(batch.id("part_water"), sheet.value(batch.id("water"), 0.0)), largest)


def _close(draft: Draft) -> None:
    """Close the spans whose last step belongs to another stage; without it the thing is held through its own step."""
    for thing, first, until, to_end in draft.open_spans:
        close = until if until in draft.tasks else first
        draft.spans.append(Span(thing, first, close, to_end or close == first))


def _late(draft: Draft, plan: Plan, hours: Hours, ready: str | None) -> dict[str, float]:
    """The minutes, from the first piece in, before which a lot that comes later cannot be in.

    The first piece goes in once the vat is ready, at the soonest: a later one only lets the lot wait, never go without.
    """
    by_lot = {}
    soonest = 0 if ready is None else _soonest_end(draft, ready)
    for bath in baths(plan):
        wetted = sum(task.minutes for name, task in draft.tasks.items() if name.startswith(bath.id("")))
        for lot in bath.lots if bath.unscoured else ():
            comes = hours.minute(lot.comes) or 0
            if comes > 0:
                by_lot[lot.id] = float(max(comes + wetted - soonest, 0))
    return by_lot


def _soonest_end(draft: Draft, last: str) -> int:
    """When a task can be over by its links alone."""
    before = gathered((link.last, link) for link in draft.links)

    def starts(name: str) -> int:
        return max((starts(link.first) + link.least for link in before.get(name, ())), default=0)

    return starts(last) + draft.tasks[last].minutes


def _released(draft: Draft, plan: Plan, hours: Hours) -> None:
    """The fibre of a bath is there when the last of its lots is; what is only wetted out waits for no other lot."""
    for bath in baths(plan):
        of_all = min if bath.unscoured else max
        comes = of_all((hours.minute(lot.comes) or 0 for lot in bath.lots), default=0)
        if comes > 0:
            own = [name for name in draft.tasks if name.startswith(bath.id("soak")) or "only_rinse" in name]
            draft.tasks |= {name: evolve(draft.tasks[name], release=comes) for name in own if bath.id("") in name}


def _day(draft: Draft, plan: Plan, sheet: Sheet, hours: Hours, going: Going, running: Mapping[str, int]) -> Day:
    first = max(0, hours.minute(plan.place.not_before) or 0)
    tasks = tuple(_to_come(draft, task.id, first, running, going) for task in draft.tasks.values())
    between = sum(max(0, link.least - draft.tasks[link.first].minutes) for link in draft.links)
    horizon = max(LEAST_HORIZON, sum(task.minutes for task in tasks) + between + ROOM + first)
    nights = hours.nights(horizon)
    horizon += NIGHT_MIN * len(nights)
    return Day(
        _resources(plan, sheet, hours, going, nights), tasks, tuple(draft.links), _spans(draft, sheet), _breaks(hours),
        running, horizon,
    )  # fmt: skip


def _to_come(draft: Draft, name: str, first: int, running: Mapping[str, int], going: Going) -> Task:
    """A task with its release; of one that runs only the nudges that are still to come."""
    task = draft.tasks[name]
    if name not in running:
        return task if task.release >= first else evolve(task, release=first)
    kept = tuple(nudge for nudge in task.nudges if running[name] + nudge.at >= 0)
    return evolve(task, nudges=kept if name in going.waits else ())


def _facts(draft: Draft, going: Going, rounds: Collection[str], passed: Collection[str]) -> dict[str, int]:
    """When what is done, what waits, and what has passed without a tick, began: so that it ends when it did, or will.

    What must come before something that has begun has passed; rounds have not, whose pieces the board counts.
    """
    facts = _told(draft, going, rounds)
    todo = list(facts)
    facts |= {name: -draft.tasks[name].minutes for name in passed if name not in facts}
    before = gathered((link.last, link) for link in draft.links)
    while todo:
        last = todo.pop()
        for link in before.get(last, ()) if last != WET else ():  # lots may still simmer while others are kept wet
            if link.first not in facts and link.first not in rounds:
                minutes = draft.tasks[link.first].minutes
                facts[link.first] = min(facts[last] - link.least, -minutes)
                todo.append(link.first)
    return facts


def _told(draft: Draft, going: Going, rounds: Collection[str]) -> dict[str, int]:
    """When what is ticked as done, and what waits, began."""
    facts = {}
    for name, task in draft.tasks.items():
        step = draft.steps[name].id
        waiting = None if name in rounds else going.waits.get(step)
        if waiting is not None:
            facts[name] = ceil(waiting.left) - task.minutes
        elif step in going.done:
            facts[name] = floor(-going.done[step]) - task.minutes
    return facts


def _spans(draft: Draft, sheet: Sheet) -> tuple[Span, ...]:
    jars = max(round(sheet.value("stock.jars", 1)), 1)
    return tuple(evolve(span, units=jars) if span.resource == "jar" else span for span in draft.spans)


def _resources(
    plan: Plan, sheet: Sheet, hours: Hours, going: Going, nights: tuple[tuple[int, int, int], ...]
) -> dict[str, Resource]:
    place = plan.place
    pots = sorted(litres(plan, pot) for pot in (plan.vessels.scour_pot, *place.pots))
    jars = max(round(sheet.value("stock.jars", 1)), 1)
    return {
        HANDS: Resource(max(place.people, 1), (*hours.absences(), *going.absences, *nights)),
        "hob": Resource(max(place.hobs, 1)),
        "sink": Resource(max(place.sinks, 1)),
        "pot": Resource(len(pots), sizes=tuple(pots)),
        "bowl": Resource(max(place.bowls, 1)),
        "jar": Resource(max(place.jars or jars, jars)),
        "tub": Resource(1),
    }


def _breaks(hours: Hours) -> tuple[Break, ...]:
    lunch = hours.lunch()
    return () if lunch is None else (lunch,)
