"""What time and air do to a vat: reducer that falls apart, oxygen that water takes up, and both while it cools.

Every rate is an estimate with a band. None of them is good for a dose: a reading settles what is there.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from math import cbrt, ceil, exp, inf, log, pi

from attrs import frozen

from vatside.chemistry.errors import require_not_negative, require_within
from vatside.chemistry.heat import temperature_after
from vatside.chemistry.rates import Estimate
from vatside.chemistry.reducers import reducer
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


def falling_apart(name: str, t_C: float, pH: float, grams_per_litre: float = 1.0) -> Estimate:
    """Give the share of a reducer that falls apart in an hour without oxygen or dye.

    Dithionite: first order, 0.01, 0.23 and 1.2 % an hour at 25, 47 and 60 degrees C, 0.1 to 4 times as much
    [ListerGarvie1959] [Telfeyan]; below pH 7.5 as [Rinker], which its concentration hastens. Thiourea dioxide: a guess,
    half in 10 h at pH 9 and 50 degrees C, in 1 h at pH 12, a third to three times as fast [TDOrate]. Sugar, starch
    and zinc are guesses of their own. Others: none.
    Temperatures 0..100 degrees C, pH 0..14. Raises `OutOfRange` outside or for what is no reducer.
    """
    require_within("temperature", t_C, 0, 100, "°C")
    require_within("pH", pH, 0, 14, "")
    require_not_negative(f"strength of {name}", grams_per_litre, "g/L")
    kind = reducer(name)
    if kind.decay is None:
        return Estimate(0.0, 0.0, 0.0)
    return kind.decay.share_per_hour(t_C, pH, grams_per_litre / kind.pure.molar_mass)


STILL_WATER_CM_H = (0.17, 0.6, 2.07)
"""How fast oxygen passes still water, cm/h: lakes without wind, and their geometric mean
[CrusiusWanninkhof2003] [ColeCaraco1998]."""
LID = (0.1, 0.25, 0.5)
"""What a lid or a film leaves of it: a guess."""
STIRRED = (3.0, 5.0, 10.0)
"""How much more comes in while one stirs: a guess."""


def oxygen_through_surface(area_m2: float, t_C: float, *, lid: bool = False, stirred: bool = False) -> Estimate:
    """Estimate the oxygen (mg/h) that passes a vat's surface, which the reducer eats as it comes [Kawagoe1981].

    10 to 119 mg a square metre and hour at 47 degrees C; a tenth to half of it under a lid, three to ten times while it
    is stirred. t_C in 0..100. Raises `OutOfRange` outside, or for less than no surface.
    """
    require_not_negative("open surface", area_m2, "m²")
    per_cm_h = area_m2 * saturation(t_C) * 1000 / 100
    flux = Estimate(per_cm_h, per_cm_h, per_cm_h).times(*STILL_WATER_CM_H)
    flux = flux.times(*LID) if lid else flux
    return flux.times(*STIRRED) if stirred else flux


def reducer_for_oxygen(name: str, oxygen: Estimate) -> Estimate:
    """Give the grams of a pure reducer that oxygen (mg) takes: 3.4 to 6.8 mg of thiourea dioxide a mg [Reactions].

    As theory has it for reducers without a band of their own. Raises `OutOfRange` for what is no reducer.
    """
    kind = reducer(name)
    g_per_mg = kind.pure.molar_mass / substance("oxygen").molar_mass / 1000
    return oxygen.times(*(g_per_mg * count for count in kind.air or (kind.per_oxygen,) * 3))


def left_after(grams: float, hours: float, share_per_hour: float, grams_per_hour: float) -> float:
    """Give the grams left when a share falls apart each hour and oxygen takes so many grams besides; never below zero.

    Solves dR/dt = -k R - j. Raises `OutOfRange` for anything below zero.
    """
    for name, value, unit in (
        ("amount of reducer", grams, "g"),
        ("time", hours, "h"),
        ("share that falls apart", share_per_hour, "1/h"),
        ("loss to oxygen", grams_per_hour, "g/h"),
    ):
        require_not_negative(name, value, unit)
    if share_per_hour * hours < 1e-9:
        return max(grams - (share_per_hour * grams + grams_per_hour) * hours, 0.0)
    steady = grams_per_hour / share_per_hour
    return max((grams + steady) * exp(-share_per_hour * hours) - steady, 0.0)


@frozen
class Standing:
    """How a vat stands while nobody reads it."""

    litres: float
    pH: float  # noqa: N815  (chemistry's own symbol)
    from_C: float  # noqa: N815  (chemistry's own symbol)
    air_C: float  # noqa: N815  (chemistry's own symbol)
    cooling: float
    """Newton's constant, 1/min; 0 where it is kept warm."""
    surface_m2: float
    lid: bool = False

    def temperature(self, hours: float) -> float:
        """Give its temperature after some hours, degrees C [Newton]."""
        if self.cooling == 0:
            return self.from_C
        return temperature_after(self.from_C, self.air_C, 60 * hours, self.cooling)


