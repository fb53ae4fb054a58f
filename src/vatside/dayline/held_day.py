"""A laid day some time later: what goes on is held, what has to move is moved, and a sentence says so."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from datetime import datetime, timedelta, tzinfo
from functools import partial

from attrs import evolve, frozen

from vatside.dayline.easing import Ease, at_all
from vatside.dayline.going import Going
from vatside.dayline.hours import Hours
from vatside.dayline.laid_day import LaidDay, dated, lay_day, minutes_after, tonight
from vatside.dayline.line.model import HANDS, NoPlanError
from vatside.dayline.line.model import Plan as Laid
from vatside.dayline.line.planning import AT_ONCE, EVALUATIONS, hold, replan
from vatside.dayline.needed import Needed, needed
from vatside.dayline.no_sooner import fresh, not_soaked
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
SLIPPED = 12
"""Evaluations for a held day that slips by as much: what is held alone goes round a lunch by hours. A longer search
gains little more, by our trials."""


@frozen
class Followed:
    """What a day is held to: a plan that was laid before, and nothing else of it."""

    begin: datetime
    zone: tzinfo | None
    starts: Mapping[str, int]
    """In minutes from the beginning, as all that follows."""
    rounds: Sequence[str]
    nudges: Mapping[str, Sequence[int]]
    breaks: Sequence[tuple[int, int]]
    """Minute and length of each break, one that has begun before minute 0 included."""
    units: Mapping[int, int]

    def at(self, minute: float) -> datetime:
        """A minute on the wall."""
        return minutes_after(self.begin, minute, self.zone)


def followed(day: LaidDay) -> Followed:
    """What a day is held to once this plan is followed."""
    breaks = [(begin, pause.minutes) for begin, pause in day.breaks]
    if day.stopped is not None:
        since, minutes = day.stopped
        breaks.insert(0, (int((since - day.begin) / timedelta(minutes=1)), minutes))
    laid = day.laid
    return Followed(day.begin, day.zone, laid.starts, tuple(day.needed.rounds), laid.nudges, breaks, laid.units)


def held_day(
    before: LaidDay | Followed,
    plan: Plan,
    sheet: Sheet,
    steps: Sequence[Step],
    now: datetime,
    going: Going,
    *,
    evaluations: int = 0,
) -> LaidDay:
    """The day as it was laid, from now on; with `evaluations` a shorter one is looked for from there.

    Nothing is begun earlier than it was to, unless that saves ten minutes, or what would stand too long or be late: a
    day that slips is looked at so even without. A lunch that was taken is not taken again.
    """
    before = before if isinstance(before, Followed) else followed(before)
    passed = int((now - before.begin) / timedelta(minutes=1))
    begin = on_wall(before.at(passed), before.zone)
    stopped = _stopped(before, passed)
    plan, going = _lunch_taken(stopped, dated(plan, wanted_at(plan, now, before.zone)), going, begin)
    hours = Hours(plan, begin, before.zone)
    wanted, home = hours.minute(plan.ready_by), hours.minute(plan.place.home_by)

    def held(ease: Ease, stays_up: int) -> LaidDay:
        needs = ease(needed(plan, sheet, steps, begin, going, before.zone, stays_up))
        laid = not_soaked(needs, hold(needs.day, _shifted(before, needs, passed)))
        return LaidDay(begin, before.zone, needs, laid, wanted, home, stopped)

    day = at_all(lambda ease: tonight(partial(held, ease)), begun=going.begun)
    evaluations = max(evaluations, SLIPPED if _slips(day, _shifted(before, day.needed, passed)) else 0)
    return shorter(day, evaluations) if evaluations else day


def _slips(day: LaidDay, old: Laid) -> bool:
    """Tell whether a held day ends much later than it was to, or lets something stand too long."""
    tasks = (task for task in day.needed.day.tasks if task.id in old.starts)
    was = max((old.starts[task.id] + task.minutes for task in tasks if task.counts), default=day.laid.end)
    return day.laid.overrun > 0 or day.needed.kept is not None or day.laid.end >= was + WORTH_MOVING


def shorter(day: LaidDay, evaluations: int) -> LaidDay:
    """Another plan if it is so much better that it is worth moving what she counts on; else the day itself."""
    kept, needs = day.laid, day.needed
    other = not_soaked(needs, fresh(needs, replan(needs.day, kept, evaluations)))
    return evolve(day, laid=other, is_other=True) if _is_worth_it(kept, other) else day


def _is_worth_it(kept: Laid, other: Laid) -> bool:
    """Less stands too long, it comes in time or much less late, or the end is much sooner."""
    if other.overrun != kept.overrun:
        return other.overrun < kept.overrun
    if other.late != kept.late:
        return other.late <= (kept.late - WORTH_MOVING if other.late else kept.late)
    return other.end <= kept.end - WORTH_MOVING


def _stopped(before: Followed, passed: int) -> tuple[datetime, int] | None:
    """When lunch began, and how long it is."""
    return next(((before.at(begin), minutes) for begin, minutes in before.breaks if begin < passed), None)


def _lunch_taken(stopped: tuple[datetime, int] | None, plan: Plan, going: Going, begin: datetime) -> tuple[Plan, Going]:
    """Lunch that has begun is an absence, and none is planned any more."""
    if stopped is None:
        return plan, going
    since, minutes = stopped
    left = minutes - int((begin - since) / timedelta(minutes=1))
    if left > 0:
        going = evolve(going, absences=(*going.absences, (0, left, plan.place.people)))
    return evolve(plan, place=evolve(plan.place, lunch=0)), going


def _shifted(before: Followed, needs: Needed, passed: int) -> Laid:
    """The old plan with now as minute 0; its rounds numbered from the next one on, lunch where it can begin now."""
    coming = [begin for begin, _ in before.breaks if begin >= passed]
    breaks = [
        min((place for place in pause.places if place >= begin - passed), default=pause.latest)
        for begin, pause in zip(coming, needs.day.breaks, strict=False)
    ]
    return Laid(
        {name: before.starts[task] - passed for task, name in _names(before, needs).items()},
        {task: tuple(minute - passed for minute in minutes) for task, minutes in before.nudges.items()},
        tuple(breaks),
        dict(before.units),
        0, 0, 0,
    )  # fmt: skip


def _names(before: Followed, needs: Needed) -> dict[str, str]:
    """What each task of before is called now: rounds of dips are numbered from the next one on."""
    old, new = list(before.rounds), list(needs.rounds)
    dipped = max(len(old) - len(new), 0)
    names = {task: task for task in before.starts if task not in old}
    return names | dict(zip(old[dipped:], new, strict=False))


def what_moved(before: LaidDay, after: LaidDay, least: int = WORTH_SAYING) -> str:
    """What a change did to the rest of the day, in one sentence; empty if nothing moved by `least` minutes."""
    starts = {name: before.laid.starts[task] for task, name in _names(followed(before), after.needed).items()}
    later: list[_Moved] = []
    sooner: list[_Moved] = []
    for task in after.needed.day.tasks:
        if task.id in after.needed.day.running or task.id not in starts:
            continue
        moved = (after.at(after.laid.starts[task.id]) - before.at(starts[task.id])) / timedelta(minutes=1)
        if abs(moved) >= least:
            (later if moved > 0 else sooner).append((after.laid.starts[task.id], moved, after.needed.steps[task.id]))
    if not later and not sooner:
        return ""
    ways = sorted(((later, "later"), (sooner, "sooner")), key=lambda each: -len(each[0]))
    return f"{''.join(_moved_words(ways))}; {end_words(before, after)}."


_Moved = tuple[int, float, Step]
"""When a step begins now, by how many minutes that is later, and the step."""


def _moved_words(ways: Sequence[tuple[Sequence[_Moved], str]]) -> Iterator[str]:
    """The first step of the way that most go, how many go with it, and how many go the other way."""
    (most, way), (others, other_way) = ways
    _, moved, step = min(most, key=lambda each: each[0])
    yield f"{step.text.partition(';')[0].partition(':')[0]}: {show_minutes(abs(moved))} {way}"
    yield f", and {show_count(len(most) - 1, 'more step')}" if len(most) > 1 else ""
    yield f", {show_count(len(others), 'step')} {other_way}" if others else ""


def away(day: LaidDay) -> list[tuple[int, int]]:
    """From when to when nobody at all is there, besides the breaks that are planned."""
    hands = day.needed.day.resources[HANDS]
    return [(begin, end) for begin, end, count in hands.away if count >= hands.units and begin < day.laid.end]


def end_words(before: LaidDay, after: LaidDay) -> str:
    """`all done 17:42, not 17:20`, or that it is as before; of another date than today's with its weekday."""
    today, moments = after.begin.date(), (day.at(day.laid.end) for day in (before, after))
    was, ends = (f"{moment:%H:%M}" if moment.date() == today else f"{moment:%H:%M (%a)}" for moment in moments)
    return f"all done {ends}, not {was}" if ends != was else f"all done {ends} as before"
