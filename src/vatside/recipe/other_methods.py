"""Kinds of vat that suit the fibres of a plan."""

from __future__ import annotations

from vatside.catalogue.load import methods
from vatside.plan.measures import fibre_of
from vatside.recipe.worksheet import Worksheet


def other_methods(sheet: Worksheet) -> str:
    """Name the other kinds of vat that suit all the lots."""
    groups = {fibre_of(lot).group for lot in sheet.plan.lots}
    names = [item.name for key, item in methods().items() if groups <= set(item.vat.suits) and key != sheet.plan.method]
    return f"Kinds of vat that suit: {', '.join(names)}." if names else "No kind of vat suits all the lots: part them."
