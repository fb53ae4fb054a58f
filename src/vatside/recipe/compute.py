"""From a plan to its sheet, in one pure step."""

from __future__ import annotations

from vatside.recipe import checks, dip, finish, liquor_figures, pins, scour, stock, vat
from vatside.recipe.plan import Plan
from vatside.recipe.sheet import Sheet
from vatside.recipe.worksheet import Worksheet


def compute(plan: Plan) -> Sheet:
    """Work out every figure of a plan; pins hold, and everything after them follows."""
    sheet = Worksheet(plan)
    for stage in (scour, stock, vat, liquor_figures, dip, finish):
        stage.work_out(sheet)
    pins.say_costs(sheet)
    checks.look_over(sheet)
    return sheet.sheet()
