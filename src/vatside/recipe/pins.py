"""What it costs to hold a figure by hand: one sentence for each pin."""

from __future__ import annotations

from vatside.recipe.sheet import Figure, Weight
from vatside.recipe.show import plain
from vatside.recipe.worksheet import Worksheet
from vatside.units import show_amount

SMALL = 0.02
"""Differences below this share cost nothing worth saying."""


def say_costs(sheet: Worksheet) -> None:
    """Add a notice for every figure that is held away from what the plan works out."""
    for figure in list(sheet.rows.values()):
        if figure.pin is None or not _differs(figure):
            continue
        sheet.stage = figure.stage
        held = f"{figure.label} held at {show_amount(figure.pin)}; worked out {plain(figure.worked, figure.unit)}."
        weight, cost = _cost(sheet, figure)
        sheet.say(weight, f"{held} {cost}".strip(), figure.id)


def _differs(figure: Figure) -> bool:
    scale = max(abs(figure.worked), abs(figure.value), 1e-9)
    return abs(figure.value - figure.worked) / scale > SMALL


def _cost(sheet: Worksheet, figure: Figure) -> tuple[Weight, str]:
    if figure.minimum is not None and figure.value < figure.minimum:
        least = plain(figure.minimum, figure.unit)
        return Weight.CARE, f"The reaction alone needs {least}: some of the indigo will stay undissolved."
    if figure.id in ("stock.pigment", "vat.stock"):
        return _dye_cost(sheet)
    return Weight.NOTE, ""


def _dye_cost(sheet: Worksheet) -> tuple[Weight, str]:
    """Say what a held amount of dye means for the cloth."""
    wanted = sheet["stock.wanted"]
    reach = sheet["vat.indigotin"] / wanted if wanted else 1.0
    if reach >= 1:
        return Weight.NOTE, f"The vat holds {reach:.1f} times the indigo that the lots want."
    fibre = sum(row.value for row in sheet.rows.values() if row.id.startswith("vat.dyes."))
    return Weight.CARE, (
        f"The lots come out at {100 * reach:.0f} % of the depth wanted, or {plain(fibre, 'g')} of fibre reaches it."
    )
