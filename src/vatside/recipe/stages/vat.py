"""The vat: its tub, the stock and water that make it, how warm, how long it works, where it stands once rested."""

from __future__ import annotations

from collections.abc import Iterator

from vatside.chemistry import heat
from vatside.dips.run import cools
from vatside.plan.measures import brim_litres, celsius, clean_grams, fibre_of, litres, method_of, share, total_grams
from vatside.plan.plan import Dosing, TubShape
from vatside.plan.sheet import Input, Stage, Working
from vatside.recipe import vat_alkali
from vatside.recipe.drawn_water import draw
from vatside.recipe.kept import OTHERS, bring_in, in_tub, left_over, others_g, room, warmth, worth_pouring
from vatside.recipe.need import dosing_of, need_of
from vatside.recipe.sizing import following, size_of
from vatside.recipe.stages import vat_holds
from vatside.recipe.worksheet import Worksheet
from vatside.units import Kind, to_base

KEPT_WARM_MIN = 720.0
"""A rest longer than this is kept warm day by day, or wants no warmth: ours."""
SHORT_C = 0.5
"""Less below its window than this is within it. Ours."""


def work_out(sheet: Worksheet) -> None:
    """Put every figure of the vat on the worksheet."""
    sheet.stage = Stage.VAT
    _tub(sheet)
    _water(sheet)
    vat_holds.put_reducer(sheet)
    vat_alkali.work_out(sheet)
    vat_holds.work_out(sheet)
    _times(sheet)
    _rested(sheet)
    left_over(sheet)


def vat_temperature(sheet: Worksheet) -> float:
    """Give the temperature that suits every lot best, degrees C.

    The mean of what suits the lots, by mass, moved between the limits that they share. Where they share none, the mean
    stands and the notices say whom it does not suit.
    """
    rules, lots = method_of(sheet.plan).vat, sheet.plan.lots
    suits = [rules.warmth.of(fibre_of(lot).group) for lot in lots]
    weights = [clean_grams(sheet.plan, lot) for lot in lots]
    total = sum(weights)
    if not total:
        return suits[0].value if suits else rules.warmth.cellulose.value
    mean = sum(fact.value * weight for fact, weight in zip(suits, weights, strict=True)) / total
    low = max(fact.lowest for fact in suits)
    high = min(fact.highest for fact in suits)
    return float(round(min(max(mean, low), high) if low <= high else mean))  # as a thermometer is read


def _water(sheet: Worksheet) -> None:
    stock = _stock(sheet)
    room(sheet, stock)
    there = in_tub(sheet.plan).litres
    missing = max(sheet["vat.liquor"] - stock - there, 0.0)
    formula = "liquor − stock − what stands in the tub" if there else "liquor − stock"
    water = sheet.put(
        "vat.water", "Water to add" if there else "Water to draw",
        worth_pouring(missing) if there else missing, "L",
        sheet.worked(formula, "vat.liquor", "vat.stock", "vat.kept" if there else None),
    )
    warm = sheet.put(
        "vat.temperature", "Vat at", vat_temperature(sheet), "degC",
        sheet.worked("mean of what suits the lots, by mass, within what they all stand", *_lot_temperatures(sheet)),
        pinnable=True,
    )
    if sheet.plan.kept is None:
        draw(sheet, "vat.", water, warm)
    else:
        warmth(sheet, water, warm)


def _stock(sheet: Worksheet) -> float:
    """What of the kept stock and of the new one goes in, L."""
    liquor, more, pigment = sheet["vat.liquor"], others_g(sheet.plan), sheet["stock.pigment"]
    of_jar = bring_in(sheet, sheet["stock.wanted"], size_of(following(sheet.plan, "stock.pigment")).liquor)
    share = 1 - min(more / pigment, 1.0) if pigment else 1.0
    most = "all of it but what other vats take" if more else "all of it"
    return of_jar + sheet.put(
        "vat.stock", "Stock to bring in", min(sheet["stock.water"] * share, max(liquor - of_jar, 0.0)), "L",
        sheet.worked(f"{most}, or as much as the tub takes", "stock.water", "vat.liquor",
                     *((OTHERS, "stock.pigment") if more else ())), pinnable=True,
    )


def _lot_temperatures(sheet: Worksheet) -> Iterator[Input]:
    warmth = method_of(sheet.plan).vat.warmth
    yield from (Input(lot.name, warmth.of(fibre_of(lot).group).value, "degC") for lot in sheet.plan.lots)


def _times(sheet: Worksheet) -> None:
    rules = method_of(sheet.plan).vat
    sheet.fact("vat.sharpen", "Sharpen for", rules.sharpen, "min", "by method")
    sheet.fact("vat.rest", "Rest for", rules.rest, "min", "by method")
    if rules.look_every is not None:
        sheet.fact("vat.look_every", "Look every", rules.look_every, "min", "by method")


