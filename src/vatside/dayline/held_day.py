"""A laid day some time later: the old plan held, what has to move moved, and the sentence that says so."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from attrs import evolve

from vatside.dayline.dye_steps import ROTATE
from vatside.dayline.laid_day import LaidDay
from vatside.dayline.line.model import Plan as Laid
from vatside.dayline.line.planning import hold, latest, replan
from vatside.dayline.need.going import Going
from vatside.dayline.need.hours import Hours
from vatside.dayline.need.needed import needed
from vatside.dayline.steps import Step
from vatside.dayline.wall_clock import on_wall
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.units import show_minutes

#: Steps that move by less are not told: ours.
WORTH_SAYING = 2


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

    Nothing is begun earlier than it was to, unless it is looked for. A lunch that was taken is not taken again.
    """
    passed = int((now - before.begin) / timedelta(minutes=1))
    begin = on_wall(before.at(passed), before.zone)
    plan, going = _lunch_taken(before, plan, going, passed)
    found = needed(plan, sheet, steps, begin, going, before.zone)
    old = _shifted(before, passed, len(found.rounds))
    laid = replan(found.day, old, evaluations) if evaluations else hold(found.day, old)
    wanted = None if before.wanted is None else before.wanted - passed
    home = Hours(plan, begin, before.zone).minute(plan.place.home_by)
    until = laid.end if home is None else max(laid.end, home)
    return evolve(
        before, begin=begin, needed=found, laid=laid, wanted=wanted, home=home, latest=latest(found.day, laid, until)
    )


def _lunch_taken(before: LaidDay, plan: Plan, going: Going, passed: int) -> tuple[Plan, Going]:
    """Lunch that has begun is an absence, and none is planned any more."""
    for begin, pause in zip(before.laid.breaks, before.needed.day.breaks, strict=True):
        if begin < passed:
            left = (0, begin + pause.minutes - passed, plan.place.people)
            plan = evolve(plan, place=evolve(plan.place, lunch=0))
            going = evolve(going, absences=(*going.absences, left)) if left[1] > 0 else going
    return plan, going


def _shifted(before: LaidDay, passed: int, rounds: int) -> Laid:
    """The old plan with now as minute 0; its rounds numbered from the next one on."""
    gone = len(before.needed.rounds) - rounds
    old = before.laid

    def name(task: str) -> str:
        number = task.removeprefix(f"{ROTATE}#")
        return f"{ROTATE}#{int(number) - gone}" if number.isdigit() else task

    return evolve(
        old,
        starts={name(task): start - passed for task, start in old.starts.items()},
        nudges={task: tuple(minute - passed for minute in minutes) for task, minutes in old.nudges.items()},
        breaks=tuple(begin - passed for begin in old.breaks if begin >= passed),
    )


def what_moved(before: LaidDay, after: LaidDay) -> str:
    """What a change did to the rest of the day, in one sentence; empty if nothing to speak of."""
    later = []
    for task in after.needed.day.tasks:
        if task.id in after.needed.day.running or task.id not in before.laid.starts:
            continue
        moved = (after.at(after.laid.starts[task.id]) - before.at(before.laid.starts[task.id])) / timedelta(minutes=1)
        if abs(moved) >= WORTH_SAYING:
            later.append((after.laid.starts[task.id], moved, after.needed.steps[task.id]))
    if not later:
        return ""
    _, moved, step = min(later, key=lambda each: each[0])
    count = len(later)
    way = "later" if moved > 0 else "sooner"
    first = f"{step.text.partition(';')[0].partition(':')[0]}: {show_minutes(abs(moved))} {way}"
    more = f", and {count - 1} more" if count > 1 else ""
    return f"{first}{more}; all done {after.at(after.laid.end):%H:%M}, not {before.at(before.laid.end):%H:%M}."
