"""The day as one list: when each stage begins."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime

from attrs import frozen

from vatside.dayline.schedule import Schedule
from vatside.dayline.steps import Step
from vatside.plan.sheet import Stage
from vatside.ui.text.rows import BLANK, Row, Span, cells, row, spread, wrap
from vatside.ui.text.signs import Signs
from vatside.units import show_count, show_minutes


def day_rows(
    steps: Sequence[Step], done: Sequence[str], day: Schedule, width: int, signs: Signs, said: str = ""
) -> tuple[Row, ...]:
    """Print when each stage begins, when the vat is ready, what the day asks of the hands, and what is `said` of it."""
    left = [step for step in steps if step.id not in done]
    stages = {stage: _begin(stage, steps, day) for stage in dict.fromkeys(step.stage for step in steps)}
    times = Times(day.first.date(), wide=any(begin.date() != day.first.date() for begin in stages.values()))
    heads = {stage: _stage(stage, left, times.text(begin), signs) for stage, begin in stages.items()}
    tails = _tails(heads, left, width)
    rows = [(begin, spread(heads[stage], tails[stage], width, stage.value)) for stage, begin in stages.items()]
    ordered = sorted([(day.ready, _ready(day, times, width, signs)), *rows], key=lambda item: item[0])
    hands = sum(step.work_min for step in left)
    foot = f"Hands on for {show_minutes(hands)}; the rest is waiting." if left else "Every step is done."
    care = tuple(row(Span(f" {line}", "care")) for line in (wrap(f"! {said}", width - 2) if said else ()))
    faint = (row(Span(f" {line}", "faint")) for line in wrap(foot, width - 2))
    return (*(line for _, line in ordered), BLANK, *care, *faint)


@frozen
class Times:
    """Times of day in one column; another day than the first is named."""

    first: date
    wide: bool

    def text(self, time: datetime) -> str:
        """Print one time."""
        other = f"{time:%a} " if time.date() != self.first else "    "
        return f"{other if self.wide else ''}{time:%H:%M}"


def _ready(day: Schedule, times: Times, width: int, signs: Signs) -> Row:
    """Print when the vat is ready; if that is late, by how much, and the hour that is wanted."""
    time = times.text(day.ready)
    if day.is_ready:
        return spread((Span(f" {signs.done.rjust(len(time))}  Vat ready", "done"),), (), width)
    near = (Span(f" {time}  ", "number"), Span("Vat ready", "strong"))
    late = -day.in_hand.total_seconds() / 60
    if day.wanted is None or late < 1:
        return spread(near, (), width)
    said = f"{show_minutes(late)} late"
    full = f"{said}, wanted {day.wanted:%H:%M}"
    return spread(near, (Span(full if _wide(near) + 1 + cells(full) <= width else said, "care"),), width)


def _wide(spans: Sequence[Span]) -> int:
    return sum(cells(span.text) for span in spans)


def _begin(stage: Stage, steps: Sequence[Step], day: Schedule) -> datetime:
    """When a stage begins; one that is done stands first."""
    begins = [day.starts[step.id] for step in steps if step.stage is stage and step.id in day.starts]
    return min(begins, default=day.first)


def _stage(stage: Stage, left: Sequence[Step], begin: str, signs: Signs) -> tuple[Span, ...]:
    """Say when a stage begins, or that it is done."""
    name = stage.value.capitalize()
    if any(step.stage is stage for step in left):
        return Span(f" {begin}  ", "number"), Span(name)
    return (Span(f" {signs.done.rjust(len(begin))}  {name}", "done"),)


def _tails(heads: Mapping[Stage, Sequence[Span]], left: Sequence[Step], width: int) -> dict[Stage, tuple[Span, ...]]:
    """Count what is left of each stage; the waits as well, where every stage has room for them."""
    for counts in (_steps_and_waits, _steps):
        words = {stage: counts([step for step in left if step.stage is stage]) for stage in heads}
        if all(_wide(heads[stage]) + 1 + cells(text) <= width for stage, text in words.items()):
            break
    return {stage: (Span(text, "faint"),) if text else () for stage, text in words.items()}


def _steps(left: Sequence[Step]) -> str:
    return show_count(len(left), "step") if left else ""


def _steps_and_waits(left: Sequence[Step]) -> str:
    waits = sum(step.minutes or 0 for step in left)
    return f"{_steps(left)}, waits {show_minutes(waits)}" if waits else _steps(left)
