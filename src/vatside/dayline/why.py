"""Why a step stands where it stands in a laid day: what it waits for, as far as the plan can tell."""

from __future__ import annotations

from collections.abc import Iterator

from vatside.dayline.day_words import briefly, clock_at, has_more
from vatside.dayline.laid_day import LaidDay
from vatside.dayline.line.model import HANDS, Link, Task
from vatside.dayline.steps import Step

#: How a thing is called of which a step waits for one.
THINGS = {HANDS: "a free pair of hands", "jar": "the jar", "tub": "the tub"}
#: Reasons that are told at most.
MOST = 3


def why(day: LaidDay, name: str) -> tuple[str, ...]:
    """Sentences, the weightiest first: what must be over, what is taken, what follows so soon that it waits."""
    task = next(each for each in day.needed.day.tasks if each.id == name)
    found = [*_after(day, task), *_taken(day, task), *_break(day, task)]
    found = found or [*_held_back(day, task), *_free(day, task)]
    return tuple(dict.fromkeys(found))[:MOST]


def _after(day: LaidDay, task: Task) -> Iterator[str]:
    """What must have gone on for so long before, and has just then."""
    start, starts = day.laid.starts[task.id], day.laid.starts
    for link in day.needed.day.links:
        if link.last == task.id and starts[link.first] + link.least == start and start > 0:
            yield f"Until {clock_at(day, start)}: {_named(day, link)}."
    if task.release == start and start > 0:
        yield f"Nothing of it is there, or nobody begins, before {clock_at(day, start)}."


def _named(day: LaidDay, link: Link) -> str:
    """What is gone on with until then."""
    step = day.needed.steps[link.first]
    if link.first in day.needed.rounds:
        return "the round of dips before it, and the air after it"
    return step.wait_label or briefly(step.text)


def _taken(day: LaidDay, task: Task) -> Iterator[str]:
    """What it needs and another gives back just then."""
    start = day.laid.starts[task.id]
    wants = {use.resource: start + use.since for use in task.uses}
    wants |= {span.resource: start for span in day.needed.day.spans if span.first == task.id}
    for thing, at in wants.items():
        resource = day.needed.day.resources.get(thing)
        owner = _gives_back(day, thing, at, task.id)
        if owner is not None and resource is not None and at > 0:
            many = resource.units > 1 or bool(resource.sizes and len(resource.sizes) > 1)
            named = THINGS.get(thing) or (f"a {thing}" if many else f"the {thing}")
            yield f"Waits for {named} until {clock_at(day, at)}: {_whose(owner)}."


def _gives_back(day: LaidDay, thing: str, at: int, name: str) -> Step | None:
    """Whose turn with a thing ends at a minute."""
    starts = day.laid.starts
    for task in day.needed.day.tasks:
        uses = (use for use in task.uses if use.resource == thing)
        if task.id != name and any(starts[task.id] + use.until == at for use in uses):
            return day.needed.steps[task.id]
    minutes = {task.id: task.minutes for task in day.needed.day.tasks}
    for span in day.needed.day.spans:
        end = starts[span.last] + (minutes[span.last] if span.to_end else 0)
        if span.resource == thing and span.first != name and end == at:
            return day.needed.steps[span.last]
    return None


def _whose(step: Step) -> str:
    words = briefly(step.text)
    return f"{words[:1].lower()}{words[1:]}"


def _break(day: LaidDay, task: Task) -> Iterator[str]:
    for begin, pause in zip(day.laid.breaks, day.needed.day.breaks, strict=True):
        if begin + pause.minutes == day.laid.starts[task.id]:
            yield f"Everybody stops until {clock_at(day, begin + pause.minutes)}."


def _held_back(day: LaidDay, task: Task) -> Iterator[str]:
    """What follows must not wait, so it begins no sooner."""
    starts = day.laid.starts
    for link in day.needed.day.links:
        if link.first == task.id and link.most is not None and starts[link.last] == starts[task.id] + link.most:
            follows = briefly(day.needed.steps[link.last].text)
            yield f"No sooner, for it must not be kept waiting: {follows} {clock_at(day, starts[link.last])}."


def _free(day: LaidDay, task: Task) -> Iterator[str]:
    start = day.laid.starts[task.id]
    if start <= 0:
        yield "Nothing is in its way: it can begin now." if day.needed.day.running else "The day begins with it."
        return
    end = clock_at(day, day.laid.end)
    yield f"It waits for nothing: here it fits between the others{f', and all is done {end}' if has_more(day) else ''}."
