"""The clock of a class: when each step comes as the day is laid, or when it was done; the break, and the end."""

from __future__ import annotations

import re
from collections.abc import Container, Sequence
from datetime import datetime, timedelta, tzinfo
from itertools import groupby, pairwise

from attrs import evolve, frozen

from vatside.dayline.day_steps import GENTLE, ROTATE, steps
from vatside.dayline.day_words import IN_A_ROW, Deed, briefly, deeds
from vatside.dayline.going import NOT_BEGUN
from vatside.dayline.laid_day import LaidDay, lay_day
from vatside.dayline.line.model import NoPlanError
from vatside.dayline.line.planning import EVALUATIONS
from vatside.dayline.steps import Step
from vatside.dayline.warn import USUAL
from vatside.dips.entry_rule import rests
from vatside.log.state import State
from vatside.log.waits import Moment, after
from vatside.outlook.session_day import day_of, going_of, passed_of
from vatside.plan.grouping import gathered
from vatside.plan.hours import moment_of, on_wall, wanted_at
from vatside.plan.measures import fibre_of, plant_after
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet, Stage
from vatside.units import show_minutes

RESTED = timedelta(hours=12)
"""A day that nobody touched for so long is told as it stood then. Ours."""
TEACHERS = ("dip.raise", "dip.warm", "dip.strip", "dip.protein_first", "dip.cover")
"""Steps of the dips that are done once for all tables, at the one vat."""


@frozen
class Timed:
    """One step on the clock."""

    step: Step
    at: datetime | None = None
    """When it begins, or was done; None where the day cannot be laid."""
    until: datetime | None = None
    """When its wait is over, or the last piece is out."""
    again: tuple[datetime, ...] = ()
    """When it comes again: further rounds of dips, further loads of a pot."""
    done: bool = False
    passed: bool = False
    """Nobody ticked it, and it has become pointless: it has no hour."""

    @property
    def hands_free(self) -> datetime | None:
        """When the hands are free of it."""
        return None if self.at is None else self.at + timedelta(minutes=self.step.hands_min)


@frozen
class ClassDay:
    """The whole day of a class."""

    steps: tuple[Timed, ...]
    """In the order of the clock."""
    wanted: datetime | None
    laid: LaidDay | None
    problem: str = ""
    """Why it has no hours."""

    @property
    def begins(self) -> datetime | None:
        """When the first step does."""
        return next((each.at for each in self.steps if each.at is not None), None)

    def clock(self, at: datetime | None) -> str:
        """Print an hour; of another date with its weekday, of a day without a date with its number."""
        day = self.wanted or self.begins
        if at is None or day is None:
            return ""
        apart = (at.date() - day.date()).days
        if not apart:
            return f"{at:%H:%M}"
        laid = self.laid
        if self.wanted is None and laid is not None and laid.home is None and not laid.needed.day.running:
            return f"day {apart + 1} {at:%H:%M}"
        return f"{at:%a %H:%M}" if abs(apart) < len("MTWTFSS") else f"{at:%a} {at.day} {at:%b %H:%M}"


def is_teachers(step: Step) -> bool:
    """Tell what is the teacher's: the one stock and vat, and whatever lye goes into."""
    if step.stage in (Stage.STOCK, Stage.VAT) or step.id in TEACHERS:
        return True
    return any(item.id == "lye" for item in step.cautions)


def class_day(
    state: State, sheet: Sheet, now: datetime, zone: tzinfo | None = None, evaluations: int = EVALUATIONS
) -> ClassDay:
    """Lay the day of a state, as everywhere; hours of a day whose own is past lead up to it.

    A day without one begins at eight, or when its plan says; one that is under way is held to what is followed.
    """
    plan, day = state.plan, steps(state.plan, sheet)
    moment = None if state.last is None else _stands(state.last, now)
    goes_on = moment is not None and going_of(state, moment, rests(sheet)) != NOT_BEGUN
    at = moment.utc if moment is not None and goes_on else now
    wanted = wanted_at(plan, at, zone)
    try:
        if moment is not None and goes_on:
            laid = day_of(state, plan, sheet, day, moment, zone, evaluations)
        else:
            laid = _to_come(plan, sheet, day, now, wanted, zone, evaluations)
    except NoPlanError as error:
        return ClassDay(_timed(state, sheet, day, None, zone), wanted, None, f"{error}")
    return ClassDay(_timed(state, sheet, day, laid, zone), wanted, laid)


