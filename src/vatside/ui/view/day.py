"""The day as one list: when each stage begins."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from attrs import frozen

from vatside.dayline.schedule import Schedule
from vatside.dayline.steps import Step
from vatside.recipe.sheet import Stage
from vatside.ui.view.rows import BLANK, Row, Span, row, spread, wrap
from vatside.ui.view.signs import Signs
from vatside.units import show_minutes


def day_rows(steps: Sequence[Step], done: Sequence[str], day: Schedule, width: int, signs: Signs) -> tuple[Row, ...]:
    """Print when each stage begins, when the vat is ready, and what the day asks of the hands."""
    stages = sorted(dict.fromkeys(step.stage for step in steps), key=lambda stage: _begin(stage, steps, day))
    times = Times(day.first.date(), wide=any(_begin(stage, steps, day).date() != day.first.date() for stage in stages))
    rows = [(_begin(stage, steps, day), _stage(stage, steps, done, day, times, width, signs)) for stage in stages]
    vat = spread((Span(f" {times.text(day.ready)}  ", "number"), Span("Vat ready", "strong")), (), width)
    ordered = sorted([*rows, (day.ready, vat)], key=lambda item: item[0])
    hands = sum(step.hands_min for step in steps if step.id not in done)
    foot = f"Hands on for {show_minutes(hands)}; the rest is waiting." if hands else "Every step is done."
    return (*(line for _, line in ordered), BLANK, *(row(Span(f" {line}", "faint")) for line in wrap(foot, width - 2)))


@frozen
class Times:
    """Times of day in one column; another day than the first is named."""

    first: date
    wide: bool

    def text(self, time: datetime) -> str:
        """Print one time."""
        other = f"{time:%a} " if time.date() != self.first else "    "
        return f"{other if self.wide else ''}{time:%H:%M}"


def _begin(stage: Stage, steps: Sequence[Step], day: Schedule) -> datetime:
    """When a stage begins; one that is done stands first."""
    begins = [day.starts[step.id] for step in steps if step.stage is stage and step.id in day.starts]
    return min(begins, default=day.first)


def _stage(
    stage: Stage, steps: Sequence[Step], done: Sequence[str], day: Schedule, times: Times, width: int, signs: Signs
) -> Row:
    left = [step for step in steps if step.stage is stage and step.id not in done]
    name = stage.value.capitalize()
    begin = times.text(_begin(stage, steps, day))
    if not left:
        return spread((Span(f" {signs.done.rjust(len(begin))}  {name}", "done"),), (), width, stage.value)
    waits = sum(step.minutes or 0 for step in left)
    tail = f"{len(left)} steps, waits {show_minutes(waits)}" if waits else f"{len(left)} steps"
    return spread((Span(f" {begin}  ", "number"), Span(name)), (Span(tail, "faint"),), width, stage.value)
