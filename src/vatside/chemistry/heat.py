"""Mixing, heating and cooling water, and the heat of dissolving lye. Nothing is lost to vessel or room unless said."""

from __future__ import annotations

from collections.abc import Iterable
from math import exp, hypot, log

from attrs import frozen

from vatside.chemistry.errors import CannotReach, OutOfRange, require_not_negative, require_positive
from vatside.chemistry.roots import falling_root
from vatside.chemistry.substances import LYE, substance
from vatside.chemistry.water import HIGHEST_C, LOWEST_C, density, enthalpy, heat_capacity

LYE_HEAT_OF_SOLUTION = 44.51
"""Heat given off by a mole of sodium hydroxide dissolving, kJ/mol, at infinite dilution [CRCsolution]."""

READING_ERROR_C = 0.5
"""How far off a kitchen thermometer may be, degrees C: common practice, no source."""


def water_mass(volume_l: float, t_C: float) -> float:
    """Give the kilograms in a volume of water (L) at its own temperature (0..100 degrees C) [Kell1975]."""
    require_not_negative("volume", volume_l, "L")
    return volume_l * density(t_C) / 1000


def water_volume(kg: float, t_C: float) -> float:
    """Give the litres that a mass of water (kg) fills at a temperature (0..100 degrees C) [Kell1975]."""
    require_not_negative("mass of water", kg, "kg")
    return kg * 1000 / density(t_C)


def _temperature_of(kJ_per_kg: float) -> float:
    """Give the temperature of water holding this much heat, degrees C."""
    return falling_root(lambda t: kJ_per_kg - enthalpy(t), LOWEST_C, HIGHEST_C, kJ_per_kg / 4.18, -4.18, 1e-9)


def mix_temperature(parts: Iterable[tuple[float, float]]) -> float:
    """Give the temperature (degrees C) of waters put together, each as (kg, degrees C) [Popiel1998].

    Heat balance; temperatures in 0..100 degrees C. Raises `OutOfRange` outside, or when there is no water at all.
    """
    parts = tuple(parts)
    for kg, _ in parts:
        require_not_negative("mass of water", kg, "kg")
    total = sum(kg for kg, _ in parts)
    require_positive("mass of water", total, "kg")
    return _temperature_of(sum(kg * enthalpy(t) for kg, t in parts) / total)


@frozen
class Split:
    """How much to draw from the hot and from the cold tap, each litre at its own temperature."""

    hot_l: float
    cold_l: float
    short_kj: float = 0.0
    """Heat still to put in on the hob (above zero) or to let go of (below zero) to get to the temperature wanted."""

    def minutes(self, kw: float) -> float:
        """Give the minutes on a hob that puts kw into the pot; 0 when nothing is short."""
        require_positive("power", kw, "kW")
        return max(self.short_kj, 0.0) / kw / 60


def hot_cold_split(volume_l: float, target_C: float, hot_C: float, cold_C: float) -> Split:
    """Divide a volume (L, measured at the target temperature) between the hot and the cold tap [Kell1975] [Popiel1998].

    Mass and heat balance; temperatures in 0..100 degrees C. Raises `CannotReach` when the target lies outside
    cold..hot, see `split_with_heating`, and `OutOfRange` for temperatures of no water.
    """
    if hot_C < cold_C:
        raise CannotReach(f"The hot tap ({hot_C:g} °C) is cooler than the cold one ({cold_C:g} °C).")
    if target_C > hot_C:
        raise CannotReach(f"{target_C:g} °C is hotter than the hot tap ({hot_C:g} °C): draw it hot and heat it.")
    if target_C < cold_C:
        raise CannotReach(f"{target_C:g} °C is colder than the cold tap ({cold_C:g} °C): draw it cold and add ice.")
    return _split_within(volume_l, target_C, hot_C, cold_C)


def _split_within(volume_l: float, target_C: float, hot_C: float, cold_C: float) -> Split:
    total = water_mass(volume_l, target_C)
    span = enthalpy(hot_C) - enthalpy(cold_C)
    share = (enthalpy(target_C) - enthalpy(cold_C)) / span if span else 1.0
    return Split(water_volume(total * share, hot_C), water_volume(total * (1 - share), cold_C))


def split_with_heating(volume_l: float, target_C: float, hot_C: float, cold_C: float) -> Split:
    """Divide a volume (L at the target temperature) between the taps, and say what heat is short [Popiel1998].

    Inside cold..hot it is `hot_cold_split`; above, all hot with the heat for the hob; below, all cold with the heat to
    lose. Temperatures in 0..100 degrees C. Raises `OutOfRange` outside, `CannotReach` when hot is cooler than cold.
    """
    if cold_C <= target_C <= hot_C or hot_C < cold_C:
        return hot_cold_split(volume_l, target_C, hot_C, cold_C)
    drawn_C = hot_C if target_C > hot_C else cold_C
    kg = water_mass(volume_l, target_C)
    short = kg * (enthalpy(target_C) - enthalpy(drawn_C))
    litres = water_volume(kg, drawn_C)
    return Split(litres, 0.0, short) if target_C > hot_C else Split(0.0, litres, short)


