"""A day laid out on the clock: when each step begins, when the vat is ready, when all is done; and held as it goes on.

A day that has not begun and has a wanted hour is laid backwards from it, checked forwards: it begins as late as still
lets the vat be ready. One under way, or without a wanted hour, is laid from now on. Later the old plan is held, what
has to move is moved, and a sentence says so.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from datetime import UTC, datetime, timedelta, tzinfo

from attrs import evolve, frozen

from vatside.dayline.going import NOT_BEGUN, Going
from vatside.dayline.line.model import HANDS, Day, NoPlanError
from vatside.dayline.line.model import Plan as Laid
from vatside.dayline.line.planning import AT_ONCE, EVALUATIONS, hold, latest, plan, replan
from vatside.dayline.needed import Hours, Needed, needed
from vatside.dayline.schedule import EARLIEST, wanted_at
from vatside.dayline.steps import Step
from vatside.dayline.wall_clock import on_wall
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.units import show_count, show_minutes

#: A day begins on a full five minutes.
ROUND = 5
#: How often a beginning is moved earlier, as lunch and absences lie elsewhere then.
TRIES = 4


@frozen
class LaidDay:
    """A plan of the day line on the clock. Minutes are counted from `begin`."""

    begin: datetime
    zone: tzinfo | None
    needed: Needed
    laid: Laid
    wanted: int | None
    """The minute by which the vat is wanted."""
    home: int | None
    """The minute by which all is to be done."""
    latest: Mapping[str, int]
    """How late each task that is to come may begin, if the others keep their times."""
    stopped: tuple[datetime, int] | None = None
    """When everybody stopped for the break, and for how many minutes; None: not yet."""

    def at(self, minute: float) -> datetime:
        """A minute on the wall; lengths are counted between moments."""
        if self.begin.tzinfo is None:
            return self.begin + timedelta(minutes=minute)
        return on_wall(self.begin.astimezone(UTC) + timedelta(minutes=minute), self.zone)

    @property
    def ready(self) -> int | None:
        """The minute at which the vat is ready; None where it is, or where none is made."""
        name = self.needed.ready
        if name is None or name in self.needed.day.running:
            return None
        length = next(task.minutes for task in self.needed.day.tasks if task.id == name)
        return self.laid.starts[name] + length

    @property
    def spare(self) -> int | None:
        """Minutes in hand until the hour that is wanted first to be missed, below zero: late; None: none is wanted."""
        found = [self.wanted - self.ready] if self.wanted is not None and self.ready is not None else []
        found += [self.home - self.laid.end] if self.home is not None else []
        return min(found, default=None)


def lay_day(
    plan_: Plan,
    sheet: Sheet,
    steps: Sequence[Step],
    now: datetime,
    going: Going = NOT_BEGUN,
    *,
    zone: tzinfo | None = None,
    evaluations: int = EVALUATIONS,
) -> LaidDay:
    """The day from now on, or from the latest sensible start. Raises NoPlanError for what cannot be done."""
    wanted = wanted_at(plan_, now, zone)
    first = on_wall(whole_minute(now), zone)

    def need(begin: datetime) -> Needed:
        return needed(plan_, sheet, steps, begin, going.later(_minutes(first, begin) or 0), zone)

    def laid(begin: datetime) -> LaidDay:
        found = need(begin)
        home = Hours(plan_, begin, zone).minute(plan_.place.home_by)
        return LaidDay(begin, zone, found, plan(found.day, evaluations), _minutes(begin, wanted), home, {})

    begun = going.begun
    day = laid(first if wanted is None or begun else _latest_begin(need, first, wanted, evaluations))
    day = day if begun else _home_in_time(laid, day, first, plan_)
    until = day.laid.end if day.home is None else max(day.laid.end, day.home)
    return evolve(day, latest=latest(day.needed.day, day.laid, until))


def _home_in_time(laid: Callable[[datetime], LaidDay], day: LaidDay, first: datetime, plan_: Plan) -> LaidDay:
    """The day begun earlier where it would end too late; nobody begins before five unless an hour is named."""
    tries = 0
    while day.home is not None and day.laid.end > day.home and tries < TRIES:
        dawn = day.begin.replace(hour=0, minute=0) + EARLIEST
        begin = max(first, dawn if plan_.place.not_before is None else first, _earlier(day.at(day.home), day.laid.end))
        if begin >= day.begin:
            return day
        day, tries = laid(begin), tries + 1
    return day


def _latest_begin(need: Callable[[datetime], Needed], first: datetime, wanted: datetime, evaluations: int) -> datetime:
    """The latest full five minutes from which the vat is ready in time; `first` where that is not to be had."""
    ready, tries = _soonest(need(first), evaluations // 3), 0
    if ready is None:
        return first
    begin = max(first, _earlier(wanted, ready))
    while begin > first and tries < TRIES:
        ready = _soonest(need(begin), evaluations // 3)
        if ready is None or begin + timedelta(minutes=ready) <= wanted:
            return begin
        begin, tries = max(first, _earlier(wanted, ready)), tries + 1
    return begin


def _soonest(found: Needed, evaluations: int) -> int | None:
    """The minute at which the vat can be ready if nothing else matters."""
    name = found.ready
    if name is None:
        return None
    tasks = tuple(evolve(task, due=task.minutes if task.id == name else None) for task in found.day.tasks)
    laid = plan(evolve(found.day, tasks=tasks), evaluations)
    return laid.starts[name] + next(task.minutes for task in tasks if task.id == name)


def _earlier(wanted: datetime, minutes: int) -> datetime:
    """So many minutes before, and back to full five."""
    moment = wanted - timedelta(minutes=minutes)
    return moment.replace(second=0, microsecond=0) - timedelta(minutes=moment.minute % ROUND)


def whole_minute(moment: datetime) -> datetime:
    """Up to a whole minute."""
    whole = moment.replace(second=0, microsecond=0)
    return whole if whole == moment else whole + timedelta(minutes=1)


def _minutes(begin: datetime, moment: datetime | None) -> int | None:
    return None if moment is None else round((moment - begin) / timedelta(minutes=1))


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
