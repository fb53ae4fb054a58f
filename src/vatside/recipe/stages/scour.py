"""The scour: one set of figures for each bath, lots of one fibre and condition sharing a bath."""

from __future__ import annotations

from math import ceil

from vatside.plan.batches import Bath, baths
from vatside.plan.measures import celsius, litres, powder, share
from vatside.plan.plan import Plan
from vatside.plan.sheet import Input, Stage
from vatside.recipe.drawn_water import draw, heat_pot
from vatside.recipe.worksheet import Worksheet

POT_WITH_FIBRE = 0.95
"""Highest share of the pot that water and fibre may fill: common practice, no source."""
HAND_WARM = 40.0
"""Of a rinse that takes off dust and what is left of a wash, degrees C: common practice, no source."""


def work_out(sheet: Worksheet) -> None:
    """Put every scour figure on the worksheet."""
    sheet.stage = Stage.SCOUR
    all_baths = baths(sheet.plan)
    for bath in all_baths:
        sheet.group = bath.name if len(all_baths) > 1 else ""
        (_only_wetted if bath.unscoured else _scoured)(sheet, bath)
        _weights(sheet, bath)
    sheet.group = ""


def _scoured(sheet: Worksheet, bath: Bath) -> None:
    _liquor(sheet, bath)
    _volumes(sheet, bath)
    _wetting_out(sheet, bath)
    _heat(sheet, bath)
    _agents(sheet, bath)
    _rinses(sheet, bath)


def _only_wetted(sheet: Worksheet, bath: Bath) -> None:
    """Put the wetting out, and what a rinse before it takes where one is asked for."""
    _liquor(sheet, bath)
    if bath.scour.rinses:
        _volumes(sheet, bath)
        _hand_warm_rinse(sheet, bath)
    _wetting_out(sheet, bath)


def _liquor(sheet: Worksheet, bath: Bath) -> None:
    liquor = bath.scour.liquor
    sheet.put(
        bath.id("liquor"), "Liquor wanted", bath.grams / 1000 * liquor.value, "L",
        sheet.worked("fibre × liquor ratio", Input("dry fibre", bath.grams, "g"),
                     Input("liquor ratio", liquor.value, "L/kg"), source=liquor.source),
    )


def _wetting_out(sheet: Worksheet, bath: Bath) -> None:
    sheet.fact(bath.id("soak"), "Wet out for", bath.scour.soak, "min", "by fibre")
    sheet.put(
        bath.id("soak_water"), "Water to wet out", sheet[bath.id("liquor")], "L",
        sheet.worked("as much as the bath's liquor", bath.id("liquor")),
    )


def _volumes(sheet: Worksheet, bath: Bath) -> None:
    plan, wanted = sheet.plan, sheet[bath.id("liquor")]
    pot = litres(plan, plan.vessels.scour_pot)
    fill = pot * share(plan.vessels.scour_fill)
    density = bath.fibre.density
    fibre = Input("dry fibre", bath.grams, "g")
    water = sheet.put(
        bath.id("load_water"), "Water in the pot", fill, "L",
        sheet.worked("pot × fill", Input("pot", pot, "L"),
                     Input("fill before the fibre", 100 * share(plan.vessels.scour_fill), "%")),
        pinnable=True,
    )
    room_for_fibre = max(pot * POT_WITH_FIBRE - water, 0.0) * density.value * 1000
    loads = sheet.put(
        bath.id("loads"), "Pot loads", _loads(wanted, water, bath.grams, room_for_fibre), "",
        sheet.worked("the larger of liquor ÷ water in the pot and fibre ÷ what the pot can still take, rounded up",
                     bath.id("liquor"), bath.id("load_water"), fibre,
                     Input("room for fibre", room_for_fibre, "g"), source=density.source),
        pinnable=True,
    )
    displaced = bath.grams / max(loads, 1) / density.value / 1000
    sheet.put(
        bath.id("level"), "Pot full with fibre", 100 * (water + displaced) / pot, "%",
        sheet.worked("(water + fibre ÷ density) ÷ pot", bath.id("load_water"), bath.id("loads"), fibre,
                     Input("fibre density, g/cm3", density.value, ""), source=density.source),
        rough=True,
    )


