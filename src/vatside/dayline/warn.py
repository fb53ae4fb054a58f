"""What is to be said of a laid day before it is too late: whether it fits, what stands too long, dawn and night."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress
from datetime import datetime, timedelta
from enum import StrEnum
from itertools import groupby

from attrs import frozen

from vatside.dayline.day_words import briefly, clock_at, is_long_past
from vatside.dayline.easing import lacking
from vatside.dayline.hours import DUSK, STAYS_UP
from vatside.dayline.laid_day import EARLIEST, LaidDay, after_nights, lay_day
from vatside.dayline.lanes import busy
from vatside.dayline.line.model import NoPlanError
from vatside.dayline.line.planning import AT_ONCE
from vatside.dayline.no_sooner import ONE_MORE_LOOK
from vatside.dayline.steps import Step
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet, Stage
from vatside.units import show_count, show_minutes

#: And for every minute of hands to come so much: ours.
SLOWER = 0.05


class Fit(StrEnum):
    """How a laid day stands to the hours that are wanted."""

    FREE = "no hour is wanted"
    FITS = "fits"
    TIGHT = "tight"
    LATE = "late"
    PAST = "long past"


@frozen
class Outlook:
    """How it stands, minutes in hand (below zero: late) and the minutes that had better be in hand."""

    fit: Fit
    spare: int | None
    buffer: int
    sentences: tuple[str, ...]


def buffer_of(day: LaidDay) -> int:
    """Minutes that had better be in hand: one more look while a stock or vat may ask for it, and slower hands."""
    to_come = any(name.endswith(".look") and name not in day.needed.day.running for name in day.laid.starts)
    return round((ONE_MORE_LOOK if to_come else 0) + SLOWER * sum(busy(day)))


def outlook(day: LaidDay) -> Outlook:
    """Whether the day fits; late only where the laid plan ends after a wanted hour, never by a sum of lengths."""
    spare, buffer = day.spare, buffer_of(day)
    if spare is None:
        fit = Fit.FREE
    elif spare < 0:
        fit = Fit.PAST if is_long_past(day.wanted) or is_long_past(day.home) else Fit.LATE
    else:
        fit = Fit.FITS if spare >= buffer else Fit.TIGHT
    said = (*_said(day, fit, spare or 0, buffer), *_past_ten(day), *_over_night(day))
    return Outlook(fit, spare, buffer, (*_lacking(day), *_left_standing(day), *_unanswered(day), *said))


def _past_ten(day: LaidDay) -> Iterator[str]:
    """That the day is done a little after ten at night, where no hour of the plan is as late."""
    end = day.at(day.laid.end)
    over = round((end - end.replace(hour=DUSK.hour, minute=DUSK.minute)) / timedelta(minutes=1))
    dusk = day.laid.end - over
    is_asked_for = any(hour is not None and hour > dusk for hour in (day.wanted, day.home))
    if 0 < over <= STAYS_UP and dusk > 0 and not is_asked_for:
        yield f"All is done at {end:%H:%M}: stopped at {DUSK:%H:%M}, it would go on in the morning."


def _over_night(day: LaidDay) -> Iterator[str]:
    """That the day does not end before a night, or some, and what is done first after it."""
    for first, nights in groupby(after_nights(day), key=lambda night: night[2]):
        (a, b, _), *more = nights
        dusk, dawn, goes_on = (clock_at(day, minute) for minute in (a, b, day.laid.starts[first]))
        count = f"{len(more) + 1} nights, the first of them" if more else "a night: nobody works"
        step = briefly(day.needed.steps[first].text)
        yield f"It goes on after {count} from {dusk} to {dawn}, then {goes_on} {step}."


def _said(day: LaidDay, fit: Fit, spare: int, buffer: int) -> Iterator[str]:
    if fit is Fit.TIGHT:
        left = f"{show_minutes(spare)} in hand" if spare else "nothing in hand"
        more = f"one more look at stock or vat and slower hands take {show_minutes(buffer)}"
        begin = f" Begin by {clock_at(day, spare - buffer)} to have those {show_minutes(buffer)}."
        is_past = day.soonest is not None and day.at(spare - buffer) < day.soonest
        yield f"It is tight, with {left}: {more}.{'' if is_past or day.needed.day.running else begin}"
    elif fit is Fit.LATE:
        yield f"It comes {show_minutes(-spare)} late as it is laid out."
    elif fit is Fit.PAST:
        yield "The hour that is wanted is long past: set another one, or none."


def soonest_words(day: LaidDay) -> str:
    """The hour that can be met of those that are missed: `The earliest that can be met is 10:45 for the vat.`."""
    missed = []
    if day.wanted is not None and day.ready is not None and day.ready > day.wanted:
        missed.append(f"{clock_at(day, day.ready)} for the vat")
    if day.home is not None and day.laid.end > day.home:
        missed.append(f"{clock_at(day, day.laid.end)} for the end")
    return f"The earliest that can be met is {' and '.join(missed)}." if missed else ""


def _unanswered(day: LaidDay) -> Iterator[str]:
    """Every wait with a nudge that no hands are there for."""
    for name, minutes in day.laid.nudges.items():
        step = day.needed.steps[name]
        if any(minute < 0 for minute in minutes):
            yield f"{step.wait_label}: nobody is there to {step.nudges[-1].label}."


def _lacking(day: LaidDay) -> Iterator[str]:
    """What there is too little of for what is under way, and from when."""
    for thing, count, since, there in lacking(day.needed, day.laid):
        wanted = f"{show_count(count, thing)} are wanted {f'from {clock_at(day, since)} on' if since else 'now'}"
        yield f"With what is under way {wanted}, and there {'is' if there == 1 else 'are'} {there}."


LOOKED_AT = {"stock.look": "Stock", "vat.look": "Vat"}
"""What stands after a step that is a look at it, by that step."""


def _left_standing(day: LaidDay) -> Iterator[str]:
    """Every limit that will be missed: what stands, by how much."""
    starts, steps = day.laid.starts, day.needed.steps
    for link in (day.needed.kept or day.needed.day).links:
        if link.most is None or link.last in day.needed.day.running:
            continue
        over = starts[link.last] - starts[link.first] - link.most
        if over > 0:
            step = steps[link.first]
            name = step.wait_label or LOOKED_AT.get(step.id) or step.text.partition(":")[0].partition(";")[0]
            yield f"{name}: stands {show_minutes(over)} longer than is good for it."


LATEST, USUAL = timedelta(hours=22), timedelta(hours=8)
"""Nobody goes on after this hour; and when a day begins for which none is wanted. Ours."""
WORTH_SAYING = 30.0
"""Minutes; what spares less is not named. Ours."""
ROUNDED_TO = timedelta(minutes=5)


def long_day(plan: Plan, sheet: Sheet, steps: Sequence[Step], day: LaidDay) -> str:
    """Say when a day begins and ends that does not fit between five and ten, and what mends it; empty if it does.

    `steps` are those of the whole day, none done, as `day` has them laid. A day without a wanted hour begins at eight.
    """
    if day.wanted is None and list(after_nights(day)):
        with suppress(NoPlanError):  # so short a look may find no order from eight on: then it is told as it is laid
            day = lay_day(plan, sheet, steps, _midnight(day.begin) + USUAL, zone=day.zone, evaluations=AT_ONCE)
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
    """Name the hour by which the vat is to be wanted, where that begins neither before dawn nor in the past."""
    if day.wanted is None or late <= timedelta(0):
        return
    earlier = -(-late // ROUNDED_TO) * ROUNDED_TO
    dawn = _midnight(_ready(day)) + EARLIEST
    if day.begin - earlier >= max(dawn, day.soonest or dawn):
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
