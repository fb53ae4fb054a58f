"""What a vat is supposed to be like: reducer, alkali, the most delicate fibre's window; other kinds that suit."""

from __future__ import annotations

from functools import cache
from math import ceil

from attrs import evolve, frozen

from vatside.catalogue.load import methods
from vatside.catalogue.values import Window
from vatside.chemistry.bath import add_grams, water_bath
from vatside.chemistry.liquor import solve
from vatside.chemistry.substances import LIME
from vatside.plan.measures import delicate_lot, fibre_of, method_of, species_of, suits_lime, window_of
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.worksheet import Worksheet

SLOPE = 0.03
"""pH that a lye liquor loses for each degree C it is warmed."""
LIME_SLOPE = 0.033
"""The same of saturated lime [Bates1956]."""

WIDEST = Window(target=11.0, low=9.0, high=12.0, block=13.0, source="practice")
"""Stands in for the window of a plan without fibre."""


@frozen
class Setting:
    """What a reading is held against; pH always at the temperature of the vat."""

    reducer: str
    """A substance."""
    alkali: str
    """A substance."""
    group: str
    """Of the most delicate fibre: `protein`, `silk` or `cellulose`."""
    fibre: str
    """Name of the most delicate fibre."""
    window: Window
    coolest: float
    warmest: float
    """Working temperatures, degrees C."""
    aim: float
    """Temperature that the plan sets, degrees C."""
    strength: float
    """Indigotin the vat is meant to hold, g/L."""
    slope: float = SLOPE
    """pH lost for each degree C."""
    tried: int = 0
    """Corrections in a row that brought nothing."""
    holds: float | None = None
    """Share of its dye that it still holds by its account, %; None where that is not known."""
    lime: float | None = None
    """Lime at its bottom by its account, g/L; None where that is not known."""
    unlimed: Window | None = None
    """Of a lime vat for cellulose the fibre's own window, above which lime holds it; None of any other vat."""
    awake: bool = True
    """It was seen to work, by its colour or by a dip; a vat that comes to life by itself is not from the first."""


def setting(plan: Plan, sheet: Sheet, *, tried: int = 0) -> Setting:
    """Give what the plan's vat is supposed to be like."""
    lot = delicate_lot(plan)
    fibre = fibre_of(lot) if lot else None
    group = fibre.group if fibre else "cellulose"
    low, high = _span(plan, group)
    aim = sheet.value("vat.temperature", (low + high) / 2)
    own, limes = window_of(plan, fibre) if fibre else WIDEST, suits_lime(plan, group)
    return Setting(
        reducer=species_of(plan, "reducer"),
        alkali=species_of(plan, "alkali"),
        group=group,
        fibre=fibre.name if fibre else "cellulose",
        window=limed(own, aim) if limes else own,
        # A vat held warmer or cooler by the plan is meant to be so.
        coolest=min(low, aim),
        warmest=max(high, aim),
        aim=aim,
        strength=sheet.value("vat.strength"),
        slope=_slope(sheet, LIME_SLOPE if limes else SLOPE),
        tried=tried,
        unlimed=own if limes else None,
    )


def at_warmth(plain: Setting, t_C: float | None) -> Setting:
    """Give the same for a vat at another temperature, degrees C: what lime holds falls as it warms [Bates1956]."""
    if plain.unlimed is None or t_C is None:
        return plain
    return evolve(plain, window=limed(plain.unlimed, t_C))


def limed(window: Window, t_C: float) -> Window:
    """Give the fibre's window, up to what lime holds at a temperature."""
    high = ceil(round(10 * lime_pH(t_C), 6)) / 10
    return evolve(window, high=max(window.high, high), block=max(window.block, high))


@cache
def lime_pH(t_C: float) -> float:
    """Give the pH of water over solid lime at a temperature, as `solve` [LimeFit]."""
    return solve(add_grams(water_bath(1.0, min(max(t_C, 0.0), 100.0)), LIME, 5.0)).pH


def _span(plan: Plan, group: str) -> tuple[float, float]:
    """Give the temperatures between which the method works for a group of fibres, degrees C."""
    fact = method_of(plan).vat.warmth.of(group)
    return fact.lowest, fact.highest


def _slope(sheet: Sheet, usual: float) -> float:
    """Take the pH lost for each degree from the sheet, where it says both pH far enough apart."""
    warm, cool = sheet.value("vat.pH", 0.0), sheet.value("vat.pH_25", 0.0)
    t_C = sheet.value("vat.temperature", 25.0)
    if not warm or not cool or abs(t_C - 25) <= 5:
        return usual
    return min(max((cool - warm) / (t_C - 25), 0.0), 0.05)


def pH_at(pH: float, from_C: float, to_C: float, setting: Setting) -> float:
    """Turn a pH read at one temperature into that of the same liquor at another (degrees C), by its slope."""
    return pH - setting.slope * (to_C - from_C)


def other_methods(sheet: Worksheet) -> str:
    """Name the other kinds of vat that suit all the lots."""
    groups = {fibre_of(lot).group for lot in sheet.plan.lots}
    names = [item.name for key, item in methods().items() if groups <= set(item.vat.suits) and key != sheet.plan.method]
    return f"Kinds of vat that suit: {', '.join(names)}." if names else "No kind of vat suits all the lots: part them."