def _rested(sheet: Worksheet) -> None:
    """Where the vat has cooled to once it has rested, and what warms it again, if that is below what suits its lots."""
    plan, room = sheet.plan, celsius(sheet.plan.water.room)
    warm, litres_ = sheet["vat.temperature"], sheet["vat.liquor"]  # as warm as that with its stock in it
    facts = [method_of(plan).vat.warmth.of(fibre_of(lot).group) for lot in plan.lots]
    if not facts or sheet["vat.rest"] > KEPT_WARM_MIN or warm <= room:
        return
    lowest = min(max(fact.lowest for fact in facts), warm)
    then = heat.temperature_after(warm, room, sheet["vat.rest"], cools(litres_))
    if then > lowest - SHORT_C:
        return
    sheet.put(
        "vat.by_then", "Once it has rested, about", then, "degC",
        sheet.worked("as such a tub usually cools, covered, while it rests", "vat.temperature",
                     "vat.rest", "vat.liquor", Input("room", room, "degC"), source="practice"),
        rough=True,
    )
    power = to_base(plan.water.hob, Kind.POWER)
    sheet.put(
        "vat.warm_up", "To warm it then", heat.heating_minutes(litres_, then, warm, power), "min",
        sheet.worked("liquor × heat capacity × rise ÷ hob power, without losses", "vat.liquor", "vat.by_then",
                     "vat.temperature", Input("hob", power, "kW"), source="Popiel1998"),
        rough=True,
    )


TUB_FORMULAS = {
    TubShape.LITRES: "as given",
    TubShape.ROUND: "π ÷ 4 × diameter² × height inside",
    TubShape.OVAL: "π ÷ 4 × length × width × height inside",
    TubShape.BOX: "length × width × height inside",
}
"""How the size of a tub is worked out."""


def _tub(sheet: Worksheet) -> None:
    """Put the tub, its filling, its entries and its liquor on the worksheet."""
    plan, rules = sheet.plan, method_of(sheet.plan).vat
    size, total = size_of(plan), total_grams(sheet.plan)
    sheet.put(
        "vat.tub", "Tub, to the brim", size_of(following(plan, "vat.tub")).tub, "L",
        sheet.worked("the smallest of your tubs that does it", *_tub_sizes(sheet)), pinnable=True,
    )
    fill = sheet.put(
        "vat.fill", "Filled, fibre in", size_of(following(plan, "vat.fill")).fill, "L", _filled(sheet), pinnable=True,
    )
    entry = sheet.put(
        "vat.entry", "Fibre at one entry", min(total, fill / rules.ratio * 1000), "g",
        sheet.worked(f"all of it, or as much as the liquor ratio allows{' above the sludge' if rules.sludge else ''}",
                     Input("dry fibre", total, "g"),
                     "vat.fill", Input("liquor ratio", rules.liquor.value, "L/kg"),
                     Input("sludge takes", rules.sludge.value, "%") if rules.sludge else None,
                     source=rules.liquor.source),
        pinnable=True,
    )
    sheet.put(
        "vat.entries", "Entries for one round", size.run.groups, "",
        sheet.worked("pieces of all lots as they go in together, for their first dip", "vat.entry"),
    )
    _liquor(sheet, total, entry)


def _filled(sheet: Worksheet) -> Working:
    """Say what the litres follow from."""
    need, empty = need_of(sheet.plan), share(sheet.plan.vessels.tub.headspace)
    inputs = (Input("usual strength", need.strength, "g/L"), Input("heaviest piece", 1000 * need.heaviest, "g"),
              Input("tub", sheet["vat.tub"], "L"), Input("headspace", 100 * empty, "%"))
    if dosing_of(need) is Dosing.SPENT:
        formula, first = "indigotin ÷ usual strength", Input("indigotin", need.on_fibre / need.indigo_yield, "g")
    else:
        formula, first = "2 × indigotin the dips take ÷ usual strength", Input("the dips take", need.taken, "g")
    return sheet.worked(f"{formula}, at least what hangs at once × liquor ratio; half the tub at least, up to its "
                        "headspace at most", first, *inputs, Input("liquor ratio", need.ratio, "L/kg"))


def _tub_sizes(sheet: Worksheet) -> tuple[Input, ...]:
    """The tubs that she owns."""
    vessels = sheet.plan.vessels
    first = Input(f"first tub ({TUB_FORMULAS[vessels.tub.shape]})", brim_litres(sheet.plan, vessels.tub), "L")
    return (first, *(Input("another", litres(sheet.plan, more), "L") for more in vessels.others))


def _liquor(sheet: Worksheet, total_g: float, entry_g: float) -> None:
    plan = sheet.plan
    all_fibre = sum(clean_grams(plan, lot) / fibre_of(lot).density.value for lot in plan.lots) / 1000
    displaced = sheet.put(
        "vat.displaced", "Room the fibre takes", all_fibre * min(entry_g / total_g, 1) if total_g else 0.0, "L",
        sheet.worked("fibre at one entry ÷ mean density of the lots", "vat.entry",
                     Input("mean density, g/cm3", total_g / all_fibre / 1000 if all_fibre else 0.0, ""),
                     source="MortonHearle"),
        rough=True,
    )
    sheet.put(
        "vat.liquor", "Liquor", max(sheet["vat.fill"] - displaced, 0.1), "L",
        sheet.worked("fill − room the fibre takes", "vat.fill", "vat.displaced"),
    )
