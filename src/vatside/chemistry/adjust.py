"""How much alkali or acid brings a bath to a pH (the charge balance turned round), how much acid lets a spent bath go.

A spent bath is let go once it comes to a pH, and stays in its range when its carbonic acid has gone into the air.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Literal

from attrs import frozen

from vatside.chemistry.bath import Bath, add_grams, add_vinegar, aerate, at_temperature, gives_off_sulfur_dioxide
from vatside.chemistry.errors import CannotReach, Dangerous, require_not_negative, require_positive
from vatside.chemistry.liquor import MOST, lacking, open_to_air, solve
from vatside.chemistry.roots import falling_root
from vatside.chemistry.substances import BAKING_SODA, HYDROXIDE, VINEGAR_STRENGTH, substance
from vatside.chemistry.water import pKw

Acid = Literal["vinegar", "citric acid", "citric acid monohydrate"]

LOWEST_LIVE_PH = 9.0
"""Below it acid may drive sulfur dioxide out of a vat that still reduces: common practice, no source."""

MOST_VINEGAR = 20_000.0
"""Vinegar for each kilogram of water, mL: by then the bath is vinegar."""

CLOSE_ENOUGH = 1e-9
"""How close an amount is worked out, g or mL for each kilogram of water."""


def alkali_for_pH(
    bath: Bath, target_pH: float, name: str, temperature_C: float | None = None, *, chalk: bool = False
) -> float:
    """Give the grams of a pure alkali that raise a bath to a pH, at its own or another temperature.

    Any alkali of `vatside.chemistry.substances`; 0 when the pH is there already. Raises `CannotReach` when no amount of
    it does, `OutOfRange` as `vatside.chemistry.liquor.solve`. [IAPWS-R11] [PlummerBusenberg1982] [LimeFit]
    """
    now = solve(bath, temperature_C, chalk=chalk)
    if now.pH >= target_pH:
        return 0.0

    def with_grams(grams: float) -> float:
        return solve(add_grams(bath, name, grams), temperature_C, chalk=chalk).pH

    most = _most_grams(bath, name)
    highest = with_grams(most)
    if highest < target_pH:
        raise CannotReach(f"{name.capitalize()} brings this bath to pH {highest:.1f} at most, not to {target_pH:g}.")
    a_gram = substance(name).molar_mass * bath.water_kg / HYDROXIDE.get(name, 1.0)
    charge, steep = lacking(bath, target_pH, now, chalk=chalk)
    return _amount(lambda grams: target_pH - with_grams(grams), most, charge * a_gram, bath, -1 / (steep * a_gram))


def acid_for_pH(bath: Bath, target_pH: float, acid: Acid) -> float:
    """Give the vinegar (mL of 5 %) or citric acid (g) that lowers a bath to a pH at its own temperature.

    0 when the pH is there already; lime at the bottom is dissolved and counted. Raises `Dangerous` when dithionite or
    thiourea dioxide is still about and the target lies below 9, `CannotReach` when no amount of the acid does it, and
    `OutOfRange` as `vatside.chemistry.liquor.solve`. [HarnedEhlers1933] [BatesPinching1949]
    """
    now = solve(bath)
    if now.pH <= target_pH:
        return 0.0
    if target_pH < LOWEST_LIVE_PH and gives_off_sulfur_dioxide(bath):
        raise Dangerous(
            "There is still reducer in this bath, and acid would drive sulfur dioxide out of it: "
            "stir it in the air until it is blue and stays blue, then add the acid."
        )

    def soured(amount: float) -> float:
        return solve(with_acid(bath, acid, amount)).pH

    most = MOST_VINEGAR * bath.water_kg if acid == "vinegar" else _most_grams(bath, acid)
    lowest = soured(most)
    if lowest > target_pH:
        raise CannotReach(f"{acid.capitalize()} brings this bath down to pH {lowest:.1f}, not to {target_pH:g}.")
    charge, steep = lacking(bath, target_pH, now)
    a_mole = _that_meets(bath.water_kg, acid)
    return _amount(lambda amount: soured(amount) - target_pH, most, -charge * a_mole, bath, -1 / (steep * a_mole))


def bicarbonate_for_pH(bath: Bath, target_pH: float, most_g: float) -> float:
    """Give the grams of pure baking soda that lower a bath to a pH at its own temperature; 0 when it is there already.

    It turns free hydroxide to carbonate and stands near pH 8 by itself. Raises `CannotReach` when `most_g` does not do
    it, `OutOfRange` as `vatside.chemistry.liquor.solve`. [PlummerBusenberg1982]
    """
    if solve(bath).pH <= target_pH:
        return 0.0

    def with_grams(grams: float) -> float:
        return solve(add_grams(bath, BAKING_SODA, grams)).pH

    lowest = with_grams(most_g)
    if lowest > target_pH:
        raise CannotReach(f"{most_g:.3g} g of baking soda brings this bath down to pH {lowest:.1f}, not {target_pH:g}.")
    return _amount(lambda grams: with_grams(grams) - target_pH, most_g, most_g / 10, bath)


def _most_grams(bath: Bath, name: str) -> float:
    """Give the grams with which the bath gets as strong as can be worked with."""
    room: float = min(
        (MOST[total] * bath.water_kg - getattr(bath, total)) / count for total, count in substance(name).gives
    )
    return max(room, 0.0) * substance(name).molar_mass * (1 - 1e-12)


def _amount(
    falling: Callable[[float], float], most: float, guess: float, bath: Bath, slope: float | None = None
) -> float:
    slope = -1 / bath.water_kg if slope is None else slope
    return falling_root(falling, 0.0, most, guess, slope, CLOSE_ENOUGH * bath.water_kg)


def dose_from_titration(sample_ml: float, vinegar_ml: float, vat_l: float) -> float:
    """Give the litres of vinegar for a vat (L) from the mL that brought a sample (mL) to the pH wanted.

    Vinegar of the same bottle; sample taken after stirring, so that lime at the bottom is in it. Common practice, no
    source. Raises `OutOfRange` for no sample or less than nothing.
    """
    require_positive("sample", sample_ml, "mL")
    require_not_negative("amount of vinegar", vinegar_ml, "mL")
    require_not_negative("vat", vat_l, "L")
    return vinegar_ml * vat_l / sample_ml


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
        return target_pH - solve(add_grams(bath, species, grams)).pH

    enough = falling_root(short, 0.0, SEARCH * guess, guess, -PH_A_DOUBLING / guess, guess / 1000)
    # At the end of the search, or for a bath that needs none, the thorough way knows better.
    if enough > 0.99 * SEARCH * guess or enough < guess / 500:
        return alkali_for_pH(bath, target_pH, species)
    return enough


def _alkali_guess(bath: Bath, target_pH: float, species: str) -> float:
    """Guess the grams that bind the acids of a bath above pH 8 and leave the hydroxide of the pH."""
    free = 10 ** (target_pH - pKw(bath.temperature_C)) * bath.water_kg
    acids = 2 * (bath.sulfite + bath.sulfate + bath.dithionite) + bath.strong_anions + bath.leuco
    there = bath.sodium + 2 * (bath.calcium + bath.ferrous)
    return (free + acids - there) * substance(species).molar_mass / HYDROXIDE[species]


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
    return max(metals_over_acids(bath), 0.0)


def metals_over_acids(bath: Bath) -> float:
    """Give the charge of a bath's metals beyond what its acids bind, mol; below zero where they bind more.

    The dye counts in its single ion, sulfite and sulfate whole, a carbonate not at all [Reactions].
    """
    metals = bath.sodium + 2 * (bath.calcium + bath.magnesium)
    bound = 2 * (bath.sulfite + bath.sulfate + bath.dithionite) + bath.strong_anions + bath.leuco
    return metals - bound - bath.acetate - 3 * bath.citrate


def acid_by_alkalinity(bath: Bath, acid: Acid, left: float = 0.0) -> float:
    """Give the vinegar (mL of 5 %) or citric acid (g) that leaves so much alkalinity (mol/kg)."""
    return _that_meets(max(alkalinity(bath) - left * bath.water_kg, 0.0), acid)


def _that_meets(moles: float, acid: Acid) -> float:
    """Give the vinegar (mL of 5 %) or citric acid (g) that meets so much strong alkali, mol."""
    if acid == "vinegar":
        return moles * substance("acetic acid").molar_mass / VINEGAR_STRENGTH
    return moles / 3 * substance("citric acid").molar_mass


def with_acid(bath: Bath, acid: Acid, amount: float) -> Bath:
    """Give a bath with vinegar (mL of 5 %) or citric acid (g) in it. Raises `OutOfRange` below zero."""
    return add_vinegar(bath, amount) if acid == "vinegar" else add_grams(bath, acid, amount)


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
