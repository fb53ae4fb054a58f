"""Warming the vat again: on the hob, or with kettle water, as far as the tub has room."""

from __future__ import annotations

from attrs import frozen

from vatside.chemistry import heat
from vatside.plan.plan import Plan
from vatside.recipe.cooling import KETTLE_C
from vatside.units import Kind, show_minutes, show_volume, to_base
from vatside.vat.account import Account

BRIM_SHARE = 0.97
"""A tub is not filled higher than this: common practice, no source."""


@frozen
class Warming:
    """What brings the vat up to a temperature: hot water, or heat from outside."""

    celsius: float
    hot_l: float
    """Of kettle water."""
    fits: bool
    """The tub takes it; else as much is taken out first."""
    strength: float
    """What is left of the strength with it in, as a share."""
    hob_min: float
    """Minutes on the hob with all its heat going in; a water bath takes longer."""

    @property
    def text(self) -> str:
        """Both ways, and what the water costs."""
        return f"{self.by_kettle}, or {self.on_the_hob}."

    @property
    def by_kettle(self) -> str:
        """The hot water, and what it costs."""
        kept = f"(it keeps {100 * self.strength:.0f} % of its strength)"
        if not self.fits:
            return f"Take {show_volume(self.hot_l)} out, put as much kettle water in {kept}"
        return f"{show_volume(self.hot_l)} of kettle water {kept}"

    @property
    def on_the_hob(self) -> str:
        """The heat from outside, which adds nothing."""
        return f"{show_minutes(self.hob_min)} at the least on the hob, in a water bath"


def warming(account: Account, plan: Plan, target_C: float) -> Warming | None:
    """Say what brings a vat to a temperature; None if it is there already. Raises `CannotReach` near the boil."""
    now, litres = account.celsius, account.litres
    if target_C <= now:
        return None
    hot = heat.hot_water_to_add(litres, now, target_C, KETTLE_C)
    minutes = heat.heating_minutes(litres, now, target_C, to_base(plan.water.hob, Kind.POWER))
    if hot <= free_litres(account, plan):
        return Warming(target_C, hot, True, litres / (litres + hot), minutes)
    exchanged = heat.hot_cold_split(litres, target_C, KETTLE_C, now).hot_l
    return Warming(target_C, exchanged, False, 1 - exchanged / litres, minutes)


def free_litres(account: Account, plan: Plan) -> float:
    """Give the room left in the tub without fibre in it, L."""
    from vatside.recipe.sizing import size_of  # what is kept in a tub goes by this module

    return size_of(plan).tub * BRIM_SHARE - account.litres
