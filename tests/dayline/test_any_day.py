"""What holds for the day of any plan."""

from __future__ import annotations

from datetime import datetime, timedelta
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st
from tests.effort import examples
from tests.facts import Facts
from tests.plan.any_plan import any_plan

from vatside.dayline.day_steps import steps
from vatside.dayline.schedule import schedule
from vatside.dayline.steps import Step
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.recipe.compute import compute

BEFORE = (Stage.SCOUR, Stage.STOCK, Stage.VAT)
NOW = datetime(2026, 5, 2, 7, 0)

fact: Facts[[Plan, tuple[Step, ...]]] = Facts()
"""What holds of any plan that can be typed, and of its steps."""


def before_ready(day: tuple[Step, ...]) -> dict[str, Step]:
    """Give the steps up to the vat by id."""
    return {step.id: step for step in day if step.stage in BEFORE}


@examples(60)
@given(any_plan(), st.floats(0, 600))
def test_every_fact_holds_of_any_day(plan: Plan, left: float) -> None:
    """Each of the facts here, and a wait that runs."""
    day = steps(plan, compute(plan))
    fact.hold(plan, day)
    a_wait_that_runs_is_not_begun_again(plan, day, left)


@fact
def ids_are_unique(plan: Plan, day: tuple[Step, ...]) -> None:
    """No two steps of a day share an id."""
    ids = [step.id for step in day]
    assert len(ids) == len(set(ids))


@fact
def hands_are_never_on_for_longer_than_a_step_keeps_them(plan: Plan, day: tuple[Step, ...]) -> None:
    """What a step takes of the hands is a part of what it takes of the dyer."""
    for step in day:
        assert 0 <= step.work_min <= step.hands_min + 1e-9


@fact
def nudges_lie_inside_their_wait(plan: Plan, day: tuple[Step, ...]) -> None:
    """Nudges come in order, after the start and before the end."""
    for step in day:
        minutes = [nudge.minute for nudge in step.nudges]
        assert minutes == sorted(minutes)
        assert all(0 < minute < (step.minutes or 0) for minute in minutes)


@fact
def hands_do_one_thing_at_a_time(plan: Plan, day: tuple[Step, ...]) -> None:
    """Up to the vat, no two steps want the hands at the same minute."""
    found = before_ready(day)
    starts = schedule(plan, found.values(), NOW).starts
    busy = sorted(
        (starts[key], starts[key] + timedelta(minutes=step.hands_min)) for key, step in found.items() if step.hands_min
    )
    for (_, end), (begin, _) in pairwise(busy):
        assert begin >= end - timedelta(milliseconds=1)


@fact
def each_stage_runs_in_order(plan: Plan, day: tuple[Step, ...]) -> None:
    """Within scour, stock and vat a step begins once the one before it and its wait are over."""
    found = before_ready(day)
    starts = schedule(plan, found.values(), NOW).starts
    for stage in BEFORE:
        chain = [step for step in found.values() if step.stage is stage]
        for first, second in pairwise(chain):
            over = starts[first.id] + timedelta(minutes=(first.minutes or 0))
            assert starts[second.id] >= over - timedelta(milliseconds=1)


def a_wait_that_runs_is_not_begun_again(plan: Plan, day: tuple[Step, ...], left: float) -> None:
    """The rest of the vat with some minutes to go begins so many minutes before ready, whatever it was to take."""
    found = {key: step for key, step in before_ready(day).items() if key in ("vat.rest_covered", "vat.look")}
    planned = schedule(plan, found.values(), NOW, {"vat.rest_covered": left})
    look = timedelta(minutes=found["vat.look"].hands_min)
    assert planned.ready - look - planned.starts["vat.rest_covered"] - timedelta(minutes=left) < timedelta(
        milliseconds=1
    )
