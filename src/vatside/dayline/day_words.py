"""A laid day in words: what she does when, as acts; its head and the clock on the wall; why a step stands there.

Steps in a row are one act, with how long it may be put off.
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterator, Sequence
from datetime import timedelta

from attrs import frozen

from vatside.dayline.held_day import away, end_words
from vatside.dayline.laid_day import LaidDay
from vatside.dayline.line.model import HANDS, Link, Task
from vatside.dayline.rounds import Round
from vatside.dayline.steps import Step
from vatside.plan.hours import clock_words
from vatside.units import show_count, show_minutes

#: Steps that begin within so many minutes after the hands are free of the one before are one act: ours.
IN_A_ROW = 3


@frozen
class Deed:
    """One step at its time. Minutes are counted from the beginning of the laid day."""

    task: str
    step: Step
    at: int
    hands_end: int
    """When its hands are free."""
    end: int
    """When its wait is over."""
    nudges: tuple[int, ...]
    latest: int
    """How late it may begin, if the others keep their times."""
    round: Round | None = None
    number: int = 0
    """Of its round, counted from 1; 0 for a step that is none."""

    @property
    def group(self) -> str:
        """What it belongs to: a bath, a fibre, or the stage."""
        return self.step.group or self.step.stage.value


@frozen
class Act:
    """Deeds in a row."""

    deeds: tuple[Deed, ...]

    @property
    def at(self) -> int:
        """When it begins."""
        return self.deeds[0].at

    @property
    def hands_end(self) -> int:
        """When the hands are free."""
        return max(deed.hands_end for deed in self.deeds)

    @property
    def latest(self) -> int:
        """How late it may begin so that none of it comes too late."""
        return min(deed.latest - (deed.at - self.at) for deed in self.deeds)


def deeds(day: LaidDay) -> tuple[Deed, ...]:
    """Every step that is to come, in the order of its start."""
    numbers = {task: number + 1 for number, task in enumerate(day.needed.rounds)}
    coming = [task for task in day.needed.day.tasks if task.id not in day.needed.day.running]
    made = [_deed(day, task, numbers.get(task.id, 0)) for task in coming]
    return tuple(sorted(made, key=lambda deed: (deed.at, deed.end)))


def _deed(day: LaidDay, task: Task, number: int) -> Deed:
    at = day.laid.starts[task.id]
    hands = max((use.until for use in task.uses if use.resource == HANDS), default=0)
    return Deed(
        task.id, day.needed.steps[task.id], at, at + hands, at + task.minutes,
        day.laid.nudges.get(task.id, ()), day.latest.get(task.id, at), day.needed.rounds.get(task.id), number,
    )  # fmt: skip


@frozen
class Stop:
    """Everybody stops: lunch, a break, the night."""

    at: int
    end: int
    name: str
    latest: int | None = None
    """When it is to begin at the latest; None for one that stands."""


def stops(day: LaidDay) -> tuple[Stop, ...]:
    """Every stop that is not over, in their order."""
    planned = [Stop(begin, begin + pause.minutes, LUNCH, pause.latest) for begin, pause in day.breaks if has_more(day)]
    lunch = None if day.stopped is None else day.stopped[0] + timedelta(minutes=day.stopped[1])
    nights = dict.fromkeys(day.needed.nights, NIGHT)
    standing = [
        Stop(a, b, LUNCH if day.at(b) == lunch else nights.get((a, b), BREAK if a <= 0 else AWAY)) for a, b in away(day)
    ]
    return tuple(sorted((*planned, *standing), key=lambda each: each.at))


LUNCH, BREAK, AWAY, NIGHT = "Lunch", "Break", "Nobody is there", "Night"


def stop_words(day: LaidDay, stop: Stop) -> str:
    """`Lunch until 13:29`."""
    return f"{stop.name} until {clock_at(day, stop.end)}"


def acts(to_do: Sequence[Deed]) -> tuple[Act, ...]:
    """Deeds as acts: what begins within three minutes after the one before belongs to it, rounds stay by themselves."""
    made: list[list[Deed]] = []
    for deed in to_do:
        last = made[-1][-1] if made else None
        if last and not (last.round or deed.round) and last.at < deed.at <= last.hands_end + IN_A_ROW:
            made[-1].append(deed)
        else:
            made.append([deed])
    return tuple(Act(tuple(in_a_row)) for in_a_row in made)


def calls(day: LaidDay) -> Iterator[tuple[int, str, str]]:
    """(minute, task, words) of every nudge that is to come, of waits that run too."""
    tasks = {task.id: task for task in day.needed.day.tasks}
    for name, minutes in day.laid.nudges.items():
        step = day.needed.steps[name]
        labels = [nudge.label for nudge in step.nudges][len(step.nudges) - len(tasks[name].nudges) :]
        for minute, label in zip(minutes, labels, strict=False):
            if minute >= 0:
                yield minute, name, label


def head(day: LaidDay) -> str:
    """When it begins, when the vat is ready, when all is done, and how much is in hand or late."""
    parts = [
        f"now {clock_at(day, 0)}" if day.needed.day.running else f"begin {clock_at(day, 0)} on {day.begin:%a %-d %b}"
    ]
    if day.ready is not None:
        parts.append(f"vat ready {clock_at(day, day.ready)}{_against(day.wanted, day.ready)}")
    if has_more(day):
        parts.append(f"all done {clock_at(day, day.laid.end)}{_against(day.home, day.laid.end)}")
    else:
        parts.append("nothing left to do today")
    return ", ".join(parts)


def has_more(day: LaidDay) -> bool:
    """Tell whether anything is left to do today."""
    return any(name not in day.needed.day.running for name in day.laid.starts)


#: Minutes after which nobody wants to know how late it is: ours.
LONG_PAST = 12 * 60


def is_long_past(hour: int | None) -> bool:
    """Tell of a wanted minute that it went by long ago, as in a file that is opened months later."""
    return hour is not None and hour < -LONG_PAST


def _against(wanted: int | None, minute: int) -> str:
    if is_long_past(wanted):
        return " (that hour is long past)"
    return "" if wanted is None else f" ({in_hand(wanted - minute)})"


def in_hand(spare: int) -> str:
    """`25 min in hand`, `8 min late`, `no time in hand`."""
    if spare == 0:
        return "no time in hand"
    return f"{show_minutes(abs(spare))} {'in hand' if spare >= 0 else 'late'}"


def what_became(before: LaidDay, after: LaidDay) -> str:
    """What a break makes of the day: what is in hand or late, or the end where no hour is wanted; and what is next."""
    was, now = before.spare, after.spare
    if was is None or now is None:
        became = end_words(before, after)
    elif was == now:
        became = f"{in_hand(now)} as before"
    else:
        became = f"{in_hand(was)} became {in_hand(now)}"
    coming = [task.id for task in after.needed.day.tasks if task.id not in after.needed.day.running]
    following = min(coming, key=lambda task: after.laid.starts[task], default=None)
    if following is None:
        return f"{became[:1].upper()}{became[1:]}."
    first = briefly(after.needed.steps[following].text)
    return f"{became[:1].upper()}{became[1:]}; next at {clock_at(after, after.laid.starts[following])}: {first}."


def clock_at(day: LaidDay, minute: int) -> str:
    """A minute of the day on the wall; of another date with its weekday."""
    moment = day.at(minute)
    words = clock_words(moment, day.zone)
    return words if moment.date() == day.begin.date() else f"{words} ({moment:%a})"


def briefly(text: str) -> str:
    """The first words of a sentence."""
    return re.split(r"[;:,]", text)[0]


def words_of(deed: Deed) -> str:
    """What is to be done; of a round who goes in."""
    if deed.round is None:
        return deed.step.text
    pieces = [piece for entry in deed.round.entries for piece in entry.pieces]
    entries = show_count(len(deed.round.entries), "entry", "entries")
    return f"Round {deed.number} of the dips: {entries}, {show_count(len(pieces), 'piece')}"


def wait_words(day: LaidDay, deed: Deed) -> str:
    """How long it then waits, and when it is to be looked after."""
    nudges = (
        f", {deed.step.nudges[-1].label} {', '.join(clock_at(day, at) for at in deed.nudges)}" if deed.nudges else ""
    )
    if deed.end <= deed.hands_end or deed.round:
        return ""
    return f" [{deed.step.wait_label or 'wait'} until {clock_at(day, deed.end)}{nudges}]"


#: How a thing is called of which a step waits for one.
THINGS = {HANDS: "a free pair of hands", "jar": "the jar", "tub": "the tub"}
#: Reasons that are told at most.
MOST = 3


def why(day: LaidDay, name: str) -> tuple[str, ...]:
    """Sentences, the weightiest first: what must be over, what is taken, what follows so soon that it waits."""
    task = next(item for item in day.needed.day.tasks if item.id == name)
    after = dict(_after(day, task))
    reasons = [*after.values(), *_taken(day, task, after), *_break(day, task)]
    reasons = reasons or [*_held_back(day, task), *_free(day, task)]
    return tuple(dict.fromkeys(reasons))[:MOST]


def _after(day: LaidDay, task: Task) -> Iterator[tuple[str, str]]:
    """The step, and its words, that must have gone on for so long before, and has just then."""
    start, starts = day.laid.starts[task.id], day.laid.starts
    for link in day.needed.day.links:
        if link.last == task.id and starts[link.first] + link.least == start and start > 0:
            yield day.needed.steps[link.first].id, f"Until {clock_at(day, start)}: {_named(day, link)}."
    if task.release == start and start > 0:
        yield "", f"Nothing of it is there, or nobody begins, before {clock_at(day, start)}."


def _named(day: LaidDay, link: Link) -> str:
    """What is gone on with until then."""
    step = day.needed.steps[link.first]
    if link.first in day.needed.rounds:
        return "the round of dips before it, and the air after it"
    return step.wait_label or briefly(step.text)


def _taken(day: LaidDay, task: Task, named: Container[str]) -> Iterator[str]:
    """What it needs and another gives back just then, unless that step is `named` already."""
    start = day.laid.starts[task.id]
    wants = {use.resource: start + use.since for use in task.uses}
    wants |= {span.resource: start for span in day.needed.day.spans if span.first == task.id}
    for thing, at in wants.items():
        resource = day.needed.day.resources.get(thing)
        owner = _gives_back(day, thing, at, task.id)
        if owner is not None and owner.id not in named and resource is not None and at > 0:
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
    for begin, pause in day.breaks:
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
