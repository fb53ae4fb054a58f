"""The vat of another day that stands in the tub: how much of it stays, and what warming it takes."""

from __future__ import annotations

from attrs import frozen

from vatside.chemistry import heat
from vatside.chemistry.water import HIGHEST_C, LOWEST_C, enthalpy
from vatside.plan.measures import celsius, litres
from vatside.plan.plan import Plan
from vatside.plan.sheet import Input
from vatside.recipe.taps import draw
from vatside.recipe.worksheet import Worksheet
from vatside.units import Amount, Kind, to_base

LEAST_POUR_L = 0.1
"""Less than a cup more or less is nothing in a tub: common practice, no source."""
WARM_ENOUGH_K = 0.5
"""A vat that is cooler or warmer by less than this is warm as wanted: common practice, no source."""


@frozen
class InTub:
    """What stands in the tub, as plain floats; all nought where the vat is made anew."""

    litres: float = 0.0
    celsius: float = 20.0
    indigotin_g: float = 0.0
    alkali_g: float = 0.0
    """As lye."""
    reducer_g: float = 0.0
    """Pure."""
    carbonate_g: float | None = None
    """As baking soda; None: what the tap brought."""
    salts_g: float = 0.0
    """As sodium sulfate."""
    oxidised_g: float = 0.0
    """Of the indigotin what is blue."""


def in_tub(plan: Plan) -> InTub:
    """Give what stands in the tub before anything goes in."""
    kept = plan.kept
    if kept is None:
        return InTub()
    return InTub(
        litres(plan, kept.volume), celsius(kept.temperature),
        _grams(kept.indigotin), _grams(kept.alkali), _grams(kept.reducer),
        _grams(kept.carbonate) if kept.carbonate else None, _grams(kept.salts) if kept.salts else 0.0,
        min(_grams(kept.oxidised), _grams(kept.indigotin)) if kept.oxidised else 0.0,
    )  # fmt: skip


def _grams(amount: Amount) -> float:
    return to_base(amount, Kind.MASS)


def share_kept(sheet: Worksheet) -> float:
    """Give the share of the kept liquor that stays once room is made for the stock; 0 where there is none."""
    there = in_tub(sheet.plan).litres
    return 1 - sheet["vat.surplus"] / there if there else 0.0


def blue_kept(sheet: Worksheet) -> float:
    """Give the indigotin of the kept liquor that stays and wants reducing again, g."""
    return in_tub(sheet.plan).oxidised_g * share_kept(sheet)


def worth_pouring(litres: float) -> float:
    """Give litres to pour in or out, or none where nobody sees them in the tub."""
    return litres if litres >= LEAST_POUR_L else 0.0


def room(sheet: Worksheet, stock_l: float) -> None:
    """Put on the sheet what stands in the tub, and what must come out of it for the stock (L)."""
    there = in_tub(sheet.plan).litres
    if sheet.plan.kept is None:
        return
    sheet.put("vat.kept", "Stands in the tub", there, "L", sheet.worked("as measured"))
    sheet.put(
        "vat.surplus", "Take out first", min(worth_pouring(there + stock_l - sheet["vat.liquor"]), there), "L",
        sheet.worked("what stands in the tub + stock − liquor", "vat.kept", "vat.stock", "vat.liquor"),
    )  # fmt: skip


def warmth(sheet: Worksheet, water_l: float, target_C: float) -> None:
    """Draw the water that tops a kept vat up so warm that all comes to target_C.

    What that leaves short is heated; what it leaves over is put on the sheet, with the time it takes to cool.
    """
    there, water = in_tub(sheet.plan), sheet.plan.water
    stays = heat.water_mass(there.litres * share_kept(sheet), there.celsius)
    hot = max(celsius(water.hot), celsius(water.cold))
    drawn_C = min(max(_wanted(stays, there.celsius, water_l, target_C), celsius(water.cold)), hot)
    added = heat.water_mass(water_l, target_C)
    draw(sheet, "vat.", heat.water_volume(added, drawn_C), drawn_C)
    parts = [(stays, there.celsius), (added, drawn_C)]
    mixed = heat.mix_temperature(parts) if sum(kg for kg, _ in parts) else target_C
    if mixed > target_C + WARM_ENOUGH_K:
        sheet.put(
            "vat.mixed", "With that it comes to", mixed, "degC",
            sheet.worked("heat of what stays + heat of the water, shared by both",
                         Input("kept vat", there.litres, "L"), Input("stands at", there.celsius, "degC"),
                         "vat.surplus", "vat.water", Input("drawn at", drawn_C, "degC"), source="Popiel1998"),
        )  # fmt: skip
        _cooling(sheet, sum(kg for kg, _ in parts), mixed, target_C)
    if mixed < target_C - WARM_ENOUGH_K:
        kilojoules = sum(kg for kg, _ in parts) * (enthalpy(target_C) - enthalpy(mixed))
        power = to_base(water.hob, Kind.POWER)
        sheet.put(
            "vat.warming", "Then warm it for", kilojoules / power / 60, "min",
            sheet.worked("(kept vat + water) × heat capacity × rise ÷ hob power, without losses",
                         Input("kept vat", there.litres, "L"), Input("stands at", there.celsius, "degC"),
                         "vat.water", "vat.temperature", Input("hob", power, "kW"), source="Popiel1998"),
        )  # fmt: skip


def _cooling(sheet: Worksheet, kg: float, mixed_C: float, target_C: float) -> None:
    """Say about how long a covered tub takes until it is cool enough; nothing in a room that is as warm as that."""
    from vatside.dips.run import COOLS
    from vatside.recipe import cooling  # late: few vats come out too warm

    litres_, room_C = heat.water_volume(kg, mixed_C), cooling.room_C(sheet.plan)
    rate = cooling.usual(cooling.TimedReading(0.0, mixed_C), litres_, room_C)
    left = cooling.leaves(rate, target_C + WARM_ENOUGH_K) if rate else None
    if left is None:
        return
    sheet.put(
        "vat.cooling", "Then it cools for about", left.minutes, "min",
        sheet.worked(f"as a tub that loses {100 * COOLS:.0f} % of its warmth an hour where it holds 20 L, "
                     f"a smaller one more; ±{100 * cooling.USUAL_ERROR:.0f} %",
                     "vat.mixed", "vat.temperature", Input("near enough", WARM_ENOUGH_K, "K"),
                     Input("room", room_C, "degC"), Input("in the tub", litres_, "L"), source="practice"),
        rough=True,
    )  # fmt: skip


def _wanted(kept_kg: float, kept_C: float, water_l: float, target_C: float) -> float:
    """Temperature of the water that would bring all to the target, degrees C: water's heat capacity hardly varies."""
    if not water_l:
        return target_C
    wanted = target_C + kept_kg / heat.water_mass(water_l, target_C) * (target_C - kept_C)
    return min(max(wanted, LOWEST_C), HIGHEST_C)
