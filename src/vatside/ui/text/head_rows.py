"""The head of a screen: title, hour, what the vat says, and the line of stages."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from datetime import date, datetime, timedelta, tzinfo

from attrs import evolve, frozen

from vatside.bench.day_line import LaidJob
from vatside.bench.glance import Progress, WaitView, next_of_day
from vatside.dayline.day_words import in_hand as spare_words
from vatside.dayline.day_words import is_long_past
from vatside.dayline.laid_day import LaidDay
from vatside.dayline.steps import Step, stage_name
from vatside.log.events.vat import VatKept
from vatside.log.state import State, happened, waits_for
from vatside.outlook.vat_order import some_left
from vatside.plan.hours import clock_words, day_words, on_wall
from vatside.plan.sheet import CARE, DANGER, NOTE, Notice, Stage, Weight, gravest, severity
from vatside.ui.text.rows import Row, Signs, Span, clip, spread, wide_of
from vatside.units.show import clean

AT_ONCE = timedelta(minutes=1)
"""A day that begins so soon begins now."""


@frozen
class StageView:
    """One stage on the stage line."""

    stage: Stage
    done: int
    steps: int
    gravest: Weight | None
    """Of what there is to look out for in it."""
    far_off: bool = False
    """What is gravest is a danger of steps of a stage that is not begun: it is known, and calls for nothing yet."""
    own_name: str = ""
    """What it is called on this day; empty: as on every day."""
    passed: bool = False
    """What is left of it has become pointless and none of it was ticked: nothing is said to be done."""

    @property
    def finished(self) -> bool:
        """Every step is done."""
        return 0 < self.steps == self.done


def head_rows(
    title: str,
    stages: Sequence[StageView],
    current: Stage,
    time: Sequence[Span],
    width: int,
    signs: Signs,
    *,
    turns: bool,
) -> tuple[Row, ...]:
    """Print the two lines of the head; `turns` says that the arrows go from stage to stage now."""
    return (
        spread((Span(f" {clean(title)}", "strong"),), (*time, Span(" ")), width),
        stage_row(stages, current, width, signs, turns=turns),
    )


def marked(views: Sequence[StageView], refused: AbstractSet[Stage]) -> tuple[StageView, ...]:
    """Give the stages with a mark on each that has entries which cannot be read, unless it has a graver one."""
    return tuple(
        evolve(view, gravest=Weight.CARE, far_off=False)
        if view.stage in refused and (view.far_off or view.gravest is not Weight.DANGER)
        else view
        for view in views
    )


def standing_spans(standing: str) -> tuple[Span, ...]:
    """Say what is wrong for good, in place of the time."""
    return (Span(clip(f"{CARE.opening}{standing}", 50), CARE.ink),) if standing else ()


def time_spans(seen: LaidJob, *, over: bool, vat: str | None = None, wide: bool = True) -> tuple[Span, ...]:
    """Say when the vat is wanted and how much time is in hand; once it is made, what is said of `vat`, or that it is.

    A day other than today is named. When a day that is to come begins is said in place of what is in hand, unless that
    is late or the head is `wide` enough for both.
    """
    if over:
        return (Span("every step is done", "good"),)
    if vat is not None:
        return (_vat_span(vat),)
    day = seen.day
    if day is None:
        return (Span("no times: this day cannot be laid", "faint"),)
    today = on_wall(seen.asked.now.utc, day.zone).date()
    first = day.first_missed
    if first is None:
        return (Span(_ready(day, today), "faint"),)
    name, minute, spare = first
    if is_long_past(minute):
        return (Span("that hour is long past", "faint"),)
    same = day.at(minute).date()
    is_to_come = (wide or spare >= 0) and day.begin > seen.asked.now.utc + AT_ONCE
    begin = f"begin {_hour(day.begin, same if day.begin.date() == same else today, day.zone)} · " if is_to_come else ""
    wanted = f"{begin}{name} by {_hour(day.at(minute), today, day.zone)}"
    return (Span(wanted, "faint"),) if begin and not wide else (Span(f"{wanted} · ", "faint"), in_hand(spare))


def _ready(day: LaidDay, today: date) -> str:
    if day.ready is None:
        return f"all done {_hour(day.at(day.laid.end), today, day.zone)}"
    ready = f"ready at {_hour(day.at(day.ready), today, day.zone)}"
    return ready if day.needed.day.running else f"begun now, {ready}"


def _hour(at: datetime, today: date, zone: tzinfo | None) -> str:
    """Give an hour, with its day unless that is today: a vat that comes to life takes a week."""
    return clock_words(at, zone) if at.date() == today else day_words(at, today)


def _vat_span(vat: str) -> Span:
    if not vat:
        return Span("the vat is ready", "good")
    return Span(clip(vat, 50), "care" if vat.startswith("vat not") else "faint")


def vat_words(state: State, waits: Sequence[WaitView], out: str = "") -> str:
    """Say what keeps a vat from being ready whose steps are done; empty if nothing does.

    Its end, that nothing more goes in, a wait that it needs, or what its latest reading found `out` of order.
    """
    tending = state.tending
    if tending.let_go is not None:
        return "the vat is let go"
    if tending.seen_spent:
        return "the vat is spent"
    if happened(state, VatKept):
        return "the vat is kept"
    if state.plan.lots and not some_left(state):
        return "every piece is dipped"
    needed = {wait.id for wait in waits_for(tending, state.waits)}
    first = next((wait.label for wait in waits if wait.id in needed and not wait.over), "")
    return f"vat not ready: {first or out}" if first or out else ""


def in_hand(minutes: int) -> Span:
    """Say how much time is in hand, or by how much it will be late."""
    return Span(f"{CARE.opening}{spare_words(minutes)}", CARE.ink) if minutes < 0 else Span(spare_words(minutes), "")


def stage_row(stages: Sequence[StageView], current: Stage, width: int, signs: Signs, *, turns: bool) -> Row:
    """Print the stages, the one on the screen standing out."""
    spans: tuple[Span, ...] = ()
    for wide, gap in (((True, "  "), (True, " ")) if width >= 76 else ()) + ((False, " "), (False, "")):
        stage_spans = (
            span for item in stages for span in (*_stage(item, item.stage is current, wide, signs), Span(gap))
        )
        spans = (Span(" "), *stage_spans)
        if wide_of(spans) <= width:
            break
    hint = Span(f"{signs.arrows} stage ", "faint")
    return spread(spans, (hint,) if turns and wide_of((*spans, hint)) < width else (), width)


def _stage(item: StageView, current: bool, wide: bool, signs: Signs) -> tuple[Span, ...]:
    name = item.own_name or item.stage.value.capitalize()
    name = name.upper() if current else name
    act = f"stage('{item.stage.value}')"
    sign = signs.done if item.finished and not item.passed else signs.later
    count = f" {item.done}/{item.steps}" if item.steps and not item.finished and (current or item.done) and wide else ""
    role = "here" if current else "done" if item.finished else ""
    spans = (Span(f" {sign} {name}{count} ", role, act),)
    if item.gravest is None:
        return spans
    grave = severity(item.gravest)
    return (*spans, Span(grave.sign, NOTE.ink if item.far_off else grave.ink, act))


def stage_views(
    stages: tuple[Stage, ...],
    steps: tuple[Step, ...],
    done: AbstractSet[str],
    notices: Sequence[Notice],
    passed: AbstractSet[str] = frozenset(),
) -> tuple[StageView, ...]:
    """Count what is `done` in each stage, what has `passed` with it, and find the gravest thing to look out for."""
    return tuple(_view(stage, steps, done | passed, notices, passed) for stage in stages)


def _view(
    stage: Stage, steps: Sequence[Step], done: AbstractSet[str], notices: Sequence[Notice], passed: AbstractSet[str]
) -> StageView:
    of_stage = [step for step in steps if step.stage is stage]
    weights = {notice.weight for notice in notices if notice.stage is stage}
    # What can hurt in a step stands on its stage as long as the step is to come; it calls once the stage is begun.
    hurts = any(caution.must_acknowledge for step in of_stage if step.id not in done for caution in step.cautions)
    count = sum(step.id in done for step in of_stage)
    grave = DANGER if hurts and count else gravest(weights)
    far_off = hurts and grave is None
    weight = DANGER.weight if far_off else grave.weight if grave else None
    unticked = is_unticked(stage, steps, passed)
    return StageView(stage, count, len(of_stage), weight, far_off, stage_name(stage, steps), unticked)


def is_unticked(stage: Stage, steps: Sequence[Step], passed: AbstractSet[str]) -> bool:
    """Tell of a stage that nobody ticked anything of it and nothing of it is left; the board counts the dips itself."""
    return stage is not Stage.DIP and all(step.id in passed for step in steps if step.stage is stage)


def opening_stage(steps: tuple[Step, ...], progress: Progress, starts: Mapping[str, datetime]) -> Stage:
    """Give the stage to open at: the plan, or once the day has begun, where a wait is over, else where it goes on."""
    if not progress.done and not progress.running:
        return Stage.PLAN
    over = {name for name, wait in progress.running.items() if wait.over}
    rings = next((step for step in steps if step.id in over), None)
    opening = rings or next_of_day(steps, progress, starts) or (steps[-1] if steps else None)
    return opening.stage if opening else Stage.PLAN
