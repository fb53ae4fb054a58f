"""The dips of one lot: how long, how often, how many at once, and what they come to."""

from __future__ import annotations

from math import floor

from attrs import evolve, frozen

from vatside.catalogue.dyeing import Dipping, dipping_for, uptakes
from vatside.recipe.depth import depth_name
from vatside.recipe.measures import clean_grams, fibre_of, powder, share
from vatside.recipe.plan import Lot, Plan
from vatside.recipe.sheet import Input, Weight
from vatside.recipe.show import plain
from vatside.recipe.turns import in_turn
from vatside.recipe.uptake import (
    CLOSE_ENOUGH,
    Outcome,
    Take,
    Tank,
    dip_until,
    starting_takes,
    strength_for,
    time_factor,
)
from vatside.recipe.worksheet import Worksheet
from vatside.units import Kind, to_base

MOST_DIPS = 20
"""Dips of the darkest blue: more of them mean that the vat is too weak; common practice, no source."""


@frozen
class DipLot:
    """A lot on its way through the dips."""

    lot: Lot
    grams: float
    depth: float
    """%."""
    usual: Dipping

    def id(self, name: str) -> str:
        """Give the figure id of one of its quantities."""
        return f"dip.{self.lot.id}.{name}"

    @property
    def piece_kg(self) -> float:
        """Dry mass of one piece, kg."""
        return self.grams / max(self.lot.pieces, 1) / 1000


def dip_lot(plan: Plan, lot: Lot) -> DipLot:
    """Give a lot as it comes to the dips."""
    depth = 100 * share(lot.depth)
    return DipLot(lot, clean_grams(plan, lot), depth, dipping_for(depth))


def work_out(sheet: Worksheet, item: DipLot, tank: Tank) -> Outcome:
    """Put the figures of one lot on the worksheet; give what its dips come to and leave in the vat."""
    _times(sheet, item, tank)
    _entry(sheet, item)
    return _dips(sheet, item, tank)


def _times(sheet: Worksheet, item: DipLot, tank: Tank) -> None:
    usual = item.usual
    dip = sheet.put(
        item.id("dip"), "Dip for", _dip_minutes(usual, tank.strength), "min",
        sheet.worked("by depth, longer in a vat weaker than usual for it, up to the longest usual",
                     Input("depth", item.depth, "%"), Input("usual", usual.dip.value, "min"),
                     Input("in a vat of", usual.strength.value, "g/L"), Input("this vat", tank.strength, "g/L"),
                     source=usual.dip.source),
        pinnable=True,
    )
    sheet.put(
        item.id("air"), "Air for", max(usual.air.value, dip), "min",
        sheet.worked("by depth, at least as long as dipped", Input("depth", item.depth, "%"),
                     Input("usual", usual.air.value, "min"), item.id("dip"), source="Mairet1938"),
        pinnable=True,
    )


def _dip_minutes(usual: Dipping, strength: float) -> float:
    longest = usual.dip.high or usual.dip.value
    if strength <= 0:
        return longest
    wanted = min(usual.dip.value * usual.strength.value / strength, longest)
    return min(max(round(wanted), usual.dip.value), longest)


def _entry(sheet: Worksheet, item: DipLot) -> None:
    pieces, piece = item.lot.pieces, 1000 * item.piece_kg
    sheet.put(
        item.id("piece"), "One piece weighs", piece, "g",
        sheet.worked("lot as it comes to the vat ÷ pieces", Input("lot", item.grams, "g"), Input("pieces", pieces, "")),
    )
    room = floor(sheet["vat.entry"] / piece + 1e-6) if piece else 1
    at_once = sheet.put(
        item.id("at_once"), "In the vat at once", min(max(room, 1), pieces), "",
        sheet.worked("fibre at one entry ÷ one piece, rounded down, one at least", "vat.entry", item.id("piece"),
                     Input("pieces", pieces, "")),
        pinnable=True,
    )
    turn = in_turn(sheet[item.id("air")], sheet[item.id("dip")]) * max(round(at_once), 1)
    sheet.put(
        item.id("in_turn"), "Pieces in turn", min(turn, pieces), "",
        sheet.worked("(air ÷ dip, rounded down, + 1) × in the vat at once: so many keep the vat busy",
                     item.id("air"), item.id("dip"), item.id("at_once"), Input("pieces", pieces, "")),
    )


def _dips(sheet: Worksheet, item: DipLot, tank: Tank) -> Outcome:
    take = _take(sheet, item)
    planned = dip_until(tank, item.lot.pieces, item.piece_kg, take, item.depth)
    _first_dip(sheet, item, take, planned)
    usual = item.usual.dips
    dips = sheet.put(
        item.id("dips"), "Dips", planned.dips, "",
        sheet.worked("as many as it takes to come within 5 % of the depth while the vat weakens",
                     Input("depth", item.depth, "%"), Input("vat", tank.strength, "g/L"), item.id("first"),
                     Input("usual, from", usual.low or usual.value, ""),
                     Input("usual, to", usual.high or usual.value, ""),
                     source="guess"),
        pinnable=True,
    )
    outcome = dip_until(tank, item.lot.pieces, item.piece_kg, take, item.depth, round(dips))
    sheet.put(
        item.id("reaches"), "Comes to", outcome.depth, "%",
        sheet.worked("sum of the dips − what the rinses take off", item.id("dips"), item.id("first"),
                     Input("rinsed off", 100 * take.rinsed, "%"), source="guess"),
        rough=True,
    )
    _stronger(sheet, item, tank, take, outcome)
    return outcome


