"""A day that begins before dawn or ends in the night: when, and what to change by how much."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from vatside.dayline.schedule import Schedule, schedule
from vatside.dayline.steps import Step
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.units import show_minutes

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
    ends = f"{end:%H:%M}{'' if end.date() == begin.date() else ' of the next day'}"
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
