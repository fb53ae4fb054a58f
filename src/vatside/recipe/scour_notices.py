"""What the dyer should hear about the scour before she fills a pot."""

from __future__ import annotations

from vatside.plan.batches import Bath, baths
from vatside.plan.figure_text import plain, two_digits
from vatside.plan.measures import celsius, is_greasy, is_known, likely, litres, share
from vatside.plan.sheet import Stage, Weight
from vatside.recipe.stages.scour import POT_WITH_FIBRE
from vatside.recipe.worksheet import Worksheet
from vatside.units.show import capital

WIDE_RATIO = 2.0
"""A pot this many times larger than its liquor ratio asks wastes heat: common practice, no source."""
TIGHT_RATIO = 0.5
"""Below this share of its liquor ratio fibre cannot move: common practice, no source."""
SOAP = "soap"
SOAP_TAKEN_G = 0.609
"""Soap that each mmol of hardness takes at the least: two of sodium oleate, 304.45 g/mol [Reactions]; soap that holds
water or glycerol goes in larger amounts."""
SODA_TAKEN_G = 0.106
"""Soda ash that takes each mmol of hardness out as chalk, g: one of sodium carbonate, 105.99 g/mol [Reactions]. It is
used up by that, and far less than the 2.5 g/L with which fine wool is scoured [Beech1902]."""
LEAST_LEFT = 0.5
"""Of the soap that the recipe has, to be left to wash: ours."""
MOST_LOADS = 12
"""Pot loads written out one by one; more than that is no kitchen."""


def look_over(sheet: Worksheet) -> None:
    """Add every notice about the scour baths."""
    sheet.stage = Stage.SCOUR
    for bath in baths(sheet.plan):
        if not bath.unscoured:
            _heat(sheet, bath)
            _soap(sheet, bath)
        if bath.scour.rinses:
            _pot(sheet, bath)
            _loads(sheet, bath)
        _loss(sheet, bath)


def _heat(sheet: Worksheet, bath: Bath) -> None:
    hold, ceiling = bath.id("hold_temperature"), sheet[bath.id("ceiling")]
    if sheet[hold] > ceiling:
        harms = {"protein": "it felts and loses its lustre", "silk": "it loses its lustre"}
        harm = harms.get(bath.fibre.group, "it is harmed")
        sheet.say(Weight.DANGER, f"{_start(bath)} above {plain(ceiling, 'degC')} in the scour: {harm}.", hold)
    gap = sheet[bath.id("start")] - celsius(sheet.plan.water.room)
    if bath.gentle and gap > bath.fibre.step.value + 0.5:
        sheet.say(
            Weight.CARE,
            f"The {bath.name} comes from the room into water {plain(gap, 'K')} warmer; "
            f"it takes {plain(bath.fibre.step.value, 'K')} at a time.",
            bath.id("start"),
        )


def _soap(sheet: Worksheet, bath: Bath) -> None:
    """Soap meets the lime of hard water before anything else: only what that leaves washes [Smith1906]."""
    soap, water = sheet.rows.get(bath.id(SOAP)), sheet[bath.id("load_water")]
    if soap is None or not is_known(sheet.plan):
        return
    hardness = likely(sheet.plan).hardness * water
    taken = SOAP_TAKEN_G * hardness
    if soap.value - taken >= LEAST_LEFT * soap.worked:
        return
    much = "all" if taken >= soap.value else "most"
    enough, soda = (plain(two_digits(grams), "g") for grams in (soap.worked + taken, SODA_TAKEN_G * hardness))
    sheet.say(
        Weight.CARE,
        f"Water as hard as yours takes {much} of the soap for the {bath.name}: {plain(two_digits(taken), 'g')} in a "
        f"pot of {plain(water, 'L')} turn to a sticky scum that keeps the dye out, before any washes. Stir {soda} of "
        f"soda ash into each pot first and let the chalk settle, then dissolve the soap; or take {enough} of soap; "
        "or a neutral detergent, of which hard water takes none.",
        soap.id,
    )


def _start(bath: Bath) -> str:
    return capital(bath.name)


def _pot(sheet: Worksheet, bath: Bath) -> None:
    pot = litres(sheet.plan, sheet.plan.vessels.scour_pot)
    if sheet[bath.id("level")] > 100 * POT_WITH_FIBRE + 0.5:
        sheet.say(Weight.CARE, f"With the {bath.name} in, the {plain(pot, 'L')} pot runs over.", bath.id("level"))
    liquor, water = sheet[bath.id("liquor")], sheet[bath.id("load_water")] * sheet[bath.id("loads")]
    if liquor and water > WIDE_RATIO * liquor:
        sheet.say(
            Weight.NOTE,
            f"The pot holds {water / liquor:.1f} times the liquor the {bath.name} needs: "
            "a smaller pot, or less water, heats sooner.",
            bath.id("load_water"),
        )
    if water < TIGHT_RATIO * liquor:
        sheet.say(
            Weight.CARE,
            f"The {bath.name} is crowded: {plain(water, 'L')} in all where {plain(liquor, 'L')} let it move; "
            "take more pot loads.",
            bath.id("loads"),
        )


def _loads(sheet: Worksheet, bath: Bath) -> None:
    """A pot too small for the fibre costs the day its hours."""
    loads = round(sheet[bath.id("loads")])
    if loads < 2:
        return
    text = f"The {bath.name} goes through the pot in {loads} loads, one after the other{_spared(sheet, bath, loads)}."
    if loads > MOST_LOADS:
        text = f"{text} Only {MOST_LOADS} stand in the steps: take a larger pot, or less fibre."
    sheet.say(Weight.CARE if loads > MOST_LOADS else Weight.NOTE, text, bath.id("loads"))


def _spared(sheet: Worksheet, bath: Bath, loads: int) -> str:
    """Say what a pot for all of it at once spares, by the hold and the cooling of the other loads; not the heating."""
    if bath.unscoured:
        return ""
    minutes = bath.scour.baths * sheet[bath.id("hold")] + sheet.rows[bath.id("cool")].value
    pot = max(sheet[bath.id("liquor")], 0.0) / share(sheet.plan.vessels.scour_fill)
    spared = plain(two_digits((loads - 1) * minutes), "min")
    ready = "" if any(is_greasy(lot) for lot in bath.lots) else "; fibre that comes ready scoured needs no bath"
    return f": a pot of {plain(two_digits(pot), 'L')} takes it at once and spares about {spared}{ready}"


def _loss(sheet: Worksheet, bath: Bath) -> None:
    """Depth counts on clean fibre, and nobody knows how much grease there is before it is gone."""
    loss = bath.scour.loss
    if loss.value and bath.grams:
        ends = f"{loss.low:.0f} to {loss.high:.0f} %" if loss.low and loss.high else f"{loss.value:.0f} %"
        sheet.say(
            Weight.NOTE,
            f"The {bath.name} loses {ends} in the scour; dye is worked out for {100 - loss.value:.0f} % of it. "
            "Weigh it dry again before the vat.",
            bath.id("dry_mass"),
        )
