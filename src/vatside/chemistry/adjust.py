"""How much alkali or acid brings a bath to a pH: the charge balance turned round."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from vatside.chemistry.alkalis import BAKING_SODA, HYDROXIDE
from vatside.chemistry.bath import Bath
from vatside.chemistry.errors import CannotReach, Dangerous, require_not_negative, require_positive
from vatside.chemistry.liquor import MOST, lacking, solve
from vatside.chemistry.roots import falling_root
from vatside.chemistry.substances import substance
from vatside.chemistry.vat import add, add_vinegar, gives_off_sulfur_dioxide

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
        return solve(add(bath, name, grams), temperature_C, chalk=chalk).pH

    most = _most_grams(bath, name)
    highest = with_grams(most)
    if highest < target_pH:
        raise CannotReach(f"{name.capitalize()} brings this bath to pH {highest:.1f} at most, not to {target_pH:g}.")
    a_gram = substance(name).molar_mass * bath.water_kg / HYDROXIDE.get(name, 1.0)
    charge, steep = lacking(bath, target_pH, now, chalk=chalk)
    return _amount(lambda grams: target_pH - with_grams(grams), most, charge * a_gram, bath, -1 / (steep * a_gram))


def acid_for_pH(
    bath: Bath, target_pH: float, acid: Acid, temperature_C: float | None = None, *, chalk: bool = False
) -> float:
    """Give the vinegar (mL of 5 %) or citric acid (g) that lowers a bath to a pH, at its own or another temperature.

    0 when the pH is there already; lime at the bottom is dissolved and counted. Raises `Dangerous` when dithionite or
    thiourea dioxide is still about and the target lies below 9, `CannotReach` when no amount of the acid does it, and
    `OutOfRange` as `vatside.chemistry.liquor.solve`. [HarnedEhlers1933] [BatesPinching1949]
    """
    if solve(bath, temperature_C, chalk=chalk).pH <= target_pH:
        return 0.0
    if target_pH < LOWEST_LIVE_PH and gives_off_sulfur_dioxide(bath):
        raise Dangerous(
            "There is still reducer in this bath, and acid would drive sulfur dioxide out of it: "
            "stir it in the air until it is blue and stays blue, then add the acid."
        )

    def with_acid(amount: float) -> float:
        sour = add_vinegar(bath, amount) if acid == "vinegar" else add(bath, acid, amount)
        return solve(sour, temperature_C, chalk=chalk).pH

    most = MOST_VINEGAR * bath.water_kg if acid == "vinegar" else _most_grams(bath, acid)
    lowest = with_acid(most)
    if lowest > target_pH:
        raise CannotReach(f"{acid.capitalize()} brings this bath down to pH {lowest:.1f}, not to {target_pH:g}.")
    return _amount(lambda amount: with_acid(amount) - target_pH, most, bath.water_kg, bath)


def bicarbonate_for_pH(bath: Bath, target_pH: float, most_g: float) -> float:
    """Give the grams of pure baking soda that lower a bath to a pH at its own temperature; 0 when it is there already.

    It turns free hydroxide to carbonate and stands near pH 8 by itself. Raises `CannotReach` when `most_g` does not do
    it, `OutOfRange` as `vatside.chemistry.liquor.solve`. [PlummerBusenberg1982]
    """
    if solve(bath).pH <= target_pH:
        return 0.0

    def with_grams(grams: float) -> float:
        return solve(add(bath, BAKING_SODA, grams)).pH

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