def _loads(wanted_l: float, water_l: float, fibre_g: float, room_g: float) -> int:
    """Loads by liquor and by room; a pot without any room for fibre is for the notices to say."""
    by_liquor = ceil(round(wanted_l / water_l, 6)) if water_l > 0 else 1
    by_room = ceil(round(fibre_g / room_g, 6)) if room_g > 0 else 1
    return max(by_liquor, by_room, 1)


def start_temperature(bath: Bath, plan: Plan, hold_C: float) -> float:
    """Temperature at which the fibre goes in, degrees C.

    Protein begins one safe step above the room, so that it is not shocked; the rest as the hot tap runs.
    """
    lukewarm = celsius(plan.water.room) + bath.fibre.step.value
    wanted = lukewarm if bath.gentle else celsius(plan.water.hot)
    return max(min(wanted, hold_C, celsius(plan.water.hot)), celsius(plan.water.cold))


def _heat(sheet: Worksheet, bath: Bath) -> None:
    plan, scour = sheet.plan, bath.scour
    hold = sheet.fact(bath.id("hold_temperature"), "Hold at", scour.hold, "degC", "by fibre")
    sheet.fact(bath.id("ceiling"), "Never above", scour.ceiling, "degC", "by fibre", pinnable=False)
    start = sheet.put(
        bath.id("start"), "Fibre goes in at", start_temperature(bath, plan, hold), "degC",
        sheet.worked("protein: room + one safe step; others: as the hot tap runs; never above the hold",
                     Input("room", celsius(plan.water.room), "degC"),
                     Input("safe step", bath.fibre.step.value, "K"), source=bath.fibre.step.source),
    )
    draw(sheet, bath.id(""), sheet[bath.id("load_water")], start)
    if bath.scour.baths > 1:
        draw(sheet, bath.id("again_"), sheet[bath.id("load_water")], hold, label="next bath")
    _times(sheet, bath)


def _times(sheet: Worksheet, bath: Bath) -> None:
    load_g = bath.grams / max(sheet[bath.id("loads")], 1)
    heat_pot(sheet, bath, "Heating takes", "load_water", ("start", "hold_temperature"), load_g)
    hold = sheet.fact(bath.id("hold"), "Hold for", bath.scour.minutes, "min", "by fibre")
    if bath.scour.stir_every:
        sheet.put(
            bath.id("stir_every"), "Stir every", bath.scour.stir_every, "min",
            sheet.worked("by fibre: every 10 to 15 min"), pinnable=True,
        )
    if bath.scour.turn:
        sheet.put(
            bath.id("turn"), "Turn over at", hold / 2, "min",
            sheet.worked("half the hold", bath.id("hold")),
        )


def _agents(sheet: Worksheet, bath: Bath) -> None:
    loads = max(sheet[bath.id("loads")], 1)
    number = sheet.put(
        bath.id("baths"), "Baths in all", loads * bath.scour.baths, "",
        sheet.worked("pot loads × baths by fibre", bath.id("loads"),
                     Input("baths by fibre", bath.scour.baths, "")),
    )
    a_bath = " a bath" if number > 1 else ""
    for agent in bath.scour.agents:
        product = powder(sheet.plan, agent.material)
        fact = agent.per_kg or agent.per_litre
        unit = "g/kg" if agent.per_kg else "g/L"
        sheet.put(
            bath.id(agent.material), product.material.short + a_bath,
            agent.grams(bath.grams / loads / 1000, sheet[bath.id("load_water")]), "g",
            sheet.worked("fibre a load × amount a kilogram, or water × amount a litre",
                         Input("fibre a load", bath.grams / loads, "g"), bath.id("load_water"),
                         Input("amount", fact.value if fact else 0.0, unit), source=agent.source),
            powder=product, pinnable=True,
        )


