"""When to begin: the day laid backwards from the hour at which the vat is wanted, and forwards after it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime, timedelta, tzinfo

from attrs import define, field, frozen

from vatside.dayline.steps import Step
from vatside.dayline.wall_clock import moment_of, on_wall
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.units import show_minutes


@define
class _HandsAfter:
    """Minutes after ready during which the dyer's hands are taken."""

    taken: list[tuple[float, float]] = field(factory=list)

    def take(self, begin: float, length: float) -> float:
        """Take `length` minutes that begin at `begin` or later; give where they begin."""
        for low, high in sorted(self.taken):
            if begin < high and low < begin + length:
                begin = high
        if length:
            self.taken.append((begin, begin + length))
        return begin


def afterwards(steps: Iterable[Step], left: Mapping[str, float]) -> dict[str, float]:
    """Give the minutes after ready at which each step of Dip and Finish begins.

    The dips come one after the other; then the fibres are finished side by side, as one pair of hands allows, and so is
    the vat. `left` gives minutes still to go for steps whose wait is running.
    """
    steps = tuple(steps)
    hands, begins = _HandsAfter(), dict[str, float]()
    end = _chain_after((step for step in steps if step.stage is Stage.DIP), 0.0, hands, begins, left)
    finish = [step for step in steps if step.stage is Stage.FINISH]
    for group in dict.fromkeys(step.group for step in finish):
        _chain_after((step for step in finish if step.group == group), end, hands, begins, left)
    return begins


def _chain_after(
    steps: Iterable[Step], begin: float, hands: _HandsAfter, begins: dict[str, float], left: Mapping[str, float]
) -> float:
    """Lay one chain of steps from `begin` on; give where it ends."""
    for step in steps:
        if step.id in left:
            begins[step.id] = begin
            begin += max(left[step.id], 0.0)
            continue
        begins[step.id] = hands.take(begin, step.hands_min)
        begin = begins[step.id] + step.hands_min + (step.minutes or 0.0)
    return begin


LATE_GRACE = timedelta(hours=6)
"""A clock time without a date that passed less than this ago means today, not tomorrow."""
VAT_FINISH = ("vat.stock_in", "vat.rest_covered", "vat.look")
"""Steps of the vat that need the stock; the ones before can go on while the stock rests."""


@frozen
class Schedule:
    """Start times of every step that is still to do, in local time."""

    ready: datetime
    """When the vat will be ready if each step starts at its time: the wanted hour, or later if that is out of reach."""
    starts: Mapping[str, datetime]
    in_hand: timedelta
    """Time until the first step must begin; negative: the vat will be late by so much."""
    wanted: datetime | None
    """When the dyer wants it."""
    is_ready: bool = False
    """No step of the vat is left to do."""

    @property
    def first(self) -> datetime:
        """When the first step that is still to do begins."""
        return min(self.starts.values(), default=self.ready)


def wanted_at(plan: Plan, now: datetime, zone: tzinfo | None = None) -> datetime | None:
    """Turn the plan's `ready_by` into a local time near `now`; None if the plan leaves it open."""
    if plan.ready_by is None:
        return None
    if "T" in plan.ready_by:
        return moment_of(datetime.fromisoformat(plan.ready_by), now, zone)
    hour, minute = (int(part) for part in plan.ready_by.split(":"))
    today = on_wall(now, zone).replace(tzinfo=None, hour=hour, minute=minute, second=0, microsecond=0)
    wanted = moment_of(today, now, zone)
    return wanted if wanted > now - LATE_GRACE else moment_of(today + timedelta(days=1), now, zone)


def schedule(
    plan: Plan,
    steps: Iterable[Step],
    now: datetime,
    left: Mapping[str, float] | None = None,
    zone: tzinfo | None = None,
) -> Schedule:
    """Lay the steps out so that the vat is ready in time, with one pair of hands and one scour pot.

    `now` is a moment, shown on the wall of `zone` or of the machine's own; without an offset it is a wall where no
    clocks change. `left` gives minutes still to go for steps whose wait is running; steps
    that are done are left out of `steps` by the caller. Without a wanted hour, or once it is out of reach, the first
    step begins now.
    """
    wanted, steps = wanted_at(plan, now, zone), tuple(steps)
    minutes = _backwards(steps, left or {})
    longest = max(minutes.values(), default=0.0)
    soonest = on_wall(on_wall(now, zone) + timedelta(minutes=longest), zone)
    ready = max(wanted or soonest, soonest)
    away = {step_id: -before for step_id, before in minutes.items()} | afterwards(steps, left or {})
    starts = {step_id: on_wall(ready + timedelta(minutes=after), zone) for step_id, after in away.items()}
    in_hand = (wanted or soonest) - soonest
    return Schedule(ready, starts, in_hand, wanted, not any(step.stage is Stage.VAT for step in steps))


@define
class _Hands:
    """Minutes before ready during which the dyer's hands are taken."""

    taken: list[tuple[float, float]] = field(factory=list)

    def take(self, end: float, length: float) -> float:
        """Take `length` minutes that are over `end` minutes before ready or earlier; give where they begin."""
        begin = end + length
        for low, high in sorted(self.taken):
            if low < begin and end < high:
                end, begin = high, high + length
        if length:
            self.taken.append((end, begin))
        return begin


