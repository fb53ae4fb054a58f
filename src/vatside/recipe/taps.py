"""Drawing water of a wanted temperature from a hot and a cold tap."""

from __future__ import annotations

from vatside.chemistry import heat
from vatside.plan.measures import celsius
from vatside.plan.sheet import Input
from vatside.recipe.worksheet import Worksheet
from vatside.units import Kind, to_base

CLOSE_ENOUGH_K = 0.5
"""A tap that falls short by less is warm enough: common practice, no source."""


def draw(sheet: Worksheet, prefix: str, volume_l: float, target_C: float, label: str = "") -> None:
    """Put `PREFIX hot` and `PREFIX cold` (L) on the sheet, and `PREFIX kettle` (min) if the tap is too cool.

    The volume is meant at the target, each draw at its own tap's temperature. Above the hot tap, all of it is drawn
    hot and the rest is heating on the hob; below the cold tap, all is drawn cold. A hot tap no warmer than the cold
    one counts as none. target_C in 0..100 degrees C.
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
    sheet.put(f"{prefix}hot", f"Hot tap{tail}", hot, "L", working)
    sheet.put(f"{prefix}cold", f"Cold tap{tail}", cold, "L", working)
    if target_C > hot_C + CLOSE_ENOUGH_K:
        power = to_base(water.hob, Kind.POWER)
        working = sheet.worked(
            "water × heat capacity × rise ÷ hob power, without losses",
            *inputs,
            Input("hob", power, "kW"),
            source="Popiel1998",
        )
        sheet.put(f"{prefix}kettle", f"Then on the hob{tail}", split.minutes(power), "min", working)