def _rinses(sheet: Worksheet, bath: Bath) -> None:
    plan, step = sheet.plan, bath.fibre.step
    hold, room = sheet[bath.id("hold_temperature")], celsius(plan.water.room)
    each = _rinse_water(sheet, bath, "by fibre")
    first = sheet.put(
        bath.id("rinse_temperature"), "First rinse at", first_rinse(bath, plan, hold), "degC",
        sheet.worked("protein: as warm as the bath it left; others: as the hot tap runs, within a safe step",
                     bath.id("hold_temperature"), Input("hot tap", celsius(plan.water.hot), "degC"),
                     Input("safe step", step.value, "K"), source=step.source),
        pinnable=True,
    )
    draw(sheet, bath.id("rinse_"), each, first, label="each rinse" if bath.gentle else "first rinse")
    sheet.put(
        bath.id("steps_down"), "Steps down to the room", max(ceil(round((first - room) / step.value, 6)), 0), "",
        sheet.worked("(first rinse − room) ÷ safe step, rounded up", bath.id("rinse_temperature"),
                     Input("room", room, "degC"), Input("safe step", step.value, "K"), source=step.source),
    )
    sheet.fact(bath.id("cool"), "Comes down in", bath.scour.cool, "min", "by fibre, left in a bowl of rinse water")


def _rinse_water(sheet: Worksheet, bath: Bath, by: str) -> float:
    """Put the rinses and all their water on the sheet; give the water of one, L."""
    number = sheet.put(bath.id("rinses"), "Rinses", bath.scour.rinses, "", sheet.worked(by), pinnable=True)
    loads = max(sheet[bath.id("loads")], 1)
    water = sheet.put(
        bath.id("rinse_water"), "Rinse water", sheet[bath.id("load_water")] * number * loads, "L",
        sheet.worked("water in the pot × rinses × loads", bath.id("load_water"), bath.id("rinses"), bath.id("loads")),
    )
    return water / max(number * loads, 1)


def _hand_warm_rinse(sheet: Worksheet, bath: Bath) -> None:
    """Put the rinse of fibre that goes through no bath, as warm as a bath would begin."""
    plan, step = sheet.plan, bath.fibre.step
    each = _rinse_water(sheet, bath, "only rinsed")
    warm = sheet.put(
        bath.id("rinse_temperature"), "Rinse at", start_temperature(bath, plan, HAND_WARM), "degC",
        sheet.worked("protein: room + one safe step; others: as the hot tap runs; never above hand-warm",
                     Input("room", celsius(plan.water.room), "degC"), Input("safe step", step.value, "K"),
                     Input("hand-warm", HAND_WARM, "degC"), source=step.source),
        pinnable=True,
    )
    draw(sheet, bath.id("rinse_"), each, warm, label="each rinse")


def first_rinse(bath: Bath, plan: Plan, hold_C: float) -> float:
    """Temperature of the first rinse, degrees C: no step too large, and no heating of it where the fibre allows."""
    if bath.gentle:
        return hold_C
    return max(min(hold_C, celsius(plan.water.hot)), hold_C - bath.fibre.step.value)


def _weights(sheet: Worksheet, bath: Bath) -> None:
    fibre, loss, held = Input("dry fibre", bath.grams, "g"), bath.scour.loss, bath.fibre.held
    dry = sheet.put(
        bath.id("dry_mass"), "Weighs, dry again", bath.grams * (1 - loss.value / 100), "g",
        sheet.worked("fibre × (1 − loss in the scour)", fibre, Input("loss", loss.value, "%"),
                     source=loss.source),
        rough=loss.value > 0,
    )
    sheet.put(
        bath.id("wet_mass"), "Weighs, pressed out", dry * (1 + held.value / 100), "g",
        sheet.worked("dry × (1 + water held after squeezing)", bath.id("dry_mass"),
                     Input("water held", held.value, "%"), source=held.source),
        rough=True,
    )
