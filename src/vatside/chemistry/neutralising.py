"""How much acid lets a spent bath go: to a pH, and still in its range once its carbonic acid has gone into the air."""

from __future__ import annotations

from functools import lru_cache

from attrs import frozen

from vatside.chemistry.adjust import Acid, acid_for_pH
from vatside.chemistry.bath import Bath, at_temperature
from vatside.chemistry.gases import open_to_air
from vatside.chemistry.liquor import solve
from vatside.chemistry.substances import VINEGAR_STRENGTH, substance
from vatside.chemistry.vat import add, add_vinegar, aerate

JUDGED_AT_C = 25.0
"""A spent bath is judged cooled, where papers and rules are at home, degrees C."""
ALKALINITY_LEFT = 0.005
"""Alkalinity at which a bath open to the air stands at pH 8.8 to 9, mol/kg [PlummerBusenberg1982]."""
MOST_HALVINGS = 5
"""How often less of it is tried for a range that ends lower; ours."""


@frozen
class AcidNeeded:
    """Acid that lets a bath go."""

    amount: float
    """Vinegar of 5 %, mL, or citric acid, pure g."""
    next_day_pH: float | None = None  # noqa: N815  (chemistry's own symbol)
    """At 25 degrees C, once carbonic acid has gone, of a bath dosed by its alkalinity; None: it does not drift out."""
    end_pH: float | None = None  # noqa: N815  (chemistry's own symbol)
    """The same while all its carbonic acid is still in it: where a titrated sample of it ends."""
    to_target: float = 0.0
    """What would have brought it to the pH asked for, which is not enough; as `amount`."""


def spent_and_cool(bath: Bath) -> Bath:
    """Give a bath stirred in air until nothing in it reduces, at 25 degrees C [Reactions]."""
    return at_temperature(aerate(bath), JUDGED_AT_C)


@lru_cache(maxsize=64)
def acid_needed(bath: Bath, target_pH: float, high: float, acid: Acid) -> AcidNeeded:
    """Give the acid that brings a spent bath to a pH at 25 degrees C and leaves it at `high` or below in the air.

    Where the soda of a bath, soured now or before, would drift back out of the range the acid goes by its alkalinity
    instead: its pH is below the target for the moment. Within 0.06 of PHREEQC the next day. Raises as
    `vatside.chemistry.adjust.acid_for_pH`. [HarnedEhlers1933] [PlummerBusenberg1982]
    """
    spent = spent_and_cool(bath)
    amount = acid_for_pH(spent, target_pH, acid)
    has_acid = amount or spent.acetate or spent.citrate
    if not has_acid or not rises_above(high, with_acid(spent, acid, amount)):
        return AcidNeeded(amount)
    enough = max(amount, _that_stays(high, spent, acid))
    soured = with_acid(spent, acid, enough)
    return AcidNeeded(enough, aired_pH(soured), solve(soured).pH, amount)


def alkalinity(bath: Bath) -> float:
    """Give the moles of strong acid that a bath takes until its carbonate has all gone as carbonic acid; 0 or more."""
    metals = bath.sodium + 2 * (bath.calcium + bath.magnesium)
    bound = 2 * (bath.sulfite + bath.sulfate + bath.dithionite) + bath.strong_anions + bath.leuco
    return max(metals - bound - bath.acetate - 3 * bath.citrate, 0.0)


def acid_by_alkalinity(bath: Bath, acid: Acid, left: float = 0.0) -> float:
    """Give the vinegar (mL of 5 %) or citric acid (g) that leaves so much alkalinity (mol/kg)."""
    meets = max(alkalinity(bath) - left * bath.water_kg, 0.0)
    if acid == "vinegar":
        return meets * substance("acetic acid").molar_mass / VINEGAR_STRENGTH
    return meets / 3 * substance("citric acid").molar_mass


def with_acid(bath: Bath, acid: Acid, amount: float) -> Bath:
    """Give a bath with vinegar (mL of 5 %) or citric acid (g) in it. Raises `OutOfRange` below zero."""
    return add_vinegar(bath, amount) if acid == "vinegar" else add(bath, acid, amount)


def aired_pH(bath: Bath) -> float:
    """Give the pH of a bath, at its own temperature, once its carbonic acid has gone into the air."""
    return solve(open_to_air(bath)).pH


def rises_above(high: float, bath: Bath) -> bool:
    """Tell whether a bath with carbonate in it passes a pH once its carbonic acid has gone into the air."""
    return bath.carbonate > 0 and aired_pH(bath) > high


def _that_stays(high: float, spent: Bath, acid: Acid) -> float:
    """Give the acid that leaves as much alkalinity as the range has room for in the air, 0.005 mol/kg or less."""
    amount = 0.0
    for halved in range(MOST_HALVINGS):
        amount = acid_by_alkalinity(spent, acid, ALKALINITY_LEFT / 2**halved)
        if not rises_above(high, with_acid(spent, acid, amount)):
            break
    return amount
