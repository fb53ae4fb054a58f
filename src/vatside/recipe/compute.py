"""From a plan to its sheet, in one pure step."""

from __future__ import annotations

from functools import lru_cache

from vatside.dips.so_far import NOTHING, SoFar
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.recipe import advice
from vatside.recipe.notices import pins
from vatside.recipe.notices import plan as checks
from vatside.recipe.stages import dip, finish, liquor, scour, sludge, stock, vat
from vatside.recipe.worksheet import Worksheet


def compute(plan: Plan, so_far: SoFar = NOTHING) -> Sheet:
    """Work out every figure of a plan; pins hold, and everything after them follows.

    With what was done `so_far`, the dips and the finish are what became of the pieces and what remains. A remedy that a
    notice offers was tried and holds what it says.
    """
    return _planned(plan) if so_far == NOTHING else _advised(plan, so_far)


@lru_cache(maxsize=16)
def _planned(plan: Plan) -> Sheet:
    """Remembered: a log is asked for the sheet of the same plan again and again."""
    return _advised(plan, NOTHING)


def _advised(plan: Plan, so_far: SoFar) -> Sheet:
    sheet = _worked_out(plan, so_far)
    return advice.with_advice(plan, sheet, lambda other: _worked_out(other, so_far, trial=True), so_far.gone_in)


def _worked_out(plan: Plan, so_far: SoFar, *, trial: bool = False) -> Sheet:
    """Give the sheet with the remedies as the stages propose them."""
    sheet = Worksheet(plan, trial=trial)
    for stage in (scour, stock, vat, liquor, sludge):
        stage.work_out(sheet)
    dip.work_out(sheet, so_far)
    finish.work_out(sheet, so_far)
    pins.say_costs(sheet)
    checks.look_over(sheet)
    checks.past_plan(sheet, so_far)
    return sheet.sheet()
