"""A day laid out on the clock: when each step begins, when the vat is ready, when all is done, and what is in hand.

A day that has not begun and has a wanted hour is laid backwards from it, checked forwards: it begins as late as still
lets the vat be ready. One under way, or without a wanted hour, is laid from now on.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from datetime import UTC, datetime, timedelta, tzinfo
from functools import cache, cached_property, partial

from attrs import evolve, frozen

from vatside.dayline.easing import Ease, at_all
from vatside.dayline.going import NOT_BEGUN, Going
from vatside.dayline.hours import STAYS_UP, Hours
from vatside.dayline.line.model import HANDS, Break, Day, NoPlanError
from vatside.dayline.line.model import Plan as Laid
from vatside.dayline.line.planning import EVALUATIONS, as_due, is_same, latest, plan, replan
from vatside.dayline.needed import Needed, needed
from vatside.dayline.no_sooner import SHARES, fresh, not_soaked
from vatside.dayline.steps import Step
from vatside.plan.hours import on_wall, wanted_at
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet

#: Whose hour is wanted: that of the vat, or that of the dyer.
VAT, HOME = "vat", "all done"
#: A day begins on a full five minutes.
ROUND = 5
#: How often a beginning is moved earlier, as lunch and absences lie elsewhere then.
TRIES = 4
#: The beginning is looked for with so many times fewer evaluations than the day that begins there.
LESS, FEW = 3, 12
#: From where no order of the steps keeps every limit the beginning is moved earlier by so many minutes: ours.
STEP_BACK = 30
#: Work that is left after a night is tried before it, up to so many times what there is time for: it may fit in waits.
LITTLE = 2
#: A day that has so many minutes in hand is tried with a later beginning; with a lunch any day is. Ours.
MUCH_IN_HAND = 30
#: Nobody begins before this hour, unless the plan names one. Ours.
EARLIEST = timedelta(hours=5)


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
    stopped: tuple[datetime, int] | None = None
    """When everybody stopped for the break, and for how many minutes; None: not yet."""
    is_other: bool = False
    """It is not the plan that it was held to any more, but a better one."""
    soonest: datetime | None = None
    """When a day that has not begun could begin at the soonest."""

    def at(self, minute: float) -> datetime:
        """A minute on the wall; lengths are counted between moments."""
        return minutes_after(self.begin, minute, self.zone)

    @property
    def ready(self) -> int | None:
        """The minute at which vat and fibre are ready and the first piece goes in; None where the vat is made.

        Where nothing is dipped it is the end of the vat's last step, and None where no vat is made.
        """
        return _ready_in(self.needed, self.laid)

    @property
    def breaks(self) -> Iterable[tuple[int, Break]]:
        """Each break that is to come, and the minute at which it begins."""
        return zip(self.laid.breaks, self.needed.day.breaks, strict=True)

    @cached_property
    def latest(self) -> Mapping[str, int]:
        """How late each task that is to come may begin, if the others keep their times."""
        until = self.laid.end if self.home is None else max(self.laid.end, self.home)
        return latest(self.needed.day, self.laid, until)

    @cached_property
    def starts(self) -> Mapping[str, datetime]:
        """When each step that is to come first begins, by the ids of the steps."""
        begins: dict[str, datetime] = {}
        for task, minute in sorted(self.laid.starts.items(), key=lambda item: item[1]):
            if task not in self.needed.day.running:
                begins.setdefault(self.needed.steps[task].id, self.at(minute))
        return begins

    @property
    def first_missed(self) -> tuple[str, int, int] | None:
        """Of the hours that are wanted the one missed first: whose it is, its minute, the minutes in hand."""
        margins = []
        if self.wanted is not None and self.ready is not None:
            margins.append((VAT, self.wanted, self.wanted - self.ready))
        if self.home is not None:
            margins.append((HOME, self.home, self.home - self.laid.end))
        return min(margins, key=lambda each: each[2], default=None)

    @property
    def spare(self) -> int | None:
        """Minutes in hand until the hour that is wanted first to be missed, below zero: late; None: none is wanted."""
        return self.first_missed[2] if self.first_missed else None


Lays = Callable[[Day], Laid]
"""Lays a day."""
Needs = Callable[[datetime], Needed]
"""Says what is to be laid of a day that begins then."""
OnClock = Callable[[datetime, Needed, Laid], LaidDay]
"""Puts what was laid on the clock from a moment on."""


def _ready_in(needs: Needed, laid: Laid) -> int | None:
    name = needs.ready
    if name is None:
        return None
    if name in needs.rounds:
        return laid.starts[name]
    return laid.starts[name] + next(task.minutes for task in needs.day.tasks if task.id == name)


def lay_day(
    plan_: Plan,
    sheet: Sheet,
    steps: Sequence[Step],
    now: datetime,
    going: Going = NOT_BEGUN,
    *,
    zone: tzinfo | None = None,
    evaluations: int = EVALUATIONS,
    like: LaidDay | None = None,
    keep: bool = False,
) -> LaidDay:
    """The day from now on, or from the latest sensible start. Raises NoPlanError for what cannot be done.

    The order of an older day that it is `like` is tried first: what goes on as it was is laid as it was. With `keep`
    that day stays where nothing has changed that is laid, as when a name is typed.
    """
    given = (plan_, sheet, steps, now, going, zone, evaluations, like, keep)
    return at_all(lambda ease: tonight(partial(_lay_day, *given, ease)), begun=going.begun)


def tonight(lays: Callable[[int], LaidDay]) -> LaidDay:
    """The day as `lays` has it, or at least its dips, done a little after dusk rather than in the morning: she is told.

    `lays` is given the minutes by which nights begin later.
    """
    try:
        day = lays(0)
        if not (_is_nearly_done(day) or _leaves_a_vat(day)):
            return day
    except NoPlanError:
        return lays(STAYS_UP)
    with suppress(NoPlanError):
        other = lays(STAYS_UP)
        better = not list(after_nights(other)) or (_leaves_a_vat(day) and not _leaves_a_vat(other))
        return other if better and other.laid.overrun <= day.laid.overrun else day
    return day


def _is_nearly_done(day: LaidDay) -> bool:
    """Tell whether a day goes over one night for so little work that it could be done before."""
    after = [dawn for _, dawn, _ in after_nights(day)]
    if len(after) != 1:
        return False
    starts, hands = day.laid.starts, day.needed.day.resources[HANDS]
    uses = [use for task in day.needed.day.tasks if starts[task.id] >= after[0] for use in task.uses]
    work = sum((use.until - use.since) * use.units for use in uses if use.resource == HANDS)
    return work <= LITTLE * STAYS_UP * hands.units


def _leaves_a_vat(day: LaidDay) -> bool:
    """Tell whether a vat that is made in the evening waits for its pieces until the morning."""
    starts, made = day.laid.starts, day.needed.vat
    at = 0 if made is None else starts[made]
    return any(at < dusk and starts[name] >= dawn for dusk, dawn, _ in after_nights(day) for name in day.needed.rounds)


def after_nights(day: LaidDay) -> Iterator[tuple[int, int, str]]:
    """Each night that the day goes on after: from when to when, and the task that is the first after it."""
    starts = day.laid.starts
    for a, b in day.needed.nights:
        worked = [task.id for task in day.needed.day.tasks if task.uses and starts[task.id] >= b]
        if worked and a < day.laid.end:
            yield a, b, min(worked, key=lambda name: starts[name])


def _lay_day(
    plan_: Plan,
    sheet: Sheet,
    steps: Sequence[Step],
    now: datetime,
    going: Going,
    zone: tzinfo | None,
    evaluations: int,
    like: LaidDay | None,
    keep: bool,
    ease: Ease,
    stays_up: int,
) -> LaidDay:
    wanted = wanted_at(plan_, now, zone)
    plan_ = dated(plan_, wanted)
    first = _first(plan_, on_wall(whole_minute(now), zone), zone, going)

    @cache
    def need(begin: datetime) -> Needed:
        return ease(needed(plan_, sheet, steps, begin, going.later(_minutes(first, begin) or 0), zone, stays_up))

    def found_for(day: Day, count: int = evaluations) -> Laid:
        return plan(day, count, like=like.laid if like else None)

    def on_clock(begin: datetime, work: Needed, laid: Laid) -> LaidDay:
        home = Hours(plan_, begin, zone).minute(plan_.place.home_by)
        return LaidDay(begin, zone, work, laid, _minutes(begin, wanted), home, soonest=first)

    def as_laid(begin: datetime, work: Needed, laid: Laid) -> LaidDay:
        return on_clock(begin, work, not_soaked(work, fresh(work, laid)))

    def laid(begin: datetime) -> LaidDay:
        needs = need(begin)
        return as_laid(begin, needs, found_for(needs.day))

    if going.begun:
        return laid(first)
    stands = _standing(like, need, on_clock, first if wanted is None else like.begin) if like and keep else None
    if stands is not None and stands.begin >= first:
        return stands
    if wanted is None:
        return _home_in_time(laid, laid(first), first, plan_)
    soon = _soonest(need(first), found_for)
    begin = first if soon is None else max(first, _earlier(wanted, soon[0]))
    day_needs = need(begin)
    if soon is not None and is_same(day_needs.day, need(first).day, soon[1].end):
        due, more = as_due(day_needs.day, soon[1]), evaluations // LESS
        due = replan(day_needs.day, due, more) if more else due  # laid to be ready soon, all may be done sooner yet
        return _home_in_time(laid, as_laid(begin, day_needs, due), first, plan_)
    quick = partial(found_for, count=max(evaluations // LESS, FEW))
    begin = _latest_begin(need, begin, first, wanted, quick)
    day = laid(begin) if stays_up else _later_begin(laid, laid(begin))
    return _home_in_time(laid, day, first, plan_)


def _first(plan: Plan, now: datetime, zone: tzinfo | None, going: Going) -> datetime:
    """The soonest beginning: now, or the hour before which nobody is to begin."""
    waits = 0 if going.begun else Hours(plan, now, zone).minute(plan.place.not_before) or 0
    return minutes_after(now, max(0, waits), zone)


def _standing(old: LaidDay, need: Needs, on_clock: OnClock, at: datetime) -> LaidDay | None:
    """The day as it was laid, `at` its beginning; None where anything that it was laid by is another."""
    day = on_clock(at, need(at), old.laid)
    same = (day.needed.day, day.wanted, day.home) == (old.needed.day, old.wanted, old.home)
    return day if same else None


def dated(plan: Plan, wanted: datetime | None) -> Plan:
    """The plan with its bare hour as one of the day for which it is `wanted`."""
    return plan if wanted is None else evolve(plan, ready_by=f"{wanted.replace(tzinfo=None):%Y-%m-%dT%H:%M}")


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


def _later_begin(laid: Callable[[datetime], LaidDay], day: LaidDay) -> LaidDay:
    """The day begun later by what is in hand, or by a part of it, if that keeps its hours and the nights.

    Lunch may lie better there, and a night leaves room for less than all.
    """
    for share in SHARES:
        by = int((day.spare or 0) * share) // ROUND * ROUND
        if by < MUCH_IN_HAND and not (by > 0 and day.needed.day.breaks):
            return day
        with suppress(NoPlanError):
            other = laid(day.begin + timedelta(minutes=by))
            in_time = other.laid.overrun == 0 and other.spare is not None and other.spare >= 0
            if in_time and len(list(after_nights(other))) <= len(list(after_nights(day))):
                return other
    return day


def _latest_begin(
    need: Callable[[datetime], Needed], begin: datetime, first: datetime, wanted: datetime, lays: Lays
) -> datetime:
    """The latest full five minutes found from which the vat is ready in time, looked for from `begin` on; else `first`.

    Lunch and absences lie elsewhere in a day that begins elsewhere, so one in time may begin still later.
    """
    latest_begin, tried = first, {first}
    while begin not in tried and len(tried) <= TRIES:
        tried.add(begin)
        minutes = _minutes(begin, wanted) or 0
        late = STEP_BACK
        with suppress(NoPlanError):
            soon = _soonest(need(begin), lays)
            late = soon[0] - minutes if soon else 0
        if late <= 0:
            latest_begin = max(latest_begin, begin)
        begin = max(latest_begin, _earlier(begin, late))
    return latest_begin


def _soonest(needs: Needed, lays: Lays) -> tuple[int, Laid] | None:
    """The minute at which the vat can be ready if that matters most, and the day laid so."""
    name = needs.ready
    if name is None:
        return None
    tasks = tuple(evolve(task, due=task.minutes if task.id == name else None) for task in needs.day.tasks)
    laid = lays(evolve(needs.day, tasks=tasks))
    ready = _ready_in(needs, laid)
    return None if ready is None else (ready, laid)


def _earlier(wanted: datetime, minutes: int) -> datetime:
    """So many minutes before, and back to full five."""
    moment = wanted - timedelta(minutes=minutes)
    return moment.replace(second=0, microsecond=0) - timedelta(minutes=moment.minute % ROUND)


def minutes_after(begin: datetime, minutes: float, zone: tzinfo | None) -> datetime:
    """So many minutes after a moment, on the wall."""
    if begin.tzinfo is None:
        return begin + timedelta(minutes=minutes)
    return on_wall(begin.astimezone(UTC) + timedelta(minutes=minutes), zone)


def whole_minute(moment: datetime) -> datetime:
    """Up to a whole minute."""
    whole = moment.replace(second=0, microsecond=0)
    return whole if whole == moment else whole + timedelta(minutes=1)


def _minutes(begin: datetime, moment: datetime | None) -> int | None:
    return None if moment is None else round((moment - begin) / timedelta(minutes=1))
