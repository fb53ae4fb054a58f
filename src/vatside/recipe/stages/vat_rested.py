"""Where the vat stands once it has rested, and what warms it again."""

from __future__ import annotations

from vatside.chemistry import heat
from vatside.dips.run import cools
from vatside.plan.measures import celsius, fibre_of, method_of
from vatside.plan.sheet import Input
from vatside.recipe.worksheet import Worksheet
from vatside.units import Kind, to_base

KEPT_WARM_MIN = 720.0
"""A rest longer than this is kept warm day by day, or wants no warmth: ours."""


SHORT_C = 0.5
"""Less below its window than this is within it. Ours."""


def work_out_rested(sheet: Worksheet) -> None:
    """Where the vat has cooled to once it has rested, and what warms it again, if that is below what suits its lots."""
    plan, room = sheet.plan, celsius(sheet.plan.water.room)
    warm, litres_, minutes = sheet["vat.temperature"], sheet["vat.liquor"], sheet["vat.sharpen"] + sheet["vat.rest"]
    facts = [method_of(plan).vat.warmth.of(fibre_of(lot).group) for lot in plan.lots]
    if not facts or sheet["vat.rest"] > KEPT_WARM_MIN or warm <= room:
        return
    lowest = min(max(fact.value if fact.low is None else fact.low for fact in facts), warm)
    then = heat.temperature_after(warm, room, minutes, cools(litres_))
    if then > lowest - SHORT_C:
        return
    sheet.put(
        "vat.by_then", "Once it has rested, about", then, "degC",
        sheet.worked("as such a tub usually cools, covered, while it sharpens and rests", "vat.temperature",
                     "vat.sharpen", "vat.rest", "vat.liquor", Input("room", room, "degC"), source="practice"),
        rough=True,
    )  # fmt: skip
    power = to_base(plan.water.hob, Kind.POWER)
    sheet.put(
        "vat.warm_up", "To warm it then", heat.heating_minutes(litres_, then, warm, power), "min",
        sheet.worked("liquor × heat capacity × rise ÷ hob power, without losses", "vat.liquor", "vat.by_then",
                     "vat.temperature", Input("hob", power, "kW"), source="Popiel1998"),
        rough=True,
    )  # fmt: skip