def _backwards(steps: tuple[Step, ...], left: Mapping[str, float]) -> dict[str, float]:
    """Minutes before ready at which each step begins."""
    hands = _Hands()
    begins: dict[str, float] = {}
    finish = [step for step in steps if step.id in VAT_FINISH]
    prepare = [step for step in steps if step.stage is Stage.VAT and step.id not in VAT_FINISH]
    stock = [step for step in steps if step.stage is Stage.STOCK]
    scour = [step for step in steps if step.stage is Stage.SCOUR]
    joined = _chain(finish, 0.0, hands, begins, left)
    _chain(stock, joined, hands, begins, left)
    _chain(prepare, joined, hands, begins, left)
    _chain(scour, 0.0, hands, begins, left)
    return begins


def _chain(
    steps: Iterable[Step], end: float, hands: _Hands, begins: dict[str, float], left: Mapping[str, float]
) -> float:
    """Lay one chain of steps backwards from `end` minutes before ready; give where it begins."""
    for step in reversed(tuple(steps)):
        if step.id in left:
            end += max(left[step.id], 0.0)
            begins[step.id] = end
            continue
        end = hands.take(end + (step.minutes or 0.0), step.hands_min)
        begins[step.id] = end
    return end


EARLIEST, LATEST, USUAL = timedelta(hours=5), timedelta(hours=22), timedelta(hours=8)
"""Nobody begins before, or goes on after, these hours; and when a day begins for which none is wanted. Ours."""
NEXT_DAY = ("dry", "rub", "weigh")
"""Steps of the finish that wait until the fibre is dry."""
WORTH_SAYING = 30.0
"""Minutes; what spares less is not named. Ours."""
ROUNDED_TO = timedelta(minutes=5)


def long_day(plan: Plan, steps: Iterable[Step], day: Schedule) -> str:
    """Say when a day begins and ends that does not fit between five and ten, and what mends it; empty if it does.

    `steps` are those of the whole day, none done, as `day` lays them out. A day without a wanted hour begins at eight.
    """
    steps = tuple(steps)
    begin, end = day.first, _end(steps, day)
    if day.wanted is None:
        shift = _midnight(begin) + USUAL - begin
        begin, end = begin + shift, end + shift
    midnight = _midnight(begin if day.wanted is None else day.ready)
    if midnight + EARLIEST <= begin and end <= midnight + LATEST:
        return ""
    takes = show_minutes((end - begin) / timedelta(minutes=1))
    days = (end.date() - begin.date()).days
    later = "" if not days else " of the next day" if days == 1 else f" {days} days later"
    ends = f"{end:%H:%M}{later}"
    said = f"From the first step to the last rinse it takes {takes}: begun at {begin:%H:%M} it ends at {ends}."
    *ways, last = _ways(plan, steps, day, end - midnight - LATEST) or ("",)
    return f"{said} {'; or '.join((*ways, last)).capitalize()}." if last else said


def _ways(plan: Plan, steps: tuple[Step, ...], day: Schedule, late: timedelta) -> tuple[str, ...]:
    return (*_without_scour(plan, steps, day), *_earlier(day, late), *_parted(steps, day))


def _without_scour(plan: Plan, steps: tuple[Step, ...], day: Schedule) -> Iterator[str]:
    """Name what the scour costs the day beyond what goes on beside it."""
    rest = tuple(step for step in steps if step.stage is not Stage.SCOUR)
    spared = _length(steps, day) - _length(rest, schedule(plan, rest, day.first))
    if spared >= WORTH_SAYING:
        yield f"scoured the day before, or bought ready scoured, it takes {show_minutes(spared)} less"


def _earlier(day: Schedule, late: timedelta) -> Iterator[str]:
    """Name the hour by which the vat is to be wanted, where that does not begin before dawn."""
    if day.wanted is None or late <= timedelta(0):
        return
    earlier = -(-late // ROUNDED_TO) * ROUNDED_TO
    if day.first - earlier >= _midnight(day.ready) + EARLIEST:
        yield f"want the vat by {day.ready - earlier:%H:%M}, {show_minutes(earlier / timedelta(minutes=1))} earlier"


def _parted(steps: tuple[Step, ...], day: Schedule) -> Iterator[str]:
    """Two days, where the dips and the finish are most of one: the vat stands covered over night."""
    after = _end(steps, day) - day.ready
    days, words = -(-after // (LATEST - USUAL)), show_minutes(after / timedelta(minutes=1))
    if days > 1:
        yield f"make the vat on one day and dip on the next {days}: that takes {words}"
    elif after > (LATEST - USUAL) / 2:
        yield f"make the vat on one day and dip on the next: that takes {words}"


def _length(steps: tuple[Step, ...], day: Schedule) -> float:
    return (_end(steps, day) - day.first) / timedelta(minutes=1)


def _end(steps: Iterable[Step], day: Schedule) -> datetime:
    """When the last fibre hangs up to dry; the end of the vat can wait."""
    ends = (
        day.starts[step.id] + timedelta(minutes=step.hands_min + (step.minutes or 0.0))
        for step in steps
        if step.id in day.starts and _is_of_the_day(step)
    )
    return max(ends, default=day.ready)


def _is_of_the_day(step: Step) -> bool:
    if step.stage is Stage.FINISH:
        return bool(step.group) and step.id.count(".") > 1 and step.id.rpartition(".")[2] not in NEXT_DAY
    return step.stage is Stage.DIP


def _midnight(time: datetime) -> datetime:
    return time.replace(hour=0, minute=0, second=0, microsecond=0)
