"""Where hands, hobs, pots, sinks and vat are needed: a lane each, with bars; minutes from the beginning of the day.

What began before, as far as it is known, has minutes below zero.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from attrs import frozen

from vatside.dayline.laid_day import LaidDay
from vatside.dayline.line.model import HANDS, Task
from vatside.dayline.steps import Step
from vatside.plan.measures import fibre_key
from vatside.plan.plan import Plan
from vatside.plan.scour_baths import baths
from vatside.plan.sheet import Stage
from vatside.units import Amount, show_amount

#: Lanes of things, in the order in which they are shown.
THINGS = ("hob", "pot", "sink", "jar")
BREAK = "break"
VAT = "vat"
DIPS = "dips"
#: Minutes of what went before that are shown at most: ours.
PAST = 240
#: Bars of one lot that are no further apart are one bar, minutes: ours.
TOGETHER = 10


@frozen
class Bar:
    """A stretch of a lane and whose it is."""

    begin: int
    end: int
    label: str


@frozen
class Lane:
    """One pair of hands or one thing."""

    name: str
    bars: tuple[Bar, ...]


def since_when(day: LaidDay) -> int:
    """The minute at which what is known of the day begins: now, or below zero, by so much as is worth a look."""
    return max(min([0, *day.needed.day.running.values()]), -PAST)


def lanes(day: LaidDay, since: int = 0) -> tuple[Lane, ...]:
    """Every lane that has a bar after `since`: hands first, then things, then the vat."""
    found = [Lane(HANDS, _hands(day, since))]
    for thing in THINGS:
        found += _of_thing(day, thing, since)
    found.append(Lane(VAT, _vat(day, since)))
    return tuple(lane for lane in found if lane.bars)


def lot_lanes(day: LaidDay, plan: Plan, since: int = 0) -> tuple[Lane, ...]:
    """What is done to each lot after `since`: in its baths, in the vat, in its finish."""
    found = []
    for lot in plan.lots:
        own = (*(bath.id("") for bath in baths(plan) if lot in bath.lots), f"finish.{fibre_key(lot)}.")
        bars = sorted(_of_lot(day, lot.id, own, since), key=lambda bar: (bar.begin, bar.end))
        found.append(Lane(lot.name, tuple(_together(bars))))
    return tuple(lane for lane in found if lane.bars)


def _of_lot(day: LaidDay, lot: str, own: tuple[str, ...], since: int) -> Iterator[Bar]:
    for task in day.needed.day.tasks:
        step, start = day.needed.steps[task.id], day.laid.starts[task.id]
        turn = day.needed.rounds.get(task.id)
        mine = step.id.startswith(own) if turn is None else any(piece.startswith(f"{lot}.") for piece in turn.pieces)
        if mine and start + task.minutes > since:
            yield Bar(max(start, since), start + task.minutes, DIPS if turn else step.stage.value.lower())


def _together(bars: Sequence[Bar]) -> list[Bar]:
    """Bars of one kind that follow each other as one."""
    found: list[Bar] = []
    for bar in bars:
        last = found[-1] if found else None
        if last and last.label == bar.label and bar.begin <= last.end + TOGETHER:
            found[-1] = Bar(last.begin, max(last.end, bar.end), bar.label)
        else:
            found.append(bar)
    return found


def busy(day: LaidDay, since: int = 0) -> list[int]:
    """For each minute from `since` up to the end how many pairs of hands are at work."""
    counts = [0] * max(day.laid.end - since, 0)
    for bar in _hands(day, since):
        if bar.label != BREAK:
            for minute in range(bar.begin - since, min(bar.end - since, len(counts))):
                counts[minute] += 1
    return counts


def _hands(day: LaidDay, since: int = 0) -> tuple[Bar, ...]:
    bars = [
        Bar(begin, end, _label(day.needed.steps[task.id]))
        for task in day.needed.day.tasks
        for begin, end in _used(day, task, HANDS, since)
    ]
    bars += [
        Bar(minute, minute + 1, _label(day.needed.steps[name]))
        for name, minutes in day.laid.nudges.items()
        for minute in minutes
        if minute >= since
    ]
    pauses = zip(day.laid.breaks, day.needed.day.breaks, strict=True)
    bars += [Bar(begin, begin + pause.minutes, BREAK) for begin, pause in pauses]
    return tuple(sorted(bars, key=lambda bar: bar.begin))


def _used(day: LaidDay, task: Task, thing: str, earliest: int) -> Iterator[tuple[int, int]]:
    start = day.laid.starts[task.id]
    for use in task.uses:
        if use.resource == thing and start + use.until > earliest:
            yield max(start + use.since, earliest), start + use.until


def _label(step: Step) -> str:
    return step.group or step.stage.value.lower()


def _of_thing(day: LaidDay, thing: str, since: int) -> Iterator[Lane]:
    """The lanes of a thing, one for each unit of it."""
    resource = day.needed.day.resources[thing]
    placed: list[list[Bar]] = [[] for _ in range(max(resource.units, 1))]
    for bar, unit in sorted(_held(day, thing, since), key=lambda each: each[0].begin):
        row = placed[unit] if unit is not None else _free(placed, bar)
        row.append(bar)
    for number, row in enumerate(placed):
        yield Lane(_name(thing, number, resource.sizes, resource.units), tuple(row))


def _free(placed: Sequence[list[Bar]], bar: Bar) -> list[Bar]:
    return next((row for row in placed if not row or row[-1].end <= bar.begin), placed[-1])


def _held(day: LaidDay, thing: str, since: int) -> Iterator[tuple[Bar, int | None]]:
    tasks = {task.id: task for task in day.needed.day.tasks}
    for task in day.needed.day.tasks:
        for begin, end in _used(day, task, thing, since):
            yield Bar(begin, end, _label(day.needed.steps[task.id])), None
    for number, span in enumerate(day.needed.day.spans):
        begin = day.laid.starts[span.first]
        end = day.laid.starts[span.last] + (tasks[span.last].minutes if span.to_end else 0)
        if span.resource == thing and end > max(begin, since):
            yield Bar(max(begin, since), end, _label(day.needed.steps[span.first])), day.laid.units.get(number)


def _name(thing: str, number: int, sizes: Sequence[float], units: int) -> str:
    if sizes:
        return f"{thing} {show_amount(Amount(sizes[number], 'L'))}"
    return thing if units == 1 else f"{thing} {number + 1}"


def _vat(day: LaidDay, since: int) -> tuple[Bar, ...]:
    """What is done to the vat, and the dips."""
    bars = []
    for task in day.needed.day.tasks:
        step, start = day.needed.steps[task.id], day.laid.starts[task.id]
        if step.stage is Stage.VAT or task.id in day.needed.rounds:
            label = DIPS if task.id in day.needed.rounds else step.wait_label.lower() or VAT
            if start + task.minutes > since:
                bars.append(Bar(max(start, since), start + task.minutes, label))
    return tuple(sorted(bars, key=lambda bar: bar.begin))
