"""What a wet glove presses once too often."""

from __future__ import annotations

from tests.plan.plans import plan_with

from vatside.dayline.day_steps import steps
from vatside.recipe.compute import compute
from vatside.ui.day.step_list import BOUNCE, WetGlove

PLAN = plan_with()
STEP = steps(PLAN, compute(PLAN))[0]


def test_a_second_press_right_after_a_wait_was_begun_is_a_slip() -> None:
    """The cursor has gone on to what comes next, which nobody meant; a moment later the key counts again."""
    glove = WetGlove()
    assert glove.presses((), 10)
    assert glove.goes_on(STEP, (), (STEP.id,), 10)
    assert not glove.presses((STEP.id,), 10 + BOUNCE / 2)
    assert glove.presses((STEP.id,), 10 + BOUNCE)


def test_the_cursor_stays_on_a_step_whose_wait_ran_before() -> None:
    """Pressed while it runs it says how long it has to go; done, or just begun, the cursor goes on."""
    glove = WetGlove()
    assert glove.presses((STEP.id,), 10)
    assert not glove.goes_on(STEP, (), (STEP.id,), 10)
    assert glove.goes_on(STEP, (STEP.id,), (), 11)
