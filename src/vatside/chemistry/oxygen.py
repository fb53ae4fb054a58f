"""Oxygen that water has taken up from the air, and what it costs in reducer."""

from __future__ import annotations

from functools import lru_cache
from math import exp, log

from vatside.chemistry.errors import require_within
from vatside.chemistry.substances import substance
from vatside.chemistry.water import ZERO_CELSIUS, density, require_liquid, vapour_pressure

ATMOSPHERE_KPA = 101.325
"""Standard pressure, kPa, by definition."""

HAND_OVER_C = 40.0
"""Up to here Benson & Krause, above it Battino (degrees C); they meet within 0.3 %."""

OXYGEN_IN_AIR = 0.20946
"""Share of oxygen in dry air by volume [Battino1981]."""


@lru_cache(maxsize=64)
def saturation(t_C: float, pressure_kPa: float = ATMOSPHERE_KPA) -> float:
    """Give the oxygen in fresh water under moist air, mg/L, at 0..100 degrees C [BensonKrause1984] [Battino1981].

    Within 0.002 mg/L of another fit to the same data up to 40 degrees C, +-2 % above; over 75 degrees C an
    extrapolation. pressure_kPa in 50..110. Raises `OutOfRange` outside. Cold water warmed quickly can hold more.
    """
    require_liquid(t_C)
    require_within("air pressure", pressure_kPa, 50, 110, "kPa")
    return _benson_krause(t_C, pressure_kPa) if t_C <= HAND_OVER_C else _battino(t_C, pressure_kPa)


def _benson_krause(t_C: float, pressure_kPa: float) -> float:
    T, P = t_C + ZERO_CELSIUS, pressure_kPa / ATMOSPHERE_KPA
    at_sea_level = exp(-139.34411 + 1.575701e5 / T - 6.642308e7 / T**2 + 1.243800e10 / T**3 - 8.621949e11 / T**4)
    vapour = exp(11.8571 - 3840.70 / T - 216961 / T**2)
    theta = 0.000975 - 1.426e-5 * t_C + 6.436e-8 * t_C**2
    return at_sea_level * (P - vapour) * (1 - theta * P) / ((1 - vapour) * (1 - theta))


def _battino(t_C: float, pressure_kPa: float) -> float:
    tau = (t_C + ZERO_CELSIUS) / 100
    share_at_1_atm = exp(-66.7354 + 87.4755 / tau + 24.4526 * log(tau))
    oxygen_atm = OXYGEN_IN_AIR * max(pressure_kPa - vapour_pressure(t_C), 0.0) / ATMOSPHERE_KPA
    moles_per_litre = share_at_1_atm * oxygen_atm * density(t_C) / _WATER_MOLAR_MASS
    return moles_per_litre * substance("oxygen").molar_mass * 1000


_WATER_MOLAR_MASS = 18.0153
"""g/mol [CIAAW]."""
