"""What is said of a day that begins before dawn or ends in the night, and what mends it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta

from vatside.dayline.laid_day import EARLIEST, LaidDay, lay_day
from vatside.dayline.line.model import NoPlanError
from vatside.dayline.line.planning import AT_ONCE
from vatside.dayline.steps import Step
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet, Stage
from vatside.units import show_minutes

LATEST, USUAL = timedelta(hours=22), timedelta(hours=8)
"""Nobody goes on after this hour; and when a day begins for which none is wanted. Ours."""
WORTH_SAYING = 30.0
"""Minutes; what spares less is not named. Ours."""
ROUNDED_TO = timedelta(minutes=5)


def long_day(plan: Plan, sheet: Sheet, steps: Sequence[Step], day: LaidDay) -> str:
    """Say when a day begins and ends that does not fit between five and ten, and what mends it; empty if it does.

    `steps` are those of the whole day, none done, as `day` has them laid. A day without a wanted hour begins at eight.
    """
    begin, end = day.at(0), day.at(day.laid.end)
    if day.wanted is None:
        shift = _midnight(begin) + USUAL - begin
        begin, end = begin + shift, end + shift
    midnight = _midnight(begin if day.wanted is None else _ready(day))
    if midnight + EARLIEST <= begin and end <= midnight + LATEST:
        return ""
    takes = show_minutes((end - begin) / timedelta(minutes=1))
    days = (end.date() - begin.date()).days
    ends = f"{end:%H:%M}{'' if not days else ' of the next day' if days == 1 else f' {days} days later'}"
    sentence = f"From the first step until all is done it takes {takes}: begun at {begin:%H:%M} it ends at {ends}."
    late = end - midnight - LATEST
    *ways, last = (*_without_scour(plan, sheet, steps, day), *_earlier(day, late), *_parted(day)) or ("",)
    return f"{sentence} {'; or '.join((*ways, last)).capitalize()}." if last else sentence


def _ready(day: LaidDay) -> datetime:
    return day.at(day.ready or 0)


def _without_scour(plan: Plan, sheet: Sheet, steps: Sequence[Step], day: LaidDay) -> Iterator[str]:
    """Name what the scour costs the day beyond what goes on beside it."""
    rest = tuple(step for step in steps if step.stage is not Stage.SCOUR)
    try:
        other = lay_day(plan, sheet, rest, day.begin, zone=day.zone, evaluations=AT_ONCE)
    except NoPlanError:
        return
    spared = day.laid.end - other.laid.end
    if spared >= WORTH_SAYING:
        yield f"scoured the day before, or bought ready scoured, it takes {show_minutes(spared)} less"


def _earlier(day: LaidDay, late: timedelta) -> Iterator[str]:
    """Name the hour by which the vat is to be wanted, where that does not begin before dawn."""
    if day.wanted is None or late <= timedelta(0):
        return
    earlier = -(-late // ROUNDED_TO) * ROUNDED_TO
    if day.begin - earlier >= _midnight(_ready(day)) + EARLIEST:
        hour = day.at(day.wanted) - earlier
        yield f"want the vat by {hour:%H:%M}, {show_minutes(earlier / timedelta(minutes=1))} earlier"


def _parted(day: LaidDay) -> Iterator[str]:
    """Two days, where the dips and the finish are most of one: the vat stands covered over night."""
    after = timedelta(minutes=day.laid.end - (day.ready or 0))
    days, words = -(-after // (LATEST - USUAL)), show_minutes(after / timedelta(minutes=1))
    if days > 1:
        yield f"make the vat on one day and dip on the next {days}: that takes {words}"
    elif after > (LATEST - USUAL) / 2:
        yield f"make the vat on one day and dip on the next: that takes {words}"


def _midnight(time: datetime) -> datetime:
    return time.replace(hour=0, minute=0, second=0, microsecond=0)
