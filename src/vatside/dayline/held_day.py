"""A laid day some time later: the old plan held, what has to move moved, and the sentence that says so."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from attrs import evolve

from vatside.dayline.laid_day import LaidDay
from vatside.dayline.line.model import Day
from vatside.dayline.line.model import Plan as Laid
from vatside.dayline.line.planning import hold, latest, replan
from vatside.dayline.need.going import Going
from vatside.dayline.need.hours import Hours
from vatside.dayline.need.needed import Needed, needed
from vatside.dayline.steps import Step
from vatside.dayline.wall_clock import on_wall
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.units import show_minutes

#: Steps that move by less are not told: ours.
WORTH_SAYING = 2
#: Minutes that another plan must save before it takes the place of the one that is followed: ours.
WORTH_MOVING = 10


def held_day(
    before: LaidDay,
    plan: Plan,
    sheet: Sheet,
    steps: Sequence[Step],
    now: datetime,
    going: Going,
    *,
    evaluations: int = 0,
) -> LaidDay:
    """The day as it was laid, from now on; with `evaluations` a shorter one is looked for from there.

    Nothing is begun earlier than it was to, unless that saves ten minutes, or what would stand too long or be late. A
    lunch that was taken is not taken again.
    """
    passed = int((now - before.begin) / timedelta(minutes=1))
    begin = on_wall(before.at(passed), before.zone)
    stopped = _stopped(before, passed)
    plan, going = _lunch_taken(stopped, plan, going, begin)
    found = needed(plan, sheet, steps, begin, going, before.zone)
    laid = _held(found.day, _shifted(before, found, passed), evaluations)
    hours = Hours(plan, begin, before.zone)
    wanted, home = hours.minute(plan.ready_by), hours.minute(plan.place.home_by)
    until = laid.end if home is None else max(laid.end, home)
    return LaidDay(begin, before.zone, found, laid, wanted, home, latest(found.day, laid, until), stopped)


def _held(day: Day, old: Laid, evaluations: int) -> Laid:
    """The old plan, or one that is so much better that it is worth moving what she counts on."""
    kept = hold(day, old)
    other = replan(day, kept, evaluations) if evaluations else kept
    better = (other.overrun, other.late) < (kept.overrun, kept.late)
    same = (other.overrun, other.late) == (kept.overrun, kept.late)
    return other if better or (same and other.end <= kept.end - WORTH_MOVING) else kept


def _stopped(before: LaidDay, passed: int) -> tuple[datetime, int] | None:
    """When lunch began, and how long it is."""
    for begin, pause in zip(before.laid.breaks, before.needed.day.breaks, strict=True):
        if begin < passed:
            return before.at(begin), pause.minutes
    return before.stopped


def _lunch_taken(stopped: tuple[datetime, int] | None, plan: Plan, going: Going, begin: datetime) -> tuple[Plan, Going]:
    """Lunch that has begun is an absence, and none is planned any more."""
    if stopped is None:
        return plan, going
    since, minutes = stopped
    left = minutes - int((begin - since) / timedelta(minutes=1))
    if left > 0:
        going = evolve(going, absences=(*going.absences, (0, left, plan.place.people)))
    return evolve(plan, place=evolve(plan.place, lunch=0)), going


def _shifted(before: LaidDay, found: Needed, passed: int) -> Laid:
    """The old plan with now as minute 0; its rounds numbered from the next one on, lunch where it can begin now."""
    old = before.laid
    breaks = [
        min((place for place in pause.places if place >= begin - passed), default=pause.latest)
        for begin, pause in zip(old.breaks, found.day.breaks, strict=False)
    ]
    return evolve(
        old,
        starts={name: old.starts[task] - passed for task, name in _names(before, found).items()},
        nudges={task: tuple(minute - passed for minute in minutes) for task, minutes in old.nudges.items()},
        breaks=tuple(breaks),
    )


def _names(before: LaidDay, found: Needed) -> dict[str, str]:
    """What each task of before is called now: rounds of dips are numbered from the next one on."""
    old, new = list(before.needed.rounds), list(found.rounds)
    dipped = max(len(old) - len(new), 0)
    names = {task: task for task in before.laid.starts if task not in before.needed.rounds}
    return names | dict(zip(old[dipped:], new, strict=False))


def what_moved(before: LaidDay, after: LaidDay, least: int = WORTH_SAYING) -> str:
    """What a change did to the rest of the day, in one sentence; empty if nothing moved by `least` minutes."""
    starts = {name: before.laid.starts[task] for task, name in _names(before, after.needed).items()}
    later = []
    for task in after.needed.day.tasks:
        if task.id in after.needed.day.running or task.id not in starts:
            continue
        moved = (after.at(after.laid.starts[task.id]) - before.at(starts[task.id])) / timedelta(minutes=1)
        if abs(moved) >= least:
            later.append((after.laid.starts[task.id], moved, after.needed.steps[task.id]))
    if not later:
        return ""
    _, moved, step = min(later, key=lambda each: each[0])
    count = len(later)
    way = "later" if moved > 0 else "sooner"
    first = f"{step.text.partition(';')[0].partition(':')[0]}: {show_minutes(abs(moved))} {way}"
    more = f", and {count - 1} more" if count > 1 else ""
    return f"{first}{more}; all done {after.at(after.laid.end):%H:%M}, not {before.at(before.laid.end):%H:%M}."
