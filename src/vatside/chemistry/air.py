"""What an open vessel loses to the air: water. Estimates, to +-35 %."""

from __future__ import annotations

from math import cbrt

from attrs import frozen

from vatside.chemistry.errors import require_positive, require_within
from vatside.chemistry.oxygen import ATMOSPHERE_KPA
from vatside.chemistry.water import ZERO_CELSIUS, heat_of_evaporation, vapour_pressure

EVAPORATION_SPREAD = 0.35
"""How far off the estimate may be: a judgement from Shah's 18 % and the two formulas' common root [Shah2014]."""

_VAPOUR_TO_AIR = 0.622
"""Molar mass of water over that of dry air, from memory."""
_GAS_CONSTANT_AIR = 0.28705
"""Of dry air, kJ/(kg K), from memory."""


@frozen
class Evaporation:
    """Water lost from an open vessel without stirring, kg/h."""

    kg_per_hour: float
    low: float
    high: float


def evaporation(area_m2: float, water_C: float, air_C: float, humidity: float) -> Evaporation:
    """Estimate the water lost from an open, still surface [ASHRAE] [Shah2014] [Buck1996] [Allen1998].

    The mean of two formulas that share their driving force, +-35 %. Temperatures in 0..100 degrees C, humidity of the
    room as a share 0..1. Raises `OutOfRange` outside.
    """
    require_positive("open surface", area_m2, "m²")
    require_within("humidity", humidity, 0, 1, "(as a share)")
    over_water, in_air = vapour_pressure(water_C), humidity * vapour_pressure(air_C)
    rate = area_m2 * (_carrier(over_water, in_air, water_C) + _shah(over_water, in_air, water_C, air_C)) / 2
    return Evaporation(rate, rate * (1 - EVAPORATION_SPREAD), rate * (1 + EVAPORATION_SPREAD))


def _carrier(over_water_kPa: float, in_air_kPa: float, water_C: float) -> float:
    """kg/(m2 h) without a draught [ASHRAE]."""
    return 0.089 * max(over_water_kPa - in_air_kPa, 0.0) / heat_of_evaporation(water_C) * 3600


def _shah(over_water_kPa: float, in_air_kPa: float, water_C: float, air_C: float) -> float:
    """kg/(m2 h): the larger of what rising moist air and what diffusion carries [Shah2014]."""
    driving = max(over_water_kPa - in_air_kPa, 0.0)
    at_water, in_room = _dry_air(over_water_kPa, water_C), _dry_air(in_air_kPa, air_C)
    rising = max(in_room - at_water, 0.0)
    wetter = max(_moisture(over_water_kPa) - _moisture(in_air_kPa), 0.0)
    return max(35 * at_water * cbrt(rising) * wetter, 5e-5 * driving * 1000)


def _dry_air(vapour_kPa: float, t_C: float) -> float:
    """Kg of dry air in a cubic metre."""
    return max(ATMOSPHERE_KPA - vapour_kPa, 0.0) / (_GAS_CONSTANT_AIR * (t_C + ZERO_CELSIUS))


def _moisture(vapour_kPa: float) -> float:
    """Kg of vapour with a kg of dry air."""
    return _VAPOUR_TO_AIR * vapour_kPa / max(ATMOSPHERE_KPA - vapour_kPa, 1e-3)
