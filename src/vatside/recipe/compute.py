"""From a plan to its sheet, in one pure step."""

from __future__ import annotations

from vatside.recipe import checks, dip, finish, liquor_figures, pins, scour, stock, vat
from vatside.recipe.plan import Plan
from vatside.recipe.sheet import Sheet
from vatside.recipe.so_far import NOTHING, SoFar
from vatside.recipe.worksheet import Worksheet


def compute(plan: Plan, so_far: SoFar = NOTHING) -> Sheet:
    """Work out every figure of a plan; pins hold, and everything after them follows.

    With what was done `so_far`, the dips and the finish are what became of the pieces and what remains.
    """
    sheet = Worksheet(plan)
    for stage in (scour, stock, vat, liquor_figures):
        stage.work_out(sheet)
    dip.work_out(sheet, so_far)
    finish.work_out(sheet, so_far)
    pins.say_costs(sheet)
    checks.look_over(sheet)
    checks.past_plan(sheet, so_far)
    return sheet.sheet()
