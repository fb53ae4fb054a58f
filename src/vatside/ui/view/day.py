"""The day as one list: when each stage begins."""

from __future__ import annotations

from collections.abc import Sequence

from vatside.dayline.schedule import Schedule
from vatside.dayline.steps import Step
from vatside.recipe.sheet import Stage
from vatside.ui.view.rows import BLANK, Row, Span, row, spread, wrap
from vatside.ui.view.signs import Signs
from vatside.units import show_minutes


def day_rows(steps: Sequence[Step], done: Sequence[str], day: Schedule, width: int, signs: Signs) -> tuple[Row, ...]:
    """Print when each stage begins, when the vat is ready, and what the day asks of the hands."""
    stages = dict.fromkeys(step.stage for step in steps)
    begins = sorted(((_begin(stage, steps, day), stage) for stage in stages), key=lambda item: (item[0], item[1]))
    rows = [_stage(stage, begin, steps, done, width, signs) for begin, stage in begins]
    hands = sum(step.hands_min for step in steps if step.id not in done)
    foot = f"Hands on for {show_minutes(hands)}; the rest is waiting." if hands else "Every step is done."
    ready = spread((Span(f" {day.ready:%H:%M}  ", "number"), Span("Vat ready", "strong")), (), width)
    return (*rows, ready, BLANK, *(row(Span(f" {line}", "faint")) for line in wrap(foot, width - 2)))


def _begin(stage: Stage, steps: Sequence[Step], day: Schedule) -> str:
    begins = [day.starts[step.id] for step in steps if step.stage is stage and step.id in day.starts]
    return f"{min(begins):%H:%M}" if begins else ""


def _stage(stage: Stage, begin: str, steps: Sequence[Step], done: Sequence[str], width: int, signs: Signs) -> Row:
    mine = [step for step in steps if step.stage is stage]
    left = [step for step in mine if step.id not in done]
    name = stage.value.capitalize()
    if not left:
        return spread((Span(f"   {signs.done}    {name}", "done"),), (), width, stage.value)
    waits = sum(step.minutes or 0 for step in left)
    tail = f"{len(left)} steps, waits {show_minutes(waits)}" if waits else f"{len(left)} steps"
    return spread((Span(f" {begin:>5}  ", "number"), Span(name)), (Span(tail, "faint"),), width, stage.value)