def heating_minutes(volume_l: float, from_C: float, to_C: float, kw: float) -> float:
    """Give the minutes that kw (power reaching the pot) needs to heat a volume (L at from_C) [Popiel1998].

    Without losses, so the least time. Temperatures in 0..100 degrees C. Raises `OutOfRange` outside, for no power, or
    when to_C is the lower one.
    """
    require_positive("power", kw, "kW")
    if to_C < from_C:
        raise OutOfRange(f"Heating cannot bring water from {from_C:g} °C down to {to_C:g} °C.")
    return water_mass(volume_l, from_C) * (enthalpy(to_C) - enthalpy(from_C)) / kw / 60


def hot_water_to_add(volume_l: float, now_C: float, target_C: float, hot_C: float) -> float:
    """Give the litres of hot water (at hot_C) that bring a volume (L at now_C) to the target [Kell1975] [Popiel1998].

    Temperatures in 0..100 degrees C. Raises `CannotReach` when the water to add is not hot enough.
    """
    if target_C <= now_C:
        return 0.0
    if hot_C <= target_C:
        raise CannotReach(f"Water at {hot_C:g} °C cannot bring anything to {target_C:g} °C.")
    gained = water_mass(volume_l, now_C) * (enthalpy(target_C) - enthalpy(now_C))
    return water_volume(gained / (enthalpy(hot_C) - enthalpy(target_C)), hot_C)


def lye_rise(naoh_g: float, water_l: float, start_C: float) -> float:
    """Give the kelvins by which dissolving lye (g of pure sodium hydroxide) warms water (L at start_C) [CRCsolution].

    Without losses, and with the heat of solution at infinite dilution over the heat capacity of the water alone: good
    to 5 % up to 60 g/L. start_C in 0..100 degrees C. Raises `OutOfRange` outside or without water.
    """
    require_not_negative("amount of lye", naoh_g, "g")
    require_positive("volume", water_l, "L")
    heat = naoh_g / substance(LYE).molar_mass * LYE_HEAT_OF_SOLUTION
    return heat / (water_mass(water_l, start_C) * heat_capacity(start_C))


def warmest_start(naoh_g: float, water_l: float, ceiling_C: float) -> float:
    """Give the warmest water (degrees C) that lye does not push above a ceiling as it dissolves [CRCsolution].

    As `lye_rise`. ceiling_C in 0..100 degrees C. A result below 0 means that no water is cold enough.
    """
    start = ceiling_C
    for _ in range(3):  # the rise depends on the start so little that the third round changes nothing
        start = ceiling_C - lye_rise(naoh_g, water_l, min(max(start, LOWEST_C), HIGHEST_C))
    return start


def cooling_constant(first_C: float, second_C: float, air_C: float, minutes: float) -> float:
    """Give the constant of cooling (1/min) from two readings a number of minutes apart [Newton].

    Both readings on the same side of the air, the second nearer to it. Raises `OutOfRange` otherwise. See
    `cooling_error` for how little two readings tell.
    """
    require_positive("time between the readings", minutes, "min")
    if not (first_C - air_C) / (second_C - air_C or float("nan")) > 1:
        raise OutOfRange(
            f"From {first_C:g} to {second_C:g} °C in air at {air_C:g} °C is no cooling that can be worked with."
        )
    return log((first_C - air_C) / (second_C - air_C)) / minutes


def cooling_error(first_C: float, second_C: float, air_C: float) -> float:
    """Give the relative error of `cooling_constant` when each reading may be off by half a degree [Newton].

    0.12 (12 %) for 50 then 44 degrees C in air at 20. Evaporation makes the constant fall as the bath cools; that is
    not in it.
    """
    constant = cooling_constant(first_C, second_C, air_C, 1.0)
    return hypot(READING_ERROR_C / (first_C - air_C), READING_ERROR_C / (second_C - air_C)) / constant


def minutes_to_cool(from_C: float, to_C: float, air_C: float, per_minute: float) -> float:
    """Give the minutes until a bath has cooled from from_C to to_C [Newton].

    Raises `CannotReach` when to_C is not between the bath and the air.
    """
    require_positive("constant of cooling", per_minute, "1/min")
    if from_C == to_C:
        return 0.0
    if not (from_C - air_C) / (to_C - air_C or float("nan")) > 1:
        raise CannotReach(f"A bath at {from_C:g} °C in air at {air_C:g} °C never comes to {to_C:g} °C by itself.")
    return log((from_C - air_C) / (to_C - air_C)) / per_minute


def temperature_after(from_C: float, air_C: float, minutes: float, per_minute: float) -> float:
    """Give the temperature (degrees C) of a bath left in the air for a number of minutes [Newton]."""
    require_not_negative("time", minutes, "min")
    require_positive("constant of cooling", per_minute, "1/min")
    return air_C + (from_C - air_C) * exp(-per_minute * minutes)


FIBRE_AS_WATER = 0.3
"""Heat that a kilogram of dry fibre holds, as litres of water: 1.3 kJ/(kg K) for cotton and wool, from memory."""
