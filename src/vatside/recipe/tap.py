"""Drawing water of a wanted temperature from a hot and a cold tap."""

from __future__ import annotations

from vatside.chemistry import heat
from vatside.recipe.measures import celsius
from vatside.recipe.sheet import Input
from vatside.recipe.worksheet import Worksheet
from vatside.units import Kind, to_base


def draw(sheet: Worksheet, prefix: str, volume_l: float, target_C: float, label: str = "") -> None:
    """Put `PREFIX hot` and `PREFIX cold` (L) on the sheet, and `PREFIX kettle` (min) if the tap is too cool.

    Where the target lies above the hot tap, all of it is drawn hot and the rest is heating on the hob.
    """
    water = sheet.plan.water
    hot_C, cold_C = celsius(water.hot), celsius(water.cold)
    reach = min(max(target_C, cold_C), hot_C)
    split = heat.hot_cold_split(volume_l, reach, hot_C, cold_C) if hot_C > cold_C else None
    hot, cold = (split.hot_l, split.cold_l) if split else (volume_l, 0.0)
    inputs = (
        Input("water", volume_l, "L"),
        Input("wanted", target_C, "degC"),
        Input("hot tap", hot_C, "degC"),
        Input("cold tap", cold_C, "degC"),
    )
    working = sheet.worked("heat of hot + heat of cold = heat of the mixture", *inputs, source="Popiel1998")
    tail = f", {label}" if label else ""
    sheet.put(f"{prefix}hot", f"Hot tap{tail}", hot, "L", working)
    sheet.put(f"{prefix}cold", f"Cold tap{tail}", cold, "L", working)
    if target_C > hot_C + 0.5:
        power = to_base(water.hob, Kind.POWER)
        minutes = heat.heating_minutes(volume_l, hot_C, target_C, power)
        working = sheet.worked(
            "water × heat capacity × rise ÷ hob power",
            *inputs,
            Input("hob", power, "kW"),
            source="Popiel1998",
        )
        sheet.put(f"{prefix}kettle", f"Then on the hob{tail}", minutes, "min", working)