STEPS = 24
"""Into how many pieces a time is cut at the most, in each of which the temperature counts as even."""
PIECE_H = 0.5
"""Hours of a piece, while so many pieces are enough."""
COOLED_H = 12.0
"""Hours in which most tubs come down to their room; what lies beyond is cut by itself."""


@frozen
class Wear:
    """What a time leaves of a reducer."""

    left: Estimate
    """Grams; `low` is the least that may be left."""
    spare_mg: float
    """Oxygen that came in once nothing likely was left of it."""


def wear(name: str, grams: Estimate, hours: float, vat: Standing) -> Wear:
    """Estimate what is left of so many grams of pure reducer in a vat that stands and cools for some hours [Newton].

    Falling apart as `falling_apart`, air as `oxygen_through_surface`; the pH counts as even. Cut into pieces of half an
    hour, or 24 of what is longer, which is within 1 % of many more. Raises as those two, and `OutOfRange` below zero.
    """
    require_not_negative("time", hours, "h")
    for amount in (grams.low, grams.likely, grams.high):
        require_not_negative("amount of reducer", amount, "g")
    worn = Wear(grams, 0.0)
    for start, length in _pieces(hours):
        worn = _piece(name, worn, length, vat, vat.temperature(start + length / 2))
    return worn


def _pieces(hours: float) -> Iterator[tuple[float, float]]:
    """Cut a time into pieces: when each begins and how long it is, h."""
    for begins, length in ((0.0, min(hours, COOLED_H)), (COOLED_H, hours - COOLED_H)):
        count = min(ceil(length / PIECE_H), STEPS)
        yield from ((begins + number * length / count, length / count) for number in range(count))


def _piece(name: str, before: Wear, hours: float, vat: Standing, t_C: float) -> Wear:
    left, oxygen = before.left, oxygen_through_surface(vat.surface_m2, t_C, lid=vat.lid)
    if not left.high:
        return Wear(left, before.spare_mg + oxygen.likely * hours)
    apart, taken = falling_apart(name, t_C, vat.pH, left.likely / vat.litres), reducer_for_oxygen(name, oxygen)
    after = Estimate(
        left_after(left.low, hours, apart.high, taken.high),
        left_after(left.likely, hours, apart.likely, taken.likely),
        left_after(left.high, hours, apart.low, taken.low),
    )
    idle = 0.0 if after.likely else hours - min(_lasts(left.likely, apart.likely, taken.likely), hours)
    return Wear(after, before.spare_mg + oxygen.likely * idle)


def _lasts(grams: float, share_per_hour: float, grams_per_hour: float) -> float:
    """Give the hours until `left_after` leaves nothing."""
    if not grams_per_hour:
        return inf
    if share_per_hour < _EVEN:
        return grams / grams_per_hour
    return log(1 + share_per_hour * grams / grams_per_hour) / share_per_hour


_EVEN = 1e-9
"""A smaller share an hour counts as none."""


def round_surface_m2(litres: float) -> float:
    """Give the open surface (m2) of a round tub filled as deep as it is wide; raises `OutOfRange` below zero."""
    require_not_negative("volume", litres, "L")
    across = cbrt(4 * litres / 1000 / pi)
    return pi / 4 * across * across
