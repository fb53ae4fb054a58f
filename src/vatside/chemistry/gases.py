"""The gases over a bath, and a bath open to the air."""

from __future__ import annotations

from math import exp

from attrs import evolve

from vatside.chemistry.activity import LN10
from vatside.chemistry.bath import Bath
from vatside.chemistry.equilibria import carbon_dioxide_log_henry
from vatside.chemistry.errors import OutOfRange, require_within
from vatside.chemistry.liquor import MOST, Liquor, solve
from vatside.chemistry.roots import falling_root
from vatside.chemistry.water import ZERO_CELSIUS

SULFUR_DIOXIDE = (1.317, 2900.0)
"""Solubility of sulfur dioxide at 25 degrees C, mol/(L atm), and its change with 1/T, K [Sander2023]."""

SULFUR_DIOXIDE_DAY, SULFUR_DIOXIDE_MINUTES, SULFUR_DIOXIDE_DANGER = 2.0, 5.0, 100.0
"""Sulfur dioxide in air, ppm: over a ten-hour day, over fifteen minutes, at once dangerous [NIOSH]."""

OPEN_AIR = 10**-3.4
"""Carbon dioxide in the air, atm: 400 ppm, from memory."""


def _solubility(gas: tuple[float, float], t_C: float) -> float:
    """Give mol/(L atm) at a temperature [Sander2023]."""
    at_25, per_K = gas
    return at_25 * exp(per_K * (1 / (t_C + ZERO_CELSIUS) - 1 / (25 + ZERO_CELSIUS)))


def sulfur_dioxide_ppm(liquor: Liquor) -> float:
    """Give the sulfur dioxide in still, closed air over a liquor, ppm: an upper bound, no forecast [Sander2023].

    For 0..100 degrees C, of which the solubility is meant for 0..50; +-15 %, as published values differ.
    """
    return 1e6 * liquor.uncharged.get("sulfite", 0.0) / _solubility(SULFUR_DIOXIDE, liquor.temperature_C)


def carbon_dioxide_pressure(liquor: Liquor) -> float:
    """Give the carbon dioxide with which a liquor is in balance, atm, at 0..90 degrees C [PlummerBusenberg1982]."""
    henry = exp(LN10 * carbon_dioxide_log_henry(liquor.temperature_C))
    return liquor.uncharged.get("carbonate", 0.0) / henry


def open_to_air(bath: Bath, pressure_atm: float = OPEN_AIR, *, chalk: bool = False) -> Bath:
    """Give a bath that has given off or taken up carbon dioxide until it is in balance with the air.

    What it comes to after a day or more in a wide tub, at its own temperature; every lye turns into carbonate then.
    pressure_atm in 1e-5..1. Within 0.02 of PHREEQC for spent soda vats. Raises `OutOfRange` outside, or when more
    carbonate would be in it than `vatside.chemistry.liquor.MOST`. [PlummerBusenberg1982]
    """
    require_within("pressure of carbon dioxide", pressure_atm, 1e-5, 1, "atm")
    scale = bath.water_kg

    def short(carbonate: float) -> float:
        liquor = solve(evolve(bath, carbonate=carbonate * scale), chalk=chalk)
        return 1 - carbon_dioxide_pressure(liquor) / pressure_atm

    most = MOST["carbonate"]
    guess = max((bath.sodium + 2 * bath.calcium - bath.strong_anions - 2 * bath.sulfate - bath.acetate) / scale, 1e-5)
    found = falling_root(short, 0.0, most, min(guess, most), -1 / guess, 1e-9)
    if found >= most * (1 - 1e-6):
        raise OutOfRange("This bath holds more alkali than can be worked with once the air has turned it to carbonate.")
    return evolve(bath, carbonate=found * scale)
