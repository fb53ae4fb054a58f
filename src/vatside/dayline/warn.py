"""What is to be said of a laid day before it is too late: whether it fits, by how much, and what stands too long."""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum

from attrs import frozen

from vatside.dayline.day_words import briefly, clock_at, is_long_past
from vatside.dayline.laid_day import ONE_MORE_LOOK, LaidDay
from vatside.dayline.lanes import busy
from vatside.units import show_minutes

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
    sentences = (*_left_standing(day), *_unanswered(day), *_said(day, fit, spare or 0, buffer), *_over_night(day))
    return Outlook(fit, spare, buffer, sentences)


def _over_night(day: LaidDay) -> Iterator[str]:
    """That the day does not end before a night, and what is done first after it."""
    starts = day.laid.starts
    for a, b in day.needed.nights:
        worked = [task.id for task in day.needed.day.tasks if task.uses and starts[task.id] >= b]
        if worked and a < day.laid.end:
            first = min(worked, key=lambda name: starts[name])
            dusk, dawn, goes_on = (clock_at(day, minute) for minute in (a, b, starts[first]))
            step = briefly(day.needed.steps[first].text)
            yield f"It goes on after a night: nobody works from {dusk} to {dawn}, then {goes_on} {step}."


def _said(day: LaidDay, fit: Fit, spare: int, buffer: int) -> Iterator[str]:
    if fit is Fit.TIGHT:
        left = f"{show_minutes(spare)} in hand" if spare else "nothing in hand"
        more = f"one more look at stock or vat and slower hands take {show_minutes(buffer)}"
        begin = f" Begin by {clock_at(day, spare - buffer)} to have those {show_minutes(buffer)}."
        yield f"It is tight, with {left}: {more}.{'' if day.needed.day.running else begin}"
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


def _left_standing(day: LaidDay) -> Iterator[str]:
    """Every limit that what is under way will miss: what stands, by how much."""
    starts, steps = day.laid.starts, day.needed.steps
    for link in day.needed.day.links:
        if link.most is None or link.first not in day.needed.day.running or link.last in day.needed.day.running:
            continue
        over = starts[link.last] - starts[link.first] - link.most
        if over > 0:
            step = steps[link.first]
            name = step.wait_label or step.text.partition(":")[0].partition(";")[0]
            yield f"{name}: stands {show_minutes(over)} longer than is good for it."
