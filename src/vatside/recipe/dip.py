"""The dips of all lots: in which turn, how long it takes, and what becomes of vat, water, heat and indigotin."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil, exp, inf

from vatside.catalogue.dyeing import dipping_for, pauses
from vatside.chemistry import indigo, oxygen
from vatside.recipe import dip_live as live
from vatside.recipe import dip_lot as dip_lots
from vatside.recipe.depth import depth_name
from vatside.recipe.dip_item import DipLot, dip_lot
from vatside.recipe.measures import celsius, fibre_of, powder, share
from vatside.recipe.plan import Lot, Plan
from vatside.recipe.sheet import Input, Stage, Weight
from vatside.recipe.show import plain
from vatside.recipe.so_far import NOTHING, SoFar
from vatside.recipe.turns import throughput
from vatside.recipe.uptake import Outcome, Tank
from vatside.recipe.worksheet import Worksheet

GROUP_ORDER = ("protein", "silk", "cellulose")
"""Protein before cellulose: the pH is raised later, not lowered. Common practice, no source."""


def dip_order(plan: Plan, strength: float = inf) -> tuple[Lot, ...]:
    """Give the lots in the order in which they go in: protein first, then dark to light while the vat weakens.

    Light goes first into a vat (`strength` in g/L) that is right for it and too weak for the dark: stock for the dark
    can come in between. Common practice, no source.
    """
    groups = ([lot for lot in plan.lots if fibre_of(lot).group == group] for group in GROUP_ORDER)
    return tuple(lot for group in groups for lot in _by_depth(group, strength))


def _by_depth(lots: list[Lot], strength: float) -> list[Lot]:
    light = light_first(lots, strength)
    return sorted(lots, key=lambda lot: share(lot.depth) if light else -share(lot.depth))


def light_first(lots: Iterable[Lot], strength: float) -> bool:
    """Tell whether a vat (g/L) is as strong as is usual for the lightest of some lots, and too weak for the darkest."""
    depths = sorted(100 * share(lot.depth) for lot in lots)
    if not depths:
        return False
    light, dark = (dipping_for(depth).strength for depth in (depths[0], depths[-1]))
    return (light.low or 0.0) <= strength <= (light.high or inf) and strength < (dark.low or 0.0)


def work_out(sheet: Worksheet, so_far: SoFar = NOTHING) -> None:
    """Put every figure of the dips on the worksheet: from the plan, or on from what was done."""
    sheet.stage = Stage.DIP
    lots = [dip_lot(sheet.plan, lot) for lot in dip_order(sheet.plan, sheet["vat.strength"])]
    tank, done = so_far.tank or Tank(sheet["vat.liquor"], sheet["vat.strength"]), []
    for item in lots:
        sheet.group = item.lot.name if len(lots) > 1 else ""
        outcome = dip_lots.work_out(sheet, item, tank, so_far)
        done.append(outcome)
        tank = outcome.tank
    sheet.group = ""
    _pauses(sheet)
    _in_all(sheet, lots, so_far)
    _water(sheet, lots)
    _balance(sheet, lots, done, so_far)
    _raise(sheet)
    _say_order(sheet, lots)


def _pauses(sheet: Worksheet) -> None:
    rules = pauses()
    rows = (
        ("rest_after", "Long rest after work of", rules.work, "min"),
        ("rest", "Long rest", rules.rest, "min"),
        ("entries", "Short rest after entries", rules.entries, ""),
        ("short_rest", "Short rest", rules.short_rest, "min"),
    )
    for name, label, fact, unit in rows:
        working = sheet.worked("for any vat", source=fact.source)
        sheet.put(f"dip.{name}", label, fact.value, unit, working, pinnable=True)


def _dips_of(sheet: Worksheet, item: DipLot) -> list[int]:
    """Give the dips of each piece in all."""
    usual = round(sheet[item.id("dips")])
    return [sheet.piece_dips.get(f"{item.lot.id}.{number}", usual) for number in range(1, item.lot.pieces + 1)]


def _in_all(sheet: Worksheet, lots: list[DipLot], so_far: SoFar) -> None:
    """Entries and hours: of the whole day, or from here on."""
    handling, begun = pauses().handling, bool(so_far.pieces)
    runs = [
        throughput(live.dips_to_come(item, so_far, _dips_of(sheet, item)), round(sheet[item.id("at_once")]),
                   sheet[item.id("dip")], sheet[item.id("air")], handling.value)
        for item in lots
    ]
    entries, minutes = sum(run.entries for run in runs), sum(run.minutes for run in runs)
    sheet.put(
        "dip.all_entries", "Entries to come" if begun else "Entries in all", entries, "",
        sheet.worked("dips that each piece has to come, those that go in together once; lot by lot" if begun
                     else "groups of pieces × dips, lot by lot"),
    )
    rests = max(ceil(entries / max(sheet["dip.entries"], 1)) - 1, 0)
    sheet.put(
        "dip.minutes", "Dipping still takes" if begun else "Dipping takes",
        minutes + rests * sheet["dip.short_rest"], "min",
        sheet.worked("dips, handling and the airing that the vat waits for, lot by lot, + short rests",
                     Input("dips and airing", minutes, "min"), Input("handling of each entry", handling.value, "min"),
                     "dip.all_entries", Input("short rests", rests, ""), "dip.short_rest", source=handling.source),
        rough=True,
    )


def _water(sheet: Worksheet, lots: list[DipLot]) -> None:
    """Water and oxygen that wet pieces bring in at each entry."""
    room, warm = celsius(sheet.plan.water.room), sheet["vat.temperature"]
    entries = [item.piece_kg * sheet[item.id("carried")] * sum(_dips_of(sheet, item)) for item in lots]
    litres = sheet.put(
        "dip.brought", "Liquid the pieces bring back in", sum(entries), "L",
        sheet.worked("fibre × liquor it carries × dips, lot by lot; as much leaves again",
                     *(Input(item.lot.name, each, "L") for item, each in zip(lots, entries, strict=True))),
        rough=True,
    )
    _oxygen(sheet, litres * oxygen.saturation(room) / 1000, oxygen.saturation(room))
    drop = (warm - room) * (1 - exp(-litres / sheet["vat.liquor"])) if sheet["vat.liquor"] else 0.0
    sheet.put(
        "dip.cools", "Cold pieces cool the vat by", max(drop, 0.0), "K",
        sheet.worked("(vat − room) × (1 − e^(−liquid ÷ liquor)), without losses to the room or heating",
                     "vat.temperature", Input("room", room, "degC"), "dip.brought", "vat.liquor"),
        rough=True,
    )


def _oxygen(sheet: Worksheet, grams: float, holds_mg_L: float) -> None:
    """The oxygen in what the pieces bring, and the reducer that takes it up."""
    reducer = powder(sheet.plan, "reducer")
    sheet.put(
        "dip.oxygen", "Oxygen in it", grams, "g",
        sheet.worked("liquid × saturation at room temperature", "dip.brought", Input("holds, mg/L", holds_mg_L, ""),
                     source="BensonKrause1984"),
        rough=True,
    )
    sheet.put(
        "dip.reducer", f"{reducer.material.short} that takes",
        grams * indigo.reducer_per_gram_oxygen(reducer.material.species) / reducer.purity, "g",
        sheet.worked("oxygen × reducer a gram of it ÷ purity; air at the surface comes on top", "dip.oxygen",
                     Input("purity", 100 * reducer.purity, "%"), source="stoichiometry"),
        powder=reducer, rough=True,
    )


def _raise(sheet: Worksheet) -> None:
    """In a vat for both, the pH to go up to once protein and silk are out."""
    fibres = {fibre_of(lot).group: fibre_of(lot) for lot in sheet.plan.lots}
    plant = fibres.pop("cellulose", None)
    if plant is None or not fibres:
        return
    sheet.put(
        "dip.raise_pH", "Then raise the pH to", plant.window.target, "",
        sheet.worked("what suits the plant fibre, at the temperature of the vat", source=plant.window.source),
    )


def _say_order(sheet: Worksheet, lots: list[DipLot]) -> None:
    """Say where light goes before dark, and what the dark still wants."""
    for group in GROUP_ORDER:
        here = [item for item in lots if fibre_of(item.lot).group == group]
        if light_first((item.lot for item in here), sheet["vat.strength"]):
            first, last = here[0], here[-1]
            wants = last.usual.strength.low or last.usual.strength.value
            sheet.say(
                Weight.NOTE,
                f"{first.lot.name} goes in before {last.lot.name}: the vat is right for {depth_name(first.depth)} and "
                f"weak for {depth_name(last.depth)}. Bring in stock before the dark, up to {plain(wants, 'g/L')}.",
                last.id("dips"),
            )


def _balance(sheet: Worksheet, lots: list[DipLot], done: list[Outcome], so_far: SoFar) -> None:
    """Indigotin in = on the fibre + rinsed off + left in the vat."""
    sheet.put(
        "dip.on_fibre", "Indigotin on the fibre",
        sum(item.grams * end.depth / 100 for item, end in zip(lots, done, strict=True)), "g",
        sheet.worked("fibre × what it comes to, lot by lot", *(item.id("reaches") for item in lots)),
        rough=True,
    )
    sheet.put(
        "dip.rinsed", "Goes with the rinses", sum(end.rinsed_g for end in done), "g",
        sheet.worked("laid on × share that the rinses take off",
                     *(Input(item.lot.name, end.rinsed_g, "g") for item, end in zip(lots, done, strict=True))),
        rough=True,
    )
    if so_far.tank is not None:
        _left_of(sheet, so_far.tank, done[-1].tank if done else so_far.tank)
        return
    left = sheet.put(
        "dip.left", "Indigotin left in the vat",
        max(sheet["vat.indigotin"] - sheet["dip.on_fibre"] - sheet["dip.rinsed"], 0.0), "g",
        sheet.worked("indigotin in the vat − on the fibre − with the rinses", "vat.indigotin", "dip.on_fibre",
                     "dip.rinsed"),
        rough=True,
    )
    sheet.put(
        "dip.left_strength", "Strength then", left / sheet["vat.liquor"] if sheet["vat.liquor"] else 0.0, "g/L",
        sheet.worked("left ÷ liquor", "dip.left", "vat.liquor"),
        rough=True,
    )


def _left_of(sheet: Worksheet, now: Tank, then: Tank) -> None:
    """What is in the vat by its account, and what the dips to come leave of it."""
    sheet.put(
        "dip.now", "Strength now", now.strength, "g/L",
        sheet.worked("reduced indigotin ÷ liquor, by the account of the vat", Input("reduced", now.grams, "g"),
                     Input("liquor", now.litres, "L")),
        rough=True,
    )
    sheet.put(
        "dip.left", "Indigotin left in the vat", then.grams, "g",
        sheet.worked("what the vat holds now − what the dips to come take", Input("now", now.grams, "g")),
        rough=True,
    )
    sheet.put(
        "dip.left_strength", "Strength then", then.strength, "g/L",
        sheet.worked("left ÷ liquor", "dip.left", Input("liquor", then.litres, "L")),
        rough=True,
    )
