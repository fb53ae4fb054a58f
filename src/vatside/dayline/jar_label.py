"""The label of a jar of stock: what it is, how strong, when it was made and until when it is good, what it does."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from vatside.catalogue.load import cautions
from vatside.chemistry.alkalis import ALKALIS
from vatside.plan.figure_text import plain
from vatside.plan.measures import method_of, powder
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.plan.wanted_hour import MONTHS
from vatside.recipe.kept_stock import CLINGS_L, in_jar


def label(plan: Plan, litres: float, strength: float, made: datetime | None) -> tuple[str, ...]:
    """Give the lines of a label: litres, strength (g/L of indigotin), its day and hour (local; None: not known yet)."""
    method, alkali = method_of(plan), powder(plan, "alkali").material
    days = method.stock.keeps.value
    if made is None:
        when = f"made (day and hour), use within {plain(1440 * days, 'min')}"
    else:
        when = f"made {_day(made)} {made:%H:%M}, use by {_day(made + timedelta(days=days))}"
    word = "CAUSTIC" if ALKALIS[alkali.species].caustic else "ALKALINE"
    hurts = ", ".join(cautions()[name].title.lower() for name in alkali.cautions)
    return (
        f"indigo stock ({method.name}), {plain(strength, 'g/L')} of indigotin, {plain(litres, 'L')}",
        when,
        f"{word}, NOT FOOD: {hurts}; no acid to it",
    )


def _day(at: date) -> str:
    return f"{at.day} {MONTHS[at.month - 1][:3].capitalize()}"


def made_of_kept(plan: Plan, sheet: Sheet) -> datetime | None:
    """Give when the older stock in the jar was made, where some of a kept one stays; None for this day's own."""
    there = plan.stock_kept
    if there is None or there.made is None or "T" not in there.made:
        return None
    stays = in_jar(plan).litres - min(sheet.value("vat.stock_kept", 0.0), in_jar(plan).litres)
    return datetime.fromisoformat(there.made) if stays > CLINGS_L else None
