"""What holds for the day of any plan."""

from __future__ import annotations

from datetime import datetime
from itertools import pairwise

from hypothesis import given
from tests.dayline.instances import form_of, form_of_day
from tests.dayline.line_checker import faults
from tests.effort import examples
from tests.facts import Facts
from tests.plan.any_plan import any_plan

from vatside.bench.day_line import QUICK
from vatside.dayline.day_steps import steps
from vatside.dayline.laid_day import LaidDay, lay_day
from vatside.dayline.steps import Step
from vatside.plan.batches import baths
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.recipe.compute import compute

NOW = datetime(2026, 5, 2, 7, 0)
SHORT = 1600
"""Minutes of a day that is checked one by one."""

fact: Facts[[Plan, tuple[Step, ...], LaidDay]] = Facts()
"""What holds of any plan that can be typed, of its steps, and of its day as it is laid."""


@examples(25)
@given(any_plan())
def test_every_fact_holds_of_any_day(plan: Plan) -> None:
    """Each of the facts here."""
    sheet = compute(plan)
    day = steps(plan, sheet)
    fact.hold(plan, day, lay_day(plan, sheet, day, NOW, evaluations=QUICK))


@fact
def ids_are_unique(plan: Plan, day: tuple[Step, ...], laid: LaidDay) -> None:
    """No two steps of a day share an id."""
    ids = [step.id for step in day]
    assert len(ids) == len(set(ids))


@fact
def hands_are_never_on_for_longer_than_a_step_keeps_them(plan: Plan, day: tuple[Step, ...], laid: LaidDay) -> None:
    """What a step takes of the hands is a part of what it takes of the dyer."""
    for step in day:
        assert 0 <= step.work_min <= step.hands_min + 1e-9


@fact
def nudges_lie_inside_their_wait(plan: Plan, day: tuple[Step, ...], laid: LaidDay) -> None:
    """Nudges come in order, after the start and before the end."""
    for step in day:
        minutes = [nudge.minute for nudge in step.nudges]
        assert minutes == sorted(minutes)
        assert all(0 < minute < (step.minutes or 0) for minute in minutes)


@fact
def no_limit_is_missed_and_nothing_booked_twice(plan: Plan, day: tuple[Step, ...], laid: LaidDay) -> None:
    """The checker, which knows nothing of the planner, goes through the day minute by minute."""
    if laid.needed.day.horizon < SHORT:
        assert faults(form_of_day(laid.needed.day), form_of(laid.laid)) == []


@fact
def each_stage_runs_in_order(plan: Plan, day: tuple[Step, ...], laid: LaidDay) -> None:
    """Within stock and vat a step begins once the one before it and its wait are over."""
    tasks = {task.id: task.minutes for task in laid.needed.day.tasks}
    for stage in (Stage.STOCK, Stage.VAT):
        chain = [step.id for step in day if step.stage is stage and step.id in tasks]
        for first, second in pairwise(chain):
            assert laid.laid.starts[second] >= laid.laid.starts[first] + tasks[first]


@fact
def the_vat_is_not_ready_before_its_first_fibre(plan: Plan, day: tuple[Step, ...], laid: LaidDay) -> None:
    """It is told ready when the first piece goes in: the vat stands by then, and all of that round is scoured."""
    if laid.ready is None or not laid.needed.rounds:
        return
    starts, rounds = laid.laid.starts, laid.needed.rounds
    ends = {task.id: starts[task.id] + task.minutes for task in laid.needed.day.tasks}
    assert laid.ready == min(starts[task] for task in rounds)
    assert all(ends[step.id] <= laid.ready for step in day if step.stage in (Stage.STOCK, Stage.VAT))
    first = {piece.rpartition(".")[0] for piece in next(iter(rounds.values())).pieces}
    for bath in baths(plan):
        if any(lot.id in first for lot in bath.lots):
            own = [task for task in ends if laid.needed.steps[task].id.startswith(bath.id(""))]
            assert all(ends[task] <= laid.ready for task in own)


@fact
def what_is_in_hand_is_what_is_left_till_the_wanted_hour(plan: Plan, day: tuple[Step, ...], laid: LaidDay) -> None:
    """What is in hand or late follows from the hour that is wanted and the laid one."""
    if laid.wanted is not None and laid.ready is not None:
        assert laid.spare == laid.wanted - laid.ready
