"""The stages as the head shows them, and where to begin."""

from __future__ import annotations

from collections.abc import Sequence
from collections.abc import Set as AbstractSet

from vatside.dayline.steps import Step
from vatside.plan.sheet import Notice, Stage, Weight
from vatside.ui.text.head_rows import StageView
from vatside.ui.text.notice_rows import GRAVITY


def stage_views(
    stages: tuple[Stage, ...], steps: tuple[Step, ...], done: AbstractSet[str], notices: Sequence[Notice]
) -> tuple[StageView, ...]:
    """Count what is done in each stage, and find the gravest thing to look out for."""
    return tuple(_view(stage, [step.id for step in steps if step.stage is stage], done, notices) for stage in stages)


def _view(stage: Stage, ids: list[str], done: AbstractSet[str], notices: Sequence[Notice]) -> StageView:
    weights = {notice.weight for notice in notices if notice.stage is stage}
    gravest = next((weight for weight in GRAVITY if weight in weights and weight is not Weight.NOTE), None)
    return StageView(stage, sum(step in done for step in ids), len(ids), gravest)


def opening_stage(steps: tuple[Step, ...], done: AbstractSet[str], busy: AbstractSet[str]) -> Stage:
    """Give the stage to open at: the plan, or once the day has begun, where the next step is."""
    if not done and not busy:
        return Stage.PLAN
    coming = next((step for step in steps if step.id not in done and step.id not in busy), None)
    last = steps[-1] if steps else None
    found = coming or last
    return found.stage if found else Stage.PLAN
