"""When to begin: the day laid out backwards from the hour at which the vat is wanted."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta, tzinfo

from attrs import define, field, frozen

from vatside.dayline.after_the_day import afterwards
from vatside.dayline.steps import Step
from vatside.dayline.wall_clock import moment_of, on_wall
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage

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