def _to_come(
    plan: Plan,
    sheet: Sheet,
    day: Sequence[Step],
    now: datetime,
    wanted: datetime | None,
    zone: tzinfo | None,
    evaluations: int,
) -> LaidDay:
    """A day that is not begun: as everywhere as long as its hour is to come, else from a moment that leads up to it."""
    if wanted is not None and wanted > now:
        return lay_day(plan, sheet, day, now, zone=zone, evaluations=evaluations)
    plan, at = _apart(plan, day, now, wanted, zone)
    return lay_day(plan, sheet, day, at, zone=zone, evaluations=evaluations)


def _stands(last: Moment, now: datetime) -> Moment:
    """The moment of the clock, or the last one of a log that rests."""
    gone = now - last.utc if now.tzinfo is not None else timedelta(0)
    return after(last, gone.total_seconds()) if timedelta(0) < gone < RESTED else last


def _apart(
    plan: Plan, day: Sequence[Step], now: datetime, wanted: datetime | None, zone: tzinfo | None
) -> tuple[Plan, datetime]:
    """The plan with its hour dated, and a moment from which that is in reach."""
    if wanted is None:
        wall = on_wall(now, zone).replace(tzinfo=None)
        eight = wall.replace(hour=0, minute=0, second=0, microsecond=0) + USUAL
        home = plan.place.home_by or ""
        if "T" in home and datetime.fromisoformat(home) > wall:
            day_of_end = datetime.fromisoformat(home).replace(hour=0, minute=0) + USUAL
            return plan, now if day_of_end < wall else moment_of(day_of_end, now, zone)
        return plan, moment_of(eight if eight >= wall else eight + timedelta(days=1), now, zone)
    dated = evolve(plan, ready_by=wanted.replace(tzinfo=None).isoformat(timespec="minutes"))
    longest = timedelta(days=1, minutes=sum(step.hands_min + (step.minutes or 0.0) for step in day))
    return dated, min(now, wanted - longest)


def _timed(
    state: State, sheet: Sheet, day: Sequence[Step], laid: LaidDay | None, zone: tzinfo | None
) -> tuple[Timed, ...]:
    """Every step at its hour; what was done at that of the log. Without hours they stay in the order of the stages."""
    coming = gathered((deed.step.id, deed) for deed in (deeds(laid) if laid else ()))
    over = passed_of(state, sheet, day)
    timed = [
        _dips(step, state, zone) if step.id in (ROTATE, GENTLE) and step.id in {*over, *state.done}
        else Timed(step, passed=True) if step.id in over
        else _one(step, state, laid, coming.get(step.id, []), zone)
        for step in day
    ]  # fmt: skip
    if laid is None and not state.done:
        return tuple(timed)
    latest = max(each.at for each in timed if each.at is not None) if any(each.at for each in timed) else None
    return tuple(sorted(timed, key=lambda each: (each.at is None, each.at or latest)))


def _dips(step: Step, state: State, zone: tzinfo | None) -> Timed:
    """The dips as they were; where nobody timed one, when they were ticked."""
    parted = plant_after(state.plan) is not None
    lots = {
        lot.id for lot in state.plan.lots if not parted or (fibre_of(lot).group == "cellulose") == (step.id == ROTATE)
    }
    went = dipped_between(state, lots, zone)
    if went is None and step.id in state.done:
        return _one(step, state, None, (), zone)
    return Timed(step, *went, done=True) if went else Timed(step, passed=True)


