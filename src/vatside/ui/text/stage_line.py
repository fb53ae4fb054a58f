"""The stages as the head shows them, and where to begin."""

from __future__ import annotations

from collections.abc import Sequence
from collections.abc import Set as AbstractSet

from vatside.dayline.steps import Step
from vatside.plan.severity import DANGER, gravest
from vatside.plan.sheet import Notice, Stage
from vatside.ui.text.head_rows import StageView


def stage_views(
    stages: tuple[Stage, ...], steps: tuple[Step, ...], done: AbstractSet[str], notices: Sequence[Notice]
) -> tuple[StageView, ...]:
    """Count what is done in each stage, and find the gravest thing to look out for."""
    return tuple(_view(stage, steps, done, notices) for stage in stages)


def _view(stage: Stage, steps: Sequence[Step], done: AbstractSet[str], notices: Sequence[Notice]) -> StageView:
    here = [step for step in steps if step.stage is stage]
    weights = {notice.weight for notice in notices if notice.stage is stage}
    # What can hurt in a step stands on its stage as long as the step is to come.
    hurts = any(caution.must_acknowledge for step in here if step.id not in done for caution in step.cautions)
    found = DANGER if hurts else gravest(weights)
    return StageView(stage, sum(step.id in done for step in here), len(here), found.weight if found else None)


def opening_stage(steps: tuple[Step, ...], done: AbstractSet[str], busy: AbstractSet[str]) -> Stage:
    """Give the stage to open at: the plan, or once the day has begun, where the next step is."""
    if not done and not busy:
        return Stage.PLAN
    coming = next((step for step in steps if step.id not in done and step.id not in busy), None)
    last = steps[-1] if steps else None
    found = coming or last
    return found.stage if found else Stage.PLAN
