"""What a day takes of the house: water out of the taps, energy that warms it, and work of hands."""

from __future__ import annotations

from collections.abc import Iterator

from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.heat import water_mass
from vatside.chemistry.water import enthalpy
from vatside.dayline.day_steps import steps
from vatside.plan.batches import Batch, batches
from vatside.plan.measures import celsius
from vatside.plan.plan import Plan
from vatside.plan.scour_baths import baths
from vatside.plan.sheet import Sheet
from vatside.recipe.stages.kept_vat import in_tub

KJ_PER_KWH = 3600.0
ONCE = ("sour", "rinse after the sour", "wash")
"""Baths of the finish that every fibre has once; the rinses have figures of their own. See `finish_steps.toml`."""


def work_minutes(plan: Plan, sheet: Sheet) -> float:
    """Minutes of hands-on work of the day's steps."""
    return sum(step.work_min for step in steps(plan, sheet))


def water_litres(plan: Plan, sheet: Sheet) -> float:
    """Litres that come out of the taps, from the wetting out to the last rinse."""

    def value(figure: str) -> float:
        return sheet.value(figure, 0.0)  # fibre that goes through no bath has no pot

    scour = sum(
        value(bath.id("soak_water")) + value(bath.id("baths")) * value(bath.id("load_water"))
        + value(bath.id("rinse_water"))
        for bath in baths(plan)
    )  # fmt: skip
    finish = sum(
        value(batch.id("water")) * (value(batch.id("rinses")) + len(ONCE) + value(batch.id("last_rinses")))
        for batch in batches(plan)
    )
    return scour + value("stock.water") + value("stock.bath") + value("vat.water") + finish


def energy_kwh(plan: Plan, sheet: Sheet) -> float:
    """Energy that warms the day's water from the cold tap, kWh, without losses [Popiel1998] [Kell1975].

    Every scour bath to its hold, the first rinse of a load to its own temperature, stock, warm bath and vat, what
    stays of a kept vat from as warm as it stands, and the warm baths of the finish; every other rinse is taken to be
    as cold as it runs or to have stood in the room.
    """
    cold = celsius(plan.water.cold)

    def value(figure: str) -> float:
        return sheet.value(figure, 0.0)  # fibre that goes through no bath has no pot, a vat made anew nothing kept

    warm = [(value("stock.water"), value("stock.start")), (value("vat.water"), value("vat.temperature"))]
    warm.append((value("stock.bath"), value("stock.bath_temperature")))
    for bath in baths(plan):
        pot = value(bath.id("load_water"))
        warm.append((pot * value(bath.id("baths")), value(bath.id("hold_temperature"))))
        warm.append((pot * value(bath.id("loads")), value(bath.id("rinse_temperature"))))
    for batch in batches(plan):
        warm += [(value(batch.id("water")), to) for to in _warm_baths(plan, sheet, batch)]
    stays = _kwh(value("vat.kept") - value("vat.surplus"), in_tub(plan).celsius, value("vat.temperature"))
    return stays + sum(_kwh(litres, cold, to) for litres, to in warm)


def _warm_baths(plan: Plan, sheet: Sheet, batch: Batch) -> Iterator[float]:
    """Temperatures (°C) of the baths of the finish that are warmer than the room.

    Protein and silk are rinsed a safe step above the room before the wash, and from it down by safe steps; plant
    fibres are rinsed once as hot as the wash water ran, and then cold. See the words of `dayline/dye_steps.py`.
    """
    value, room, step = sheet.value, celsius(plan.water.room), batch.fibre.step.value
    wash, last = value(batch.id("wash")), round(value(batch.id("last_rinses")))
    yield wash
    if not batch.gentle:
        yield from [value(batch.id("wash_start"))] * min(last, 1)
        return
    falling = (wash - step * number for number in range(1, last + 1))
    first = [value(batch.id("rinse_temperature"))] if round(value(batch.id("rinses"))) else []
    yield from (to for to in (*first, *falling) if to > room)


def _kwh(litres: float, from_C: float, to_C: float) -> float:
    try:
        heat = water_mass(litres, from_C) * (enthalpy(to_C) - enthalpy(from_C))
    except OutOfRange:
        return 0.0
    return max(heat, 0.0) / KJ_PER_KWH