def dipped_between(state: State, lots: Container[str], zone: tzinfo | None) -> tuple[datetime, datetime] | None:
    """When the first piece of some lots went in and the last one came out; None where nobody timed a dip."""
    stays = [stay for stay in state.dipping.entered if stay.end and stay.piece.rpartition(".")[0] in lots]
    ends = [stay.end.utc for stay in stays if stay.end]
    return (on_wall(min(stay.start.utc for stay in stays), zone), on_wall(max(ends), zone)) if stays else None


def _one(step: Step, state: State, laid: LaidDay | None, coming: Sequence[Deed], zone: tzinfo | None) -> Timed:
    if step.id in state.done and not coming:
        began = [wait.started for wait in state.past_waits if wait.step == step.id]
        return Timed(step, on_wall((began[0] if began else state.done[step.id]).utc, zone), done=True)
    if laid is None:
        return Timed(step)
    if not coming:
        return _running(step, laid)
    waits = any(deed.round or deed.end > deed.hands_end for deed in coming)
    until = laid.at(max(deed.end for deed in coming)) if waits else None
    return Timed(step, laid.at(coming[0].at), until, tuple(laid.at(deed.at) for deed in coming[1:]))


def _running(step: Step, laid: LaidDay) -> Timed:
    """A step whose wait is on; or one that the day line does not lay, which has no hour."""
    tasks = [task for task in laid.needed.day.tasks if laid.needed.steps[task.id].id == step.id]
    if not tasks:
        return Timed(step)
    starts = laid.laid.starts
    return Timed(
        step,
        laid.at(min(starts[task.id] for task in tasks)),
        laid.at(max(starts[task.id] + task.minutes for task in tasks)),
    )


_COUNTED = re.compile(r" \((?:bath|load) \d+\)$")
"""How a step says which bath or load it is of."""


def uncounted(text: str) -> str:
    """A step's sentence without which bath or load it is of."""
    return _COUNTED.sub("", text)


def together(day: Sequence[Timed]) -> tuple[Timed, ...]:
    """Put steps together that are the same but for their bath or load: once, with when it comes again."""
    alike: dict[tuple[str, str], list[Timed]] = {}
    for each in day:
        name = each.step.id.rstrip("0123456789") if uncounted(each.step.text) != each.step.text else each.step.id
        alike.setdefault((name, uncounted(each.step.text)), []).append(each)
    return tuple(some[0] if len(some) == 1 else _as_one(some) for some in alike.values())


def _as_one(some: Sequence[Timed]) -> Timed:
    first = some[0].step
    step = evolve(first, text=uncounted(first.text), wait_label=first.wait_label.rstrip("0123456789 "))
    again = tuple(at for each in some for at in (each.at, *each.again) if at is not None)[1:]
    ends = [each.until for each in some if each.until is not None]
    done, passed = (all(getattr(each, name) for each in some) for name in ("done", "passed"))
    return Timed(step, some[0].at, max(ends, default=None), again, done, passed)


@frozen
class Row:
    """One line of the times."""

    at: str
    text: str
    numbers: str = ""
    """Of the steps on page two; empty for what is none."""
    teacher: bool = False
    done: bool = False


def rows(day: ClassDay, shown: Sequence[Timed], words: dict[str, str]) -> tuple[Row, ...]:
    """Give the day by the clock: steps in a row as one line, with the break, the vat ready and the end between them.

    `shown` are the steps that have a number, in their order; `words` what each says at the tables, by its id.
    """
    made = [_row(day, run, words) for run in _runs(shown) if not run[0][1].passed]
    extra = _between(day)
    if day.laid is None:
        return tuple(row for _, row in made)
    far = max(at for at, _ in (*extra, *made) if at is not None)
    in_order = sorted((*extra, *made), key=lambda item: (item[0] or far, item[1].text.startswith(ALL_DONE)))
    return tuple(row for _, row in in_order)


def _runs(shown: Sequence[Timed]) -> list[list[tuple[int, Timed]]]:
    """Numbered steps of one stage and of the same hands that follow each other at once."""
    runs: list[list[tuple[int, Timed]]] = []
    for number, each in enumerate(shown, start=1):
        last = runs[-1][-1][1] if runs else None
        if last is not None and _follows(last, each):
            runs[-1].append((number, each))
        else:
            runs.append([(number, each)])
    return runs


