"""The dips of one lot: how long, how often, how many at once, and what they come to."""

from __future__ import annotations

from math import floor

from attrs import evolve

from vatside.catalogue.dyeing import Dipping, uptakes
from vatside.recipe import dip_live as live
from vatside.recipe import dip_say as say
from vatside.recipe.dip_item import DipLot
from vatside.recipe.forecast import is_pale
from vatside.recipe.measures import fibre_of, powder
from vatside.recipe.plan import Lot, Plan
from vatside.recipe.sheet import Input
from vatside.recipe.so_far import SoFar
from vatside.recipe.turns import in_turn
from vatside.recipe.uptake import (
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


def work_out(sheet: Worksheet, item: DipLot, tank: Tank, so_far: SoFar) -> Outcome:
    """Put the figures of one lot on the worksheet; give what its dips come to and leave in the vat.

    A lot that is under way goes by the vat as it was when its first piece went in, so that its pieces stay alike, and
    on from what the pieces have and the vat holds now.
    """
    began = so_far.began.get(item.lot.id, tank)
    _times(sheet, item, began)
    _entry(sheet, item)
    take = _take(sheet, item)
    if live.is_under_way(item, so_far):
        return _go_on(sheet, item, tank, so_far, take, live.dips_at_first(item, began, tank, take))
    return _begin(sheet, item, tank, so_far, take)


def _times(sheet: Worksheet, item: DipLot, tank: Tank) -> None:
    usual = item.usual
    dip = sheet.put(
        item.id("dip"),
        "Dip for",
        _dip_minutes(usual, tank.strength),
        "min",
        sheet.worked(
            "by depth, longer in a vat weaker than usual for it, up to the longest usual",
            Input("depth", item.depth, "%"),
            Input("usual", usual.dip.value, "min"),
            Input("in a vat of", usual.strength.value, "g/L"),
            Input("this vat", tank.strength, "g/L"),
            source=usual.dip.source,
        ),
        pinnable=True,
    )
    sheet.put(
        item.id("air"),
        "Air for",
        max(usual.air.value, dip),
        "min",
        sheet.worked(
            "by depth, at least as long as dipped",
            Input("depth", item.depth, "%"),
            Input("usual", usual.air.value, "min"),
            item.id("dip"),
            source="Mairet1938",
        ),
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
        item.id("piece"),
        "One piece weighs",
        piece,
        "g",
        sheet.worked("lot as it comes to the vat ÷ pieces", Input("lot", item.grams, "g"), Input("pieces", pieces, "")),
    )
    room = floor(sheet["vat.entry"] / piece + 1e-6) if piece else 1
    at_once = sheet.put(
        item.id("at_once"),
        "In the vat at once",
        min(max(room, 1), pieces),
        "",
        sheet.worked(
            "fibre at one entry ÷ one piece, rounded down, one at least",
            "vat.entry",
            item.id("piece"),
            Input("pieces", pieces, ""),
        ),
        pinnable=True,
    )
    turn = in_turn(sheet[item.id("air")], sheet[item.id("dip")]) * max(round(at_once), 1)
    sheet.put(
        item.id("in_turn"),
        "Pieces in turn",
        min(turn, pieces),
        "",
        sheet.worked(
            "(air ÷ dip, rounded down, + 1) × in the vat at once: so many keep the vat busy",
            item.id("air"),
            item.id("dip"),
            item.id("at_once"),
            Input("pieces", pieces, ""),
        ),
    )


def _begin(sheet: Worksheet, item: DipLot, tank: Tank, so_far: SoFar, take: Take) -> Outcome:
    """A lot that has not been in yet."""
    planned = dip_until(tank, item.lot.pieces, item.piece_kg, take, item.depth)
    _one_dip(sheet, item, take, "First dip lays on", planned.first)
    dips = _dips(sheet, item, tank, planned.dips)
    own = {f"{item.lot.id}.{number}" for number in range(1, item.lot.pieces + 1)}
    sheet.piece_dips |= {piece: max(dips, least) for piece, least in so_far.at_least.items() if piece in own}
    outcome = dip_until(tank, item.lot.pieces, item.piece_kg, take, item.depth, dips)
    _reaches(sheet, item, take, outcome.depth)
    _stronger(sheet, item, tank, take, outcome)
    return outcome


def _go_on(sheet: Worksheet, item: DipLot, tank: Tank, so_far: SoFar, take: Take, at_first: int) -> Outcome:
    """A lot under way, or done: what its pieces have, and what the dips to come add."""
    done = live.is_done(item, so_far)
    turns = live.Turns(tank, item, so_far, take, sheet[item.id("in_turn")])
    each = turns.at_least(turns.dips_in_all(at_first))
    _one_dip(sheet, item, take, "One more dip lays on", turns.go_on([0] * len(each)).first)
    dips = _dips(sheet, item, tank, max(each, default=0), had=live.most_had(item, so_far), pinnable=not done)
    if (held := sheet.rows[item.id("dips")].pin) is not None:
        each = turns.at_least(turns.held_at(round(held.value)))
    sheet.piece_dips |= {f"{item.lot.id}.{number}": many for number, many in enumerate(each, start=1)}
    outcome = turns.go_on(each)
    _reaches(sheet, item, take, outcome.depth, done=done)
    if is_pale(outcome.depth, item.depth):
        say.pale(sheet, item, tank, outcome, done=done, over=not any(live.dips_to_come(item, so_far, each)))
    elif not done:
        say.many_dips(sheet, item, dips)
    return outcome


def _dips(sheet: Worksheet, item: DipLot, tank: Tank, worked: int, *, had: int = 0, pinnable: bool = True) -> int:
    usual = item.usual.dips
    dips = sheet.put(
        item.id("dips"),
        "Dips",
        worked,
        "",
        sheet.worked(
            "as many as it takes to come within 5 % of the depth while the vat weakens; under way: those it "
            "had, and as many more",
            Input("depth", item.depth, "%"),
            Input("vat", tank.strength, "g/L"),
            item.id("first"),
            Input("usual, from", usual.low or usual.value, ""),
            Input("usual, to", usual.high or usual.value, ""),
            source="guess",
        ),
        pinnable=pinnable,
        least=had,
    )
    return round(dips)


def _reaches(sheet: Worksheet, item: DipLot, take: Take, depth: float, *, done: bool = False) -> None:
    sheet.put(
        item.id("reaches"),
        "Came to" if done else "Comes to",
        depth,
        "%",
        sheet.worked(
            "sum of the dips, done and to come, by the account of the vat − what the rinses take off",
            item.id("dips"),
            item.id("first"),
            Input("rinsed off", 100 * take.rinsed, "%"),
            source="guess",
        ),
        rough=True,
    )


def _take(sheet: Worksheet, item: DipLot) -> Take:
    """What a piece takes in one dip, each part open to be held."""
    fibre = fibre_of(item.lot)
    usual = usual_take(sheet.plan, item.lot, sheet[item.id("dip")])
    carried = sheet.put(
        item.id("carried"),
        "Liquor it carries",
        usual.carried,
        "L/kg",
        sheet.worked(
            "water held after pressing by hand; spun it holds about half",
            Input("water held", fibre.held.value, "%"),
            source=fibre.held.source,
        ),
        pinnable=True,
    )
    guess = uptakes()[fibre.group].takes
    takes = sheet.put(
        item.id("takes"),
        "Takes by itself in 5 min",
        usual.takes,
        "L/kg",
        sheet.worked(
            "a starting value: replace it by what your own pieces show",
            Input("between", guess.low or 0, "L/kg"),
            Input("and", guess.high or 0, "L/kg"),
            source=guess.source,
        ),
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


def _one_dip(sheet: Worksheet, item: DipLot, take: Take, label: str, depth: float) -> None:
    sheet.put(
        item.id("first"),
        label,
        depth,
        "%",
        sheet.worked(
            "strength × (carried + takes × √(dip ÷ 5 min)) − what the rinses take off; mean of the pieces",
            Input("a kilogram takes the dye of", take.laid(1.0), "L/kg"),
            item.id("carried"),
            item.id("takes"),
            item.id("dip"),
            Input("√(dip ÷ 5 min)", time_factor(take.minutes), ""),
            Input("rinsed off", 100 * take.rinsed, "%"),
            source="guess",
        ),
        rough=True,
    )


def _stronger(sheet: Worksheet, item: DipLot, tank: Tank, take: Take, outcome: Outcome) -> None:
    """What the vat would have to hold for the usual number of dips, where it takes more; and who comes out pale."""
    usual, pale = item.most_usual, is_pale(outcome.depth, item.depth)
    if item.depth <= 0 or item.grams <= 0 or (not pale and outcome.dips <= usual):
        return
    sheet.put(
        item.id("strength"),
        f"Vat for {usual} dips",
        strength_for(tank, item.lot.pieces, item.piece_kg, take, item.depth, usual),
        "g/L",
        sheet.worked(
            "strength × depth wanted ÷ what the usual number of dips comes to; the rest stays in the vat",
            Input("this vat", tank.strength, "g/L"),
            Input("wanted", item.depth, "%"),
            Input("usual dips", usual, ""),
            source=item.usual.dips.source,
        ),
        rough=True,
    )
    say.too_weak(sheet, item, outcome, pale=pale)
