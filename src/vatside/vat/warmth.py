"""What it takes to warm or cool a vat, and to where: as a remedy says it."""

from __future__ import annotations

from math import exp

from attrs import evolve

from vatside.catalogue.findings import Remedy, rows
from vatside.dips.run import BELOW_HIGHEST, cools
from vatside.plan.measures import celsius
from vatside.recipe.cooling import leaves
from vatside.units import show_mass, show_temperature
from vatside.vat.dosing import filled, ice_kg, warming
from vatside.vat.interlocks import Correction, Vat, nothing

TOO_COLD = "too-cold"
"""The finding whose remedy warms a vat."""


def warm_to(vat: Vat) -> float:
    """Give the temperature of the plan, or more where a small tub would be too cold again once its wait is over.

    Then as much as it loses in that wait, as far as the day's own warming goes [Newton].
    """
    minutes = next(remedy for remedy in rows()[TOO_COLD].remedies if remedy.does == "heat").wait.value
    plain, room = vat.setting, celsius(vat.plan.water.room)
    aim = min(max(plain.aim, plain.coolest), plain.warmest)
    stays = exp(-minutes * (vat.cooling.per_minute if vat.cooling else cools(vat.account.litres)))
    if room + (aim - room) * stays >= plain.coolest:
        return aim
    return max(aim, min(room + (aim - room) / stays, plain.warmest - BELOW_HIGHEST))


def heat(plain: Correction, remedy: Remedy, vat: Vat) -> Correction:
    """Give the water that warms the vat, or the hob."""
    target = warm_to(vat)
    heating = warming(vat.account, vat.plan, target)
    amount = show_temperature(target)
    if heating is None:
        return nothing(plain, f"By the account it is up to {amount} already: read it again.")
    return evolve(
        plain,
        text=filled(remedy, amount),
        celsius=target,
        litres=heating.hot_l,
        exchanges=not heating.fits,
        how=f"{heating.by_kettle}.",
        beside=f"Or {heating.on_the_hob}; that adds no water."
        if heating.gas
        else f"Or {heating.on_the_hob}: that adds no water.",
        cautions=("heat",),
    )


def cool(plain: Correction, remedy: Remedy, vat: Vat) -> Correction:
    """Say how warm it is to be when it has cooled by itself, and how long that takes."""
    # Overheated liquor is brought to where reducer lasts; else to the top of the window.
    target = min(vat.setting.warmest, 50.0)
    shown = evolve(plain, text=filled(remedy, show_temperature(target)), celsius=target)
    left = leaves(vat.cooling, target) if vat.cooling else None
    if left is None or vat.account.celsius <= target:
        return shown
    return evolve(shown, beside=f"With the lid as it is that takes {left.text}.")


def chill(plain: Correction, remedy: Remedy, vat: Vat) -> Correction:
    """Give the ice, in closed bottles, that brings it down."""
    target = min(vat.setting.warmest, 50.0)
    ice = ice_kg(vat.account, target)
    if not ice:
        return nothing(plain, f"It is down to {show_temperature(target)} already.")
    words = filled(remedy, f"about {show_mass(1000 * ice)}").replace("{celsius}", show_temperature(target))
    how = "Closed bottles add no water and let no air in; stir slowly and read its temperature."
    return evolve(plain, text=words, celsius=target, how=how)