def _follows(last: Timed, each: Timed) -> bool:
    kinds = [(item.step.stage, is_teachers(item.step), item.done, item.passed) for item in (last, each)]
    if kinds[0] != kinds[1] or last.until is not None or each.again or last.again:
        return False
    if last.hands_free is None or each.at is None:
        return last.at is each.at
    return each.at <= last.hands_free + timedelta(minutes=IN_A_ROW)


def _row(day: ClassDay, run: Sequence[tuple[int, Timed]], words: dict[str, str]) -> tuple[datetime | None, Row]:
    first, last = run[0], run[-1]
    numbers = f"{first[0]}" if first is last else f"{first[0]}–{last[0]}"
    waits = last[1].step.wait_label
    told = [_begins(first[1], words)] if first is not last or not waits else []
    told += [waits.lower() if told else waits] if waits else []
    text = f"{', then '.join(told)}{_until(day, last[1])}"
    teacher = is_teachers(first[1].step)
    return first[1].at, Row(day.clock(first[1].at), text, numbers, teacher, first[1].done)


ALL_DONE = "All done"
LEAST_SAID = 12
"""Letters below which a beginning says too little. Ours."""


def _begins(each: Timed, words: dict[str, str]) -> str:
    """What a step begins with; of the dips, who goes in."""
    text = words[each.step.id]
    if each.step.id in (ROTATE, GENTLE):
        return text.partition(":")[0]
    start = briefly(text)
    return start if len(start) >= LEAST_SAID else f"{start}{text[len(start)]}{briefly(text[len(start) + 1 :])}"


MOST_AGAIN = 6
"""Further rounds that a line names. Ours."""


def _until(day: ClassDay, each: Timed) -> str:
    """Say when it comes again, and when it is over; the date only where it is another than the one before."""
    shown = [each.at, *each.again[:MOST_AGAIN], each.until]
    clocks = [
        day.clock(at) if before is None or at is None or at.date() != before.date() else f"{at:%H:%M}"
        for before, at in pairwise(shown)
    ]
    *named, over = clocks
    more = f" and {len(each.again) - MOST_AGAIN} more" if len(each.again) > MOST_AGAIN else ""
    again = f", again {', '.join(named)}{more}" if named else ""
    return f"{again}, until {over}" if over else again


def _between(day: ClassDay) -> list[tuple[datetime | None, Row]]:
    """What is no step: when everybody stops, when the vat is ready, when all is done."""
    laid = day.laid
    if laid is None:
        return []
    moments = [(laid.at(at), f"Everybody stops for {show_minutes(pause.minutes)}") for at, pause in laid.breaks]
    if laid.ready is not None:
        late = day.wanted is not None and laid.at(laid.ready) > day.wanted
        wanted = f", wanted by {day.clock(day.wanted)}" if late else ""
        moments.append((laid.at(laid.ready), f"The vat is ready{wanted}"))
    ended = all(each.done or each.passed for each in day.steps)
    moments += [] if ended else [(laid.at(laid.laid.end), f"{ALL_DONE}{_by(day, laid)}")]
    return [(at, Row(day.clock(at), text)) for at, text in moments]


def _by(day: ClassDay, laid: LaidDay) -> str:
    return "" if laid.home is None else f", wanted by {day.clock(laid.at(laid.home))}"


def by_stage(shown: Sequence[Timed]) -> list[tuple[Stage, bool, tuple[Step, ...]]]:
    """Give the steps stage by stage as they begin, the tables' apart from the teacher's."""
    order = list(dict.fromkeys((each.step.stage, is_teachers(each.step)) for each in shown))
    ranked = sorted(shown, key=lambda each: order.index((each.step.stage, is_teachers(each.step))))
    grouped = groupby(ranked, key=lambda each: (each.step.stage, is_teachers(each.step)))
    return [(stage, teacher, tuple(each.step for each in some)) for (stage, teacher), some in grouped]
