"""Where hands, hobs, pots, sinks and vat are needed: a lane each, with bars; minutes from the beginning of the day."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from attrs import frozen

from vatside.dayline.laid_day import LaidDay
from vatside.dayline.line.model import HANDS, Task
from vatside.dayline.steps import Step
from vatside.plan.sheet import Stage
from vatside.units import Amount, show_amount

#: Lanes of things, in the order in which they are shown.
THINGS = ("hob", "pot", "sink", "jar")
BREAK = "break"


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


def lanes(day: LaidDay) -> tuple[Lane, ...]:
    """Every lane that has a bar: hands first, then things, then the vat."""
    found = [Lane(HANDS, _hands(day))]
    for thing in THINGS:
        found += _of_thing(day, thing)
    found.append(Lane("vat", _vat(day)))
    return tuple(lane for lane in found if lane.bars)


def busy(day: LaidDay) -> list[int]:
    """For each minute up to the end how many pairs of hands are at work."""
    counts = [0] * max(day.laid.end, 0)
    for bar in _hands(day):
        if bar.label != BREAK:
            for minute in range(max(bar.begin, 0), min(bar.end, len(counts))):
                counts[minute] += 1
    return counts


def _hands(day: LaidDay) -> tuple[Bar, ...]:
    bars = [
        Bar(begin, end, _label(day.needed.steps[task.id]))
        for task in day.needed.day.tasks
        for begin, end in _used(day, task, HANDS)
    ]
    bars += [
        Bar(minute, minute + 1, _label(day.needed.steps[name]))
        for name, minutes in day.laid.nudges.items()
        for minute in minutes
        if minute >= 0
    ]
    pauses = zip(day.laid.breaks, day.needed.day.breaks, strict=True)
    bars += [Bar(begin, begin + pause.minutes, BREAK) for begin, pause in pauses]
    return tuple(sorted(bars, key=lambda bar: bar.begin))


def _used(day: LaidDay, task: Task, thing: str) -> Iterator[tuple[int, int]]:
    start = day.laid.starts[task.id]
    for use in task.uses:
        if use.resource == thing and start + use.until > 0:
            yield max(start + use.since, 0), start + use.until


def _label(step: Step) -> str:
    return step.group or step.stage.value.lower()


def _of_thing(day: LaidDay, thing: str) -> Iterator[Lane]:
    """The lanes of a thing, one for each unit of it."""
    resource = day.needed.day.resources[thing]
    placed: list[list[Bar]] = [[] for _ in range(max(resource.units, 1))]
    for bar, unit in sorted(_held(day, thing), key=lambda each: each[0].begin):
        row = placed[unit] if unit is not None else _free(placed, bar)
        row.append(bar)
    for number, row in enumerate(placed):
        yield Lane(_name(thing, number, resource.sizes, resource.units), tuple(row))


def _free(placed: Sequence[list[Bar]], bar: Bar) -> list[Bar]:
    return next((row for row in placed if not row or row[-1].end <= bar.begin), placed[-1])


def _held(day: LaidDay, thing: str) -> Iterator[tuple[Bar, int | None]]:
    tasks = {task.id: task for task in day.needed.day.tasks}
    for task in day.needed.day.tasks:
        for begin, end in _used(day, task, thing):
            yield Bar(begin, end, _label(day.needed.steps[task.id])), None
    for number, span in enumerate(day.needed.day.spans):
        begin = day.laid.starts[span.first]
        end = day.laid.starts[span.last] + (tasks[span.last].minutes if span.to_end else 0)
        if span.resource == thing and end > max(begin, 0):
            yield Bar(max(begin, 0), end, _label(day.needed.steps[span.first])), day.laid.units.get(number)


def _name(thing: str, number: int, sizes: Sequence[float], units: int) -> str:
    if sizes:
        return f"{thing} {show_amount(Amount(sizes[number], 'L'))}"
    return thing if units == 1 else f"{thing} {number + 1}"


def _vat(day: LaidDay) -> tuple[Bar, ...]:
    """What is done to the vat, and the dips."""
    bars = []
    for task in day.needed.day.tasks:
        step, start = day.needed.steps[task.id], day.laid.starts[task.id]
        if step.stage is Stage.VAT or task.id in day.needed.rounds:
            label = "dips" if task.id in day.needed.rounds else step.wait_label.lower() or "vat"
            bars += [Bar(max(start, 0), start + task.minutes, label)] if start + task.minutes > 0 else []
    return tuple(sorted(bars, key=lambda bar: bar.begin))