def _take(sheet: Worksheet, item: DipLot) -> Take:
    """What a piece takes in one dip, each part open to be held."""
    fibre = fibre_of(item.lot)
    usual = usual_take(sheet.plan, item.lot, sheet[item.id("dip")])
    carried = sheet.put(
        item.id("carried"), "Liquor it carries", usual.carried, "L/kg",
        sheet.worked("water held after pressing by hand; spun it holds about half",
                     Input("water held", fibre.held.value, "%"), source=fibre.held.source),
        pinnable=True,
    )
    guess = uptakes()[fibre.group].takes
    takes = sheet.put(
        item.id("takes"), "Takes by itself in 5 min", usual.takes, "L/kg",
        sheet.worked("a starting value: replace it by what your own pieces show",
                     Input("between", guess.low or 0, "L/kg"), Input("and", guess.high or 0, "L/kg"),
                     source=guess.source),
        pinnable=True,
    )
    return evolve(usual, carried=carried, takes=takes)


def usual_take(plan: Plan, lot: Lot, minutes: float) -> Take:
    """Give what a piece of a lot takes in a dip of so many minutes, by catalogue alone."""
    fibre, reducer = fibre_of(lot), powder(plan, "reducer").material.species
    rinsed = uptakes()[fibre.group].rinsed.value / 100
    return Take(fibre.held.value / 100, starting_takes(fibre.group, reducer), minutes, rinsed)


def take_of(plan: Plan, lot: Lot, minutes: float) -> Take:
    """Give what a piece of a lot takes in a dip of so many minutes, by the plan's pins where there are any."""
    usual = usual_take(plan, lot, minutes)
    pins = {pin.figure: pin.amount for pin in plan.pins}
    held = {
        name: to_base(pins[figure], Kind.RATIO)
        for name in ("carried", "takes")
        if (figure := f"dip.{lot.id}.{name}") in pins
    }
    return evolve(usual, **held)


def _first_dip(sheet: Worksheet, item: DipLot, take: Take, planned: Outcome) -> None:
    sheet.put(
        item.id("first"), "First dip lays on", planned.first, "%",
        sheet.worked("strength × (carried + takes × √(dip ÷ 5 min)) − what the rinses take off; mean of the pieces",
                     Input("a kilogram takes the dye of", take.laid(1.0), "L/kg"), item.id("carried"), item.id("takes"),
                     item.id("dip"), Input("√(dip ÷ 5 min)", time_factor(take.minutes), ""),
                     Input("rinsed off", 100 * take.rinsed, "%"), source="guess"),
        rough=True,
    )


def _stronger(sheet: Worksheet, item: DipLot, tank: Tank, take: Take, outcome: Outcome) -> None:
    """What the vat would have to hold for the usual number of dips, where it takes more; and who comes out pale."""
    usual = round(item.usual.dips.high or item.usual.dips.value)
    pale = outcome.depth < 0.995 * CLOSE_ENOUGH * item.depth
    if item.depth <= 0 or item.grams <= 0 or (not pale and outcome.dips <= usual):
        return
    sheet.put(
        item.id("strength"), f"Vat for {usual} dips", strength_for(
            tank, item.lot.pieces, item.piece_kg, take, item.depth, usual), "g/L",
        sheet.worked("strength × depth wanted ÷ what the usual number of dips comes to; the rest stays in the vat",
                     Input("this vat", tank.strength, "g/L"), Input("wanted", item.depth, "%"),
                     Input("usual dips", usual, ""), source=item.usual.dips.source),
        rough=True,
    )
    if pale:
        sheet.say(Weight.CARE, _pale_words(sheet, item, outcome, usual), item.id("reaches"))
    elif outcome.dips > MOST_DIPS:
        words = f"{item.lot.name} would take {outcome.dips} dips: the vat is weak for it. {_cure(sheet, item, usual)}"
        sheet.say(Weight.CARE, words, item.id("dips"))


def _pale_words(sheet: Worksheet, item: DipLot, outcome: Outcome, usual: int) -> str:
    come, wanted = plain(_rough(outcome.depth), "%"), plain(item.depth, "%")
    names = depth_name(outcome.depth), depth_name(item.depth)
    instead = f"{names[0]} ({come}), not {names[1]} ({wanted})" if names[0] != names[1] else f"{come}, not {wanted}"
    many = f" after {outcome.dips} dips" if outcome.dips > MOST_DIPS else ""
    return (
        f"{item.lot.name} comes out {instead}{many}: the vat is too weak by then, or the dips too few. "
        f"{_cure(sheet, item, usual)}"
    )


def _cure(sheet: Worksheet, item: DipLot, usual: int) -> str:
    """Say what vat would do it in the usual dips, and how much powder that takes."""
    strength, pigment = sheet[item.id("strength")], powder(sheet.plan, "indigo")
    grams = strength * sheet["vat.liquor"] / pigment.purity
    much = f"{plain(_rough(grams), 'g')} of {pigment.material.short.lower()} in all, or a smaller tub"
    return f"About {plain(_rough(strength), 'g/L')} would do it in {usual}: {much}."


def _rough(value: float) -> float:
    return float(f"{value:.2g}")


