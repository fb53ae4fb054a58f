"""The wash of each fibre, in parts where no pot takes all of it, and the rinses after it."""

from __future__ import annotations

from math import ceil

from vatside.plan.batches import Batch
from vatside.plan.measures import Powder, celsius, litres, powder
from vatside.plan.sheet import Input
from vatside.recipe.drawn_water import draw, heat_pot
from vatside.recipe.stages.scour import POT_WITH_FIBRE
from vatside.recipe.worksheet import Worksheet


def work_out(sheet: Worksheet, batch: Batch) -> None:
    """Put the wash and the rinses after it on the worksheet."""
    _wash(sheet, batch)
    _after_the_wash(sheet, batch)


def _wash(sheet: Worksheet, batch: Batch) -> None:
    plan, finish, detergent = sheet.plan, batch.finish, powder(sheet.plan, "detergent")
    room, step = celsius(plan.water.room), batch.fibre.step
    wash = sheet.fact(batch.id("wash"), "Wash off at", finish.wash, "degC", "by fibre")
    start = max(min(room + step.value if batch.gentle else celsius(plan.water.hot), wash), celsius(plan.water.cold))
    sheet.put(
        batch.id("wash_start"), "Wash water at first", start, "degC",
        sheet.worked("protein: the room + one safe step; others: as the hot tap runs; never above the wash",
                     Input("room", room, "degC"), Input("safe step", step.value, "K"), batch.id("wash"),
                     source=step.source),
    )
    parts = _parts(sheet, batch)
    water = "part_water" if parts > 1 else "water"
    draw(sheet, batch.id("wash_"), sheet[batch.id(water)], start)
    sheet.put(
        batch.id("detergent"), detergent.material.short, sheet[batch.id("water")] * finish.detergent.value, "g",
        sheet.worked("water × amount a litre", batch.id("water"), Input("a litre", finish.detergent.value, "g/L"),
                     source=finish.detergent.source),
        powder=detergent, pinnable=True,
    )
    heat_pot(sheet, batch, "Heating the wash takes", water, ("wash_start", "wash"), batch.grams / parts)
    sheet.fact(batch.id("wash_minutes"), "Wash for", finish.wash_minutes, "min", "by fibre")
    if parts > 1:
        _by_parts(sheet, batch, detergent)


def _parts(sheet: Worksheet, batch: Batch) -> float:
    """Give the parts in which a fibre is washed: one, unless its water and it are more than the largest pot takes."""
    plan, water = sheet.plan, sheet[batch.id("water")]
    pot = POT_WITH_FIBRE * max(litres(plan, pot) for pot in (plan.vessels.scour_pot, *plan.place.pots))
    full = water + batch.grams / batch.fibre.density.value / 1000
    if full <= pot:
        return 1
    parts = sheet.put(
        batch.id("wash_parts"), "Wash it in parts", ceil(round(full / pot, 6)), "",
        sheet.worked("(water + fibre ÷ density) ÷ what the largest pot takes, rounded up", batch.id("water"),
                     Input("fibre", batch.grams, "g"), Input("pot, filled to 95 %", pot, "L"),
                     source=batch.fibre.density.source),
    )
    sheet.put(
        batch.id("part_water"), "Water of a part", water / parts, "L",
        sheet.worked("water ÷ parts", batch.id("water"), batch.id("wash_parts")),
    )
    return parts


def _by_parts(sheet: Worksheet, batch: Batch, detergent: Powder) -> None:
    """Put what goes into each part, and how long one and all of them take, each in fresh water."""
    number, parts = batch.id("wash_parts"), sheet[batch.id("wash_parts")]
    sheet.put(
        batch.id("part_detergent"), f"{detergent.material.short} of a part", sheet[batch.id("detergent")] / parts, "g",
        sheet.worked("detergent ÷ parts", batch.id("detergent"), number), powder=detergent,
    )
    kettle = sheet[batch.id("wash_kettle")] if batch.id("wash_kettle") in sheet.rows else 0.0
    one = sheet.put(
        batch.id("part_takes"), "One part takes", kettle + sheet[batch.id("heating")] + sheet[batch.id("wash_minutes")],
        "min", sheet.worked("fresh water on the hob + heating + wash", Input("fresh water on the hob", kettle, "min"),
                            batch.id("heating"), batch.id("wash_minutes")),
    )
    sheet.put(
        batch.id("wash_in_all"), "Washing takes in all", parts * one - kettle, "min",
        sheet.worked("parts × one part; the first one's water was heated before", number, batch.id("part_takes")),
    )


def _after_the_wash(sheet: Worksheet, batch: Batch) -> None:
    room, step = celsius(sheet.plan.water.room), batch.fibre.step
    down = max(ceil(round((sheet[batch.id("wash")] - room) / step.value, 6)), 0) if batch.gentle else 0
    last = batch.finish.last_rinses
    sheet.put(
        batch.id("last_rinses"), "Rinses after the wash", max(last.value, down), "",
        sheet.worked("by fibre; protein: as many as it takes to come down to the room by safe steps",
                     Input("by fibre", last.value, ""), batch.id("wash"), Input("room", room, "degC"),
                     Input("safe step", step.value, "K"), source=last.source),
        pinnable=True,
    )
    sheet.fact(batch.id("dry"), "Drying takes", batch.finish.dry, "min", "by fibre", scale=60)
