"""A laid day some time later: what goes on is held, what has to move is moved, and a sentence says so."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from datetime import datetime, timedelta, tzinfo

from attrs import evolve

from vatside.dayline.going import Going
from vatside.dayline.hours import Hours
from vatside.dayline.laid_day import LaidDay, dated, lay_day, tonight
from vatside.dayline.line.model import HANDS, Day, NoPlanError
from vatside.dayline.line.model import Plan as Laid
from vatside.dayline.line.planning import AT_ONCE, EVALUATIONS, hold, replan
from vatside.dayline.needed import Needed, needed
from vatside.dayline.steps import Step
from vatside.plan.hours import on_wall, wanted_at
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.units import show_count, show_minutes


def day_under_way(
    plan: Plan,
    sheet: Sheet,
    steps: Sequence[Step],
    began: datetime,
    now: datetime,
    going: Going,
    *,
    zone: tzinfo | None = None,
    evaluations: int = EVALUATIONS,
) -> LaidDay:
    """A day that `began` today and of which no laying is known: laid as it was then, and held since.

    The same plan comes to the same laying, so a day that is opened again goes on with its own times, and lunch is taken
    once. A day that began on another date is laid from now on.
    """  # fmt: skip
    if on_wall(began, zone).date() == on_wall(now, zone).date():
        with suppress(NoPlanError):
            before = lay_day(plan, sheet, steps, began, zone=zone, evaluations=evaluations)
            return held_day(before, plan, sheet, steps, now, going, evaluations=AT_ONCE)
    return lay_day(plan, sheet, steps, now, going, zone=zone, evaluations=evaluations)


WORTH_SAYING = 2
"""Steps that move by less, in minutes, are not told: ours."""


WORTH_MOVING = 10
"""Minutes that another plan must save before it takes the place of the one that is followed: ours."""


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
    plan, going = _lunch_taken(stopped, dated(plan, wanted_at(plan, now, before.zone)), going, begin)
    hours = Hours(plan, begin, before.zone)
    wanted, home = hours.minute(plan.ready_by), hours.minute(plan.place.home_by)

    def held(stays_up: int) -> LaidDay:
        needs = needed(plan, sheet, steps, begin, going, before.zone, stays_up)
        laid = hold(needs.day, _shifted(before, needs, passed))
        return LaidDay(begin, before.zone, needs, laid, wanted, home, stopped)

    day = tonight(held)
    return evolve(day, laid=_shorter(day.needed.day, day.laid, evaluations)) if evaluations else day


def _shorter(day: Day, kept: Laid, evaluations: int) -> Laid:
    """Another plan if that is so much better that it is worth moving what she counts on; else the one that is kept."""
    other = replan(day, kept, evaluations)
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


def _shifted(before: LaidDay, needs: Needed, passed: int) -> Laid:
    """The old plan with now as minute 0; its rounds numbered from the next one on, lunch where it can begin now."""
    old = before.laid
    breaks = [
        min((place for place in pause.places if place >= begin - passed), default=pause.latest)
        for begin, pause in zip(old.breaks, needs.day.breaks, strict=False)
    ]
    return evolve(
        old,
        starts={name: old.starts[task] - passed for task, name in _names(before, needs).items()},
        nudges={task: tuple(minute - passed for minute in minutes) for task, minutes in old.nudges.items()},
        breaks=tuple(breaks),
    )


def _names(before: LaidDay, needs: Needed) -> dict[str, str]:
    """What each task of before is called now: rounds of dips are numbered from the next one on."""
    old, new = list(before.needed.rounds), list(needs.rounds)
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
    way = "later" if moved > 0 else "sooner"
    first = f"{step.text.partition(';')[0].partition(':')[0]}: {show_minutes(abs(moved))} {way}"
    more = f", and {show_count(len(later) - 1, 'more step')}" if len(later) > 1 else ""
    return f"{first}{more}; {end_words(before, after)}."


def away(day: LaidDay) -> list[tuple[int, int]]:
    """From when to when nobody at all is there, besides the breaks that are planned."""
    hands = day.needed.day.resources[HANDS]
    return [(begin, end) for begin, end, count in hands.away if count >= hands.units and begin < day.laid.end]


def end_words(before: LaidDay, after: LaidDay) -> str:
    """`all done 17:42, not 17:20`, or that it is as before."""
    was, ends = (f"{day.at(day.laid.end):%H:%M}" for day in (before, after))
    return f"all done {ends}, not {was}" if ends != was else f"all done {ends} as before"
