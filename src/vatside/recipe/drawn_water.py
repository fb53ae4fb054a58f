"""Water drawn from two taps, and pots that the hob heats, as figures of a worksheet."""

from __future__ import annotations

from vatside.catalogue.values import Fibre
from vatside.chemistry import heat
from vatside.chemistry.heat import FIBRE_AS_WATER
from vatside.chemistry.water import enthalpy
from vatside.plan.batches import Batch, Bath
from vatside.plan.measures import celsius
from vatside.plan.plan import Plan
from vatside.plan.sheet import Input
from vatside.recipe.worksheet import Worksheet
from vatside.units import Kind, to_base

CLOSE_ENOUGH_K = 0.5
"""A tap that falls short by less is warm enough: common practice, no source."""
SLOW_HEATING = 1.0
"""Degrees C a minute at which protein fibre is warmed: common practice, no source."""


def draw(
    sheet: Worksheet, prefix: str, volume_l: float, target_C: float, label: str = "", whole_l: float | None = None
) -> None:
    """Put `PREFIX hot` and `PREFIX cold` (L) on the sheet, and `PREFIX kettle` (min) if the tap is too cool.

    The volume is meant at the target, each draw at its own tap's temperature. Above the hot tap, all of it is drawn
    hot and the rest is heating on the hob; below the cold tap, all is drawn cold. A hot tap no warmer than the cold
    one counts as none. target_C in 0..100 degrees C. Both are printed as parts of `whole_l`, where that is not the
    volume itself.
    """
    water = sheet.plan.water
    cold_C = celsius(water.cold)
    hot_C = max(celsius(water.hot), cold_C)
    split = heat.split_with_heating(volume_l, target_C, hot_C, cold_C)
    hot, cold = (split.hot_l, split.cold_l) if hot_C > cold_C else (0.0, split.hot_l + split.cold_l)
    inputs = (
        Input("water", volume_l, "L"),
        Input("wanted", target_C, "degC"),
        Input("hot tap", celsius(water.hot), "degC"),
        Input("cold tap", cold_C, "degC"),
    )
    working = sheet.worked("heat of hot + heat of cold = heat of the mixture", *inputs, source="Popiel1998")
    tail = f", {label}" if label else ""
    parts = (volume_l if whole_l is None else whole_l, hot, cold)
    sheet.put(f"{prefix}hot", f"Hot tap{tail}", hot, "L", working, parts=parts)
    sheet.put(f"{prefix}cold", f"Cold tap{tail}", cold, "L", working, parts=parts)
    if target_C > hot_C + CLOSE_ENOUGH_K:
        power = to_base(water.hob, Kind.POWER)
        working = sheet.worked(
            "water × heat capacity × rise ÷ hob power, without losses",
            *inputs,
            Input("hob", power, "kW"),
            source="Popiel1998",
        )
        sheet.put(f"{prefix}kettle", f"Then on the hob{tail}", split.minutes(power), "min", working)


def _wet_litres(fibre: Fibre, grams: float) -> float:
    """Give the water that takes as much heat as squeezed wet fibre (g, dry), L."""
    return grams / 1000 * (fibre.held.value / 100 + FIBRE_AS_WATER)


def _pot_minutes(plan: Plan, water_l: float, start_C: float, hold_C: float, fibre: Fibre, grams: float) -> float:
    """Give the minutes in which the hob brings a pot to hold_C, wet fibre as cold as the room going in [Popiel1998].

    Without losses; 0 where it is warm enough already. Temperatures in 0..100 degrees C; raises `OutOfRange` outside.
    """
    if hold_C <= start_C:
        return 0.0
    power, room = to_base(plan.water.hob, Kind.POWER), celsius(plan.water.room)
    fibre_kj = _wet_litres(fibre, grams) * max(enthalpy(hold_C) - enthalpy(room), 0.0)
    return heat.heating_minutes(water_l, start_C, hold_C, power) + fibre_kj / power / 60


def heat_pot(
    sheet: Worksheet, pot: Bath | Batch, label: str, water: str, between: tuple[str, str], load_g: float
) -> None:
    """Put on the sheet how long a pot takes from one figure to another, with a load of fibre (g, dry) in it.

    `water` and `between` are names of the pot's own figures.
    """
    volume, start, hold = (pot.id(name) for name in (water, *between))
    power = to_base(sheet.plan.water.hob, Kind.POWER)
    minutes = _pot_minutes(sheet.plan, sheet[volume], sheet[start], sheet[hold], pot.fibre, load_g)
    if pot.gentle:
        minutes = max(minutes, (sheet[hold] - sheet[start]) / SLOW_HEATING)
    sheet.put(
        pot.id("heating"), label, minutes, "min",
        sheet.worked("(water × rise + wet fibre × its rise from the room) × heat capacity ÷ hob power, without losses; "
                     "protein no faster than 1 °C a minute", volume, start, hold,
                     Input("wet fibre, as water", _wet_litres(pot.fibre, load_g), "L"),
                     Input("hob", power, "kW"), source="Popiel1998"),
        pinnable=True,
    )  # fmt: skip
