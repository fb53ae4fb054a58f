"""Cautions of the catalogue, ready for the screen."""

from __future__ import annotations

from vatside.catalogue.load import cautions
from vatside.dayline.steps import Caution
from vatside.dayline.wording import has
from vatside.recipe.measures import method_of
from vatside.recipe.plan import Plan
from vatside.recipe.sheet import Sheet, Stage
from vatside.recipe.show import plain

DEFER = "Read the supplier's safety sheet; local rules and licensed practice come first."
"""The last line of every caution."""


def caution(caution_id: str, *here: str) -> Caution:
    """Give one caution of the catalogue, ready for the screen; `here` says what it comes to in this step."""
    found = cautions()[caution_id]
    return Caution(caution_id, found.title, (*here, *found.lines, DEFER), found.acknowledge)


def lye_limits(plan: Plan, sheet: Sheet, stage: Stage) -> tuple[str, ...]:
    """Say how warm the water may be that lye goes into: the jar's own at the stock, the jug's elsewhere."""
    ceiling = plain(method_of(plan).stock.ceiling.value, "degC")
    if stage is not Stage.STOCK or not has(sheet, "stock.rise"):
        return (f"The jug: cold water, and never above {ceiling} once the lye is in.",)
    warmest, rise = (plain(sheet.value(name), unit) for name, unit in (("stock.warmest", "degC"), ("stock.rise", "K")))
    return (f"The jar: water at {warmest} or cooler; this lye warms it by {rise}, and it must stay below {ceiling}.",)
