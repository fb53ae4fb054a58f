"""What a look at the stock in its jar means: its warmth, its pH beside the one worked out, whether it is ready."""

from __future__ import annotations

from collections.abc import Iterator

from vatside.catalogue.looks import Bottom, Clarity, Colour
from vatside.chemistry.substances import naoh_equivalent
from vatside.plan.measures import likely, method_of, powder, reducer_of, species_of
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.baths import Dose, named_amount, stock_bath
from vatside.units import show_minutes, show_temperature
from vatside.vat.account import Account
from vatside.vat.reading import BLUE, Reading
from vatside.vat.trust import Comparison, compare


def stock_account(plan: Plan, sheet: Sheet) -> Account:
    """Give the account of the stock as the sheet makes it. Raises `OutOfRange`."""
    return Account(stock_bath(plan, sheet.value), species_of(plan, "alkali"), tap=likely(plan))


def stock_comparison(reading: Reading, plan: Plan, sheet: Sheet) -> Comparison | None:
    """Hold a pH read in the jar against the one worked out; None for a reading without pH or an odd stock."""
    try:
        return compare(stock_account(plan, sheet), reading, "stock")
    except ValueError:
        return None


def stock_words(reading: Reading, plan: Plan, sheet: Sheet) -> tuple[str, ...]:
    """Say what a reading of the stock means: the warmth first, then its alkali, then what is undissolved [Mairet1938].

    A clear stock that is short of alkali is not ready.
    """
    short = _short_of_alkali(stock_comparison(reading, plan, sheet), plan, sheet)
    looks = () if short and reading.clarity is Clarity.CLEAR else tuple(_looks(reading, plan, sheet))
    return (*_warmth(reading, plan), *short, *looks)


def _short_of_alkali(pH: Comparison | None, plan: Plan, sheet: Sheet) -> tuple[str, ...]:
    """Offer the alkali that a stock is short of by its pH, as weighed; nothing for one that reads as worked out."""
    if pH is None or pH.agrees or pH.measured > pH.predicted:
        return ()
    what, rules = powder(plan, "alkali"), method_of(plan).stock
    dose = Dose(what, -pH.lye_g / naoh_equivalent(what.material.species) / what.purity)
    whole = Dose(what, sheet.value("stock.alkali") + dose.grams)
    low, again = (
        show_temperature(rules.temperature.low or rules.temperature.value),
        show_minutes(rules.look_every.value),
    )
    return (
        f"Short of alkali: pH {pH.measured:.1f}, worked out {pH.predicted:.1f}. It does not go into the vat yet. "
        f"Read it once more; if it stays so, stir {named_amount(plan, dose)}, dissolved in a little cold water, into "
        f"the stock, keep it at {low} or warmer, wait {again}, look and read again. With it the stock has "
        f"{named_amount(plan, whole)}: write that into its row, and vat and shelf follow.",
    )


def _warmth(reading: Reading, plan: Plan) -> Iterator[str]:
    rules, at = method_of(plan).stock, reading.celsius
    low = rules.temperature.low or rules.temperature.value
    if at is None:
        return
    warmth, ceiling = show_temperature(at), show_temperature(rules.ceiling.value)
    if at > rules.ceiling.value:
        yield f"{warmth} is above the {ceiling} that a stock stands: take it out of its bath until it has come down."
    elif at < low:
        yield f"{warmth} is below {show_temperature(low)}: warm the bath round the jar, and give it longer."
    else:
        yield f"{warmth} is right: between {show_temperature(low)} and {ceiling}."


NOT_YET = (Colour.GREEN, Colour.GREY, Colour.GREY_GREEN)
"""Looks of a stock in which blue is left, however clear it is: a ready one shows no trace of green [Mairet1938]."""
MORE_REDUCER = 0.25
"""Of the reducer in a stock that stays blue, what more it gets at once: a guess."""


def _looks(reading: Reading, plan: Plan, sheet: Sheet) -> Iterator[str]:
    rules = method_of(plan).stock
    again, alkali = show_minutes(rules.look_every.value), powder(plan, "alkali").material.short.lower()
    if reading.colour is Colour.GREENISH_WHITE or reading.clarity is Clarity.MILKY:
        yield f"White or milky: the dye is reduced and not dissolved. A little more alkali, {again}, look again."
    elif reading.bottom is Bottom.BLUE or reading.colour in BLUE:
        had = sheet.value("stock.reducer", 0.0)
        more, whole = (Dose(powder(plan, "reducer"), times * had) for times in (MORE_REDUCER, 1 + MORE_REDUCER))
        much = named_amount(plan, more) if had else "a little more reducer"
        row = f" With it the stock has {named_amount(plan, whole)}: write that into its row." if had else ""
        yield f"Still blue: unreduced dye. Stir gently, give it {again} more; then {much}, and {again} again (w).{row}"
    elif reading.colour in NOT_YET:
        yield f"{reading.colour.capitalize()}: not all of the dye is reduced yet. Stir gently, look again in {again}."
    elif reading.colour is Colour.BROWN and reducer_of(plan).sours:
        yield f"Brown: its sugar has turned to acid. A little {alkali}, {again}, read its pH and look again."
    elif reading.clarity is Clarity.CLOUDY:
        yield f"Cloudy: not ready yet. Stir gently, look again in {again}."
    elif reading.clarity is Clarity.CLEAR:
        yield "Clear: it may go into the vat once nothing blue is left at the bottom."
