"""What it costs to hold a figure by hand: one sentence for each pin."""

from __future__ import annotations

from vatside.plan.figure_text import plain, two_digits
from vatside.plan.measures import by_jug, total_grams
from vatside.plan.sheet import Figure, Weight
from vatside.recipe.kept import OTHERS
from vatside.recipe.worksheet import Worksheet
from vatside.units import is_spoon, show_amount

SMALL = 0.02
"""Differences below this share cost nothing worth saying."""
MANY_TIMES = 4.0
"""Nobody means so many times the worked-out amount of a powder: ours."""
MANY_TIMES_DYE = 10.0
"""Of indigo more is meant at times, for a vat that is kept: ours."""
MORE_THAN_A_PINCH = 10.0
"""Grams; less too much than that of a small amount is no slip that matters: ours."""


def say_costs(sheet: Worksheet) -> None:
    """Add a notice for every figure that is held away from what the plan works out."""
    for figure in list(sheet.rows.values()):
        if figure.pin is None or not _differs(figure):
            continue
        sheet.stage = figure.stage
        weight, cost = _cost(sheet, figure)
        sheet.say(weight, f"{_held(figure)} {cost}".strip(), figure.id)


def _held(figure: Figure) -> str:
    """Say what is held and what the plan asks for, in one unit that compares."""
    pin = show_amount(figure.pin) if figure.pin else ""
    value, worked = plain(figure.value, figure.unit), plain(figure.worked, figure.unit)
    same = f" ({value})" if figure.teaspoons is not None and figure.pin and is_spoon(figure.pin) else ""
    return f"{full_label(figure)} set to {pin}{same}; worked out {worked}."


def full_label(figure: Figure) -> str:
    """Name a figure with its bath, where a stage has several."""
    return f"{figure.group}: {figure.label}" if figure.group else figure.label


def _differs(figure: Figure) -> bool:
    scale = max(abs(figure.worked), abs(figure.value), 1e-9)
    return abs(figure.value - figure.worked) / scale > SMALL


def _cost(sheet: Worksheet, figure: Figure) -> tuple[Weight, str]:
    if is_far_too_much(figure):
        return _far_too_much(sheet, figure)
    if figure.minimum is not None and figure.value < figure.minimum:
        return Weight.CARE, below_minimum(figure)
    if figure.id == OTHERS:
        return Weight.NOTE, "That much of it stays in the jar."
    if figure.id in ("stock.pigment", "vat.stock", "vat.stock_kept"):
        return dye_cost(sheet)
    return Weight.NOTE, ""


def is_far_too_much(figure: Figure) -> bool:
    """Tell whether more of a powder is held than any dyer means: a slip of the unit, of the point, of the row."""
    role_times = MANY_TIMES_DYE if figure.id == "stock.pigment" else MANY_TIMES
    more = figure.value - figure.worked
    return figure.teaspoons is not None and more > MORE_THAN_A_PINCH and figure.value > role_times * figure.worked


def _far_too_much(sheet: Worksheet, figure: Figure) -> tuple[Weight, str]:
    """Say how many times as much it is, and what so much of it does."""
    times = figure.value / figure.worked if figure.worked > 0 else 0.0
    much = f"That is {two_digits(times):.0f} times as much" if times else "None of it is wanted"
    look = "look at the amount and its unit."
    role = figure.id.rpartition(".")[2]
    if role == "alkali" and by_jug(sheet.plan):
        return Weight.DANGER, f"{much}: so strong a lye burns skin and eyes at once and heats the water; {look}"
    if role == "reducer":
        return Weight.CARE, f"{much}: all of it turns to acid in the vat; {look}"
    if figure.id == "stock.pigment":
        return Weight.CARE, f"{dye_cost(sheet)[1]} {look.capitalize()}"
    return Weight.CARE, f"{much}: {look}"


def below_minimum(figure: Figure) -> str:
    """Say what happens when less goes in than the reaction takes."""
    least = plain(figure.minimum or 0.0, figure.unit)
    if figure.id == "vat.reducer":
        return f"The oxygen in the water alone takes {least}: it will eat into the stock's reducer."
    fate = "undissolved" if figure.id == "stock.alkali" else "unreduced, and blue"
    return f"The reaction alone takes {least}: some of the indigo will stay {fate}."


def dye_cost(sheet: Worksheet) -> tuple[Weight, str]:
    """Say how far the dye in the vat goes; how deep the lots come out, the dips decide."""
    total, wanted = total_grams(sheet.plan), sheet["stock.wanted"]
    fibre = sum(row.value for row in sheet.rows.values() if row.id.startswith("vat.dyes."))
    reach = fibre / total if total and wanted else 1.0
    if reach >= 1:
        return Weight.NOTE, f"The vat holds {reach:.1f} times the indigo that the lots want."
    return Weight.CARE, (
        f"The vat holds {100 * reach:.0f} % of the indigo that the lots want, enough for {plain(fibre, 'g')} of fibre "
        "at their depth."
    )
