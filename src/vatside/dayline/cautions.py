"""Cautions of the catalogue, ready for the screen."""

from __future__ import annotations

from vatside.catalogue.load import cautions
from vatside.dayline.steps import Caution
from vatside.dayline.template import has
from vatside.plan.figure_text import plain
from vatside.plan.measures import celsius, method_of
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet, Stage

DEFER = "Read the supplier's safety sheet; local rules and licensed practice come first."
"""The last line of every caution."""


def caution(caution_id: str, *here: str) -> Caution:
    """Give one caution of the catalogue, ready for the screen; `here` says what it comes to in this step."""
    found = cautions()[caution_id]
    return Caution(caution_id, found.title, (*here, *found.lines, DEFER), found.acknowledge, " ".join(here))


def lye_limits(plan: Plan, sheet: Sheet, stage: Stage) -> tuple[str, ...]:
    """Say how warm the water may be that lye goes into: at the stock jug and jar, elsewhere the jug alone."""
    ceiling = plain(method_of(plan).stock.ceiling.value, "degC")
    if stage is not Stage.STOCK or not has(sheet, "stock.rise"):
        return (f"The jug: plastic, cold water, and never above {ceiling} once the lye is in.",)
    warmest, rise = (plain(sheet.value(name), unit) for name, unit in (("stock.warmest", "degC"), ("stock.rise", "K")))
    if not sheet.value("stock.jug", 0.0):
        return (
            f"The jar: water at {warmest} or cooler; this lye warms it by {rise}, and it must stay below {ceiling}.",
        )
    jug, cold = plain(sheet.value("stock.jug", 0.0), "L"), celsius(plan.water.cold)
    comes_to = plain(cold + sheet.value("stock.rise"), "degC")
    return (
        f"The jug: plastic, {jug} of cold water; this lye brings it from {plain(cold, 'degC')} to {comes_to}.",
        f"The jar: water at {warmest} or cooler; it must stay below {ceiling}.",
    )
