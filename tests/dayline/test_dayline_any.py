"""What holds for the day of any plan."""

from __future__ import annotations

from datetime import datetime, timedelta
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.recipe.any_plan import any_plan

from vatside.dayline.day_steps import steps
from vatside.dayline.schedule import schedule
from vatside.dayline.steps import Step
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.recipe.compute import compute

FEW = settings(max_examples=30)
BEFORE = (Stage.SCOUR, Stage.STOCK, Stage.VAT)
NOW = datetime(2026, 5, 2, 7, 0)


def before_ready(plan: Plan) -> dict[str, Step]:
    """Give the steps up to the vat by id."""
    return {step.id: step for step in steps(plan, compute(plan)) if step.stage in BEFORE}


@FEW
@given(any_plan())
def test_ids_are_unique(plan: Plan) -> None:
    """No two steps of a day share an id."""
    ids = [step.id for step in steps(plan, compute(plan))]
    assert len(ids) == len(set(ids))


@FEW
@given(any_plan())
def test_nudges_lie_inside_their_wait(plan: Plan) -> None:
    """Nudges come in order, after the start and before the end."""
    for step in steps(plan, compute(plan)):
        minutes = [nudge.minute for nudge in step.nudges]
        assert minutes == sorted(minutes)
        assert all(0 < minute < (step.minutes or 0) for minute in minutes)


@FEW
@given(any_plan())
def test_hands_do_one_thing_at_a_time(plan: Plan) -> None:
    """Up to the vat, no two steps want the hands at the same minute."""
    found = before_ready(plan)
    starts = schedule(plan, found.values(), NOW).starts
    busy = sorted(
        (starts[key], starts[key] + timedelta(minutes=step.hands_min)) for key, step in found.items() if step.hands_min
    )
    for (_, end), (begin, _) in pairwise(busy):
        assert begin >= end - timedelta(milliseconds=1)


@FEW
@given(any_plan())
def test_each_stage_runs_in_order(plan: Plan) -> None:
    """Within scour, stock and vat a step begins once the one before it and its wait are over."""
    found = before_ready(plan)
    starts = schedule(plan, found.values(), NOW).starts
    for stage in BEFORE:
        chain = [step for step in found.values() if step.stage is stage]
        for first, second in pairwise(chain):
            over = starts[first.id] + timedelta(minutes=(first.minutes or 0))
            assert starts[second.id] >= over - timedelta(milliseconds=1)


@FEW
@given(any_plan(), st.floats(0, 600))
def test_a_wait_that_runs_is_not_begun_again(plan: Plan, left: float) -> None:
    """The rest of the vat with some minutes to go begins so many minutes before ready, whatever it was to take."""
    found = {key: step for key, step in before_ready(plan).items() if key in ("vat.rest_covered", "vat.look")}
    day = schedule(plan, found.values(), NOW, {"vat.rest_covered": left})
    look = timedelta(minutes=found["vat.look"].hands_min)
    assert day.ready - look - day.starts["vat.rest_covered"] - timedelta(minutes=left) < timedelta(milliseconds=1)
