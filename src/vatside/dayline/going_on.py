"""A laid day as the clock goes on: its times are kept, and only what has to move moves; what moved, in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta, tzinfo

from attrs import evolve

from vatside.dayline.acts import Deed, deeds
from vatside.dayline.day_words import briefly, clock_at, has_more, words_of
from vatside.dayline.laid_day import LaidDay, whole_minute
from vatside.dayline.line.model import Day
from vatside.dayline.line.model import Plan as Laid
from vatside.dayline.line.planning import AT_ONCE, hold, latest, replan
from vatside.dayline.need.going import Going
from vatside.dayline.need.hours import Hours
from vatside.dayline.need.needed import Needed, needed
from vatside.dayline.steps import Step
from vatside.dayline.wall_clock import on_wall
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.units import show_count, show_minutes

#: Minutes that another plan must save before it takes the place of one that is being followed: ours.
WORTH = 10
#: Minutes by which something must move before it is said: ours.
SAID = 3


def go_on(
    old: LaidDay,
    plan: Plan,
    sheet: Sheet,
    steps: Sequence[Step],
    now: datetime,
    going: Going,
    zone: tzinfo | None = None,
    evaluations: int = AT_ONCE,
) -> LaidDay:
    """The day from now on, held to its old times; another one only where that saves much. Raises NoPlanError."""
    begin = on_wall(whole_minute(now), zone)
    gone = round((begin - old.begin) / timedelta(minutes=1))
    stopped, plan, going = _break(old, plan, going, begin, gone)
    need = needed(plan, sheet, steps, begin, going, zone)
    laid = _kept(need.day, _later(need.day, old.laid, _names(old, need), gone), evaluations)
    hours = Hours(plan, begin, zone)
    home, wanted = hours.minute(plan.place.home_by), hours.minute(plan.ready_by)
    until = laid.end if home is None else max(laid.end, home)
    return LaidDay(begin, zone, need, laid, wanted, home, latest(need.day, laid, until), stopped)


def _kept(day: Day, old: Laid, evaluations: int) -> Laid:
    held = hold(day, old)
    other = replan(day, held, evaluations)
    better = other.value[:2] < held.value[:2] or (other.value[:2] == held.value[:2] and other.end <= held.end - WORTH)
    return other if better else held


def _names(old: LaidDay, need: Needed) -> dict[str, str]:
    """What each old task is called now: rounds of dips are numbered from the next one on."""
    before, after = list(old.needed.rounds), list(need.rounds)
    dipped = max(len(before) - len(after), 0)
    names = {task: task for task in old.laid.starts if task not in old.needed.rounds}
    return names | dict(zip(before[dipped:], after, strict=False))


def _later(day: Day, old: Laid, names: Mapping[str, str], gone: int) -> Laid:
    """The old plan with its minutes counted from `gone` minutes later, its breaks at the places that there are now."""
    breaks = [
        min(pause.places, key=lambda place, at=begin - gone: (place < at, abs(place - at)))  # type: ignore[misc]
        for begin, pause in zip(old.breaks, day.breaks, strict=False)
    ]
    nudges = {name: tuple(minute - gone for minute in minutes) for name, minutes in old.nudges.items()}
    starts = {name: old.starts[task] - gone for task, name in names.items()}
    return evolve(old, starts=starts, nudges=nudges, breaks=tuple(breaks), end=old.end - gone)


def _break(
    old: LaidDay, plan: Plan, going: Going, begin: datetime, gone: int
) -> tuple[tuple[datetime, int] | None, Plan, Going]:
    """A break that began as planned is not taken a second time, and goes on for as long as it does."""
    stopped = old.stopped
    if stopped is None and old.laid.breaks and old.laid.breaks[0] < gone:
        stopped = (old.at(old.laid.breaks[0]), old.needed.day.breaks[0].minutes)
    if stopped is None:
        return None, plan, going
    since, minutes = stopped
    left = minutes - round((begin - since) / timedelta(minutes=1))
    if left > 0:
        going = evolve(going, absences=(*going.absences, (0, left, max(plan.place.people, 1))))
    return stopped, evolve(plan, place=evolve(plan.place, lunch=0)), going


# --- what moved ---------------------------------------------------------------


def what_moved(old: LaidDay, new: LaidDay) -> str:
    """Say what stands otherwise than before, and what that does to the end; empty where next to nothing does."""
    before = {name: old.laid.starts[task] for task, name in _names(old, new.needed).items()}
    shifts = [(_minutes(old, before[deed.task], new, deed), deed) for deed in deeds(new) if deed.task in before]
    later = [(by, deed) for by, deed in shifts if by >= SAID]
    sooner = [(by, deed) for by, deed in shifts if by <= -SAID]
    said = [part for part in (_group(new, later, "later"), _group(new, sooner, "sooner")) if part]
    end = round((new.at(new.laid.end) - old.at(old.laid.end)) / timedelta(minutes=1))
    if abs(end) >= SAID and has_more(new):
        word = "later" if end > 0 else "sooner"
        said.append(f"all done {clock_at(new, new.laid.end)}, {show_minutes(abs(end))} {word}")
    text = "; ".join(said)
    return f"{text[:1].upper()}{text[1:]}." if text else ""


def _minutes(old: LaidDay, start: int, new: LaidDay, deed: Deed) -> int:
    return round((new.at(deed.at) - old.at(start)) / timedelta(minutes=1))


def _group(day: LaidDay, moved: Sequence[tuple[int, Deed]], word: str) -> str:
    """`Stir the vat 10:40, 12 min later, and 4 steps after it`."""
    if not moved:
        return ""
    by, deed = moved[0]
    others = len(moved) - 1
    rest = f", and {show_count(others, 'step')} after it" if others else ""
    return f"{briefly(words_of(deed))} {clock_at(day, deed.at)}, {show_minutes(abs(by))} {word}{rest}"
