"""How much alkali brings a bath to a pH, asked at every keystroke."""

from __future__ import annotations

from functools import lru_cache

from vatside.chemistry.adjust import alkali_for_pH
from vatside.chemistry.bath import Bath
from vatside.chemistry.indigo import HYDROXIDE
from vatside.chemistry.liquor import solve
from vatside.chemistry.roots import falling_root
from vatside.chemistry.substances import substance
from vatside.chemistry.vat import add
from vatside.chemistry.water import pKw

SEARCH = 6.0
"""How many times the guess is looked at."""
PH_A_DOUBLING = 1.0
"""How steeply pH rises about the guess: only the search's first step depends on it."""


@lru_cache(maxsize=64)
def alkali_grams(bath: Bath, target_pH: float, species: str) -> float:
    """Give `alkali_for_pH` to a part in a thousand, quickly and remembered: a form asks at every keystroke.

    It starts from the alkali that the acids there and the free hydroxide would take. Raises as `alkali_for_pH`.
    """
    guess = _alkali_guess(bath, target_pH, species)
    if not guess > 0:
        return alkali_for_pH(bath, target_pH, species)

    def short(grams: float) -> float:
        return target_pH - solve(add(bath, species, grams)).pH

    found = falling_root(short, 0.0, SEARCH * guess, guess, -PH_A_DOUBLING / guess, guess / 1000)
    # At the end of the search, or for a bath that needs none, the thorough way knows better.
    if found > 0.99 * SEARCH * guess or found < guess / 500:
        return alkali_for_pH(bath, target_pH, species)
    return found


def _alkali_guess(bath: Bath, target_pH: float, species: str) -> float:
    """Guess the grams that bind the acids of a bath above pH 8 and leave the hydroxide of the pH."""
    free = 10 ** (target_pH - pKw(bath.temperature_C)) * bath.water_kg
    acids = 2 * (bath.sulfite + bath.sulfate + bath.dithionite) + bath.strong_anions + bath.leuco
    there = bath.sodium + 2 * (bath.calcium + bath.ferrous)
    return (free + acids - there) * substance(species).molar_mass / HYDROXIDE[species]
