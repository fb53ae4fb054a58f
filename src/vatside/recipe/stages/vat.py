"""The vat: the tub, its water, what sharpens it, the stock brought in, and what it can dye."""

from __future__ import annotations

from collections.abc import Iterator

from vatside.chemistry import ageing, substances
from vatside.chemistry.reducers import hydrogen_of, hydroxide_of
from vatside.chemistry.substances import LYE, substance
from vatside.plan.figure_text import plain
from vatside.plan.measures import (
    BUFFERED,
    SODA,
    Powder,
    brim_litres,
    celsius,
    clean_grams,
    fibre_of,
    litres,
    method_of,
    powder,
    share,
    total_grams,
)
from vatside.plan.plan import Dosing, TubShape
from vatside.plan.sheet import Input, Stage, Weight, Working
from vatside.recipe import vat_alkali
from vatside.recipe.baths import MONO_NAOH_PER_G
from vatside.recipe.kept import (
    OTHERS,
    blue_kept,
    bring_in,
    brought_on,
    in_jar,
    in_tub,
    left_over,
    others_g,
    room,
    share_kept,
    stock_share,
    warmth,
    worth_pouring,
)
from vatside.recipe.need import dosing_of, need_of
from vatside.recipe.sizing import following, size_of
from vatside.recipe.stages.vat_rested import work_out_rested
from vatside.recipe.worksheet import Worksheet, draw

TUB_FORMULAS = {
    TubShape.LITRES: "as given",
    TubShape.ROUND: "π ÷ 4 × diameter² × height inside",
    TubShape.OVAL: "π ÷ 4 × length × width × height inside",
    TubShape.BOX: "length × width × height inside",
}
"""How the size of a tub is worked out."""


def work_out(sheet: Worksheet) -> None:
    """Put every figure of the vat on the worksheet."""
    sheet.stage = Stage.VAT
    _room(sheet)
    _water(sheet)
    _sharpen(sheet)
    vat_alkali.work_out(sheet)
    _strength(sheet)
    _alkali_left(sheet)
    _hydrogen(sheet)
    _capacity(sheet)
    _times(sheet)
    work_out_rested(sheet)
    left_over(sheet)


def _room(sheet: Worksheet) -> None:
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
        sheet.worked("all of it, or as much as the liquor ratio allows above the sludge" if rules.sludge else
                     "all of it, or as much as the liquor ratio allows", Input("dry fibre", total, "g"),
                     "vat.fill", Input("liquor ratio", rules.liquor.value, "L/kg"),
                     *((Input("sludge takes", rules.sludge.value, "%"),) if rules.sludge else ()),
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
    low = max(fact.value if fact.low is None else fact.low for fact in suits)
    high = min(fact.value if fact.high is None else fact.high for fact in suits)
    return min(max(mean, low), high) if low <= high else mean


def _water(sheet: Worksheet) -> None:
    stock = _stock(sheet)
    room(sheet, stock)
    there = in_tub(sheet.plan).litres
    missing = max(sheet["vat.liquor"] - stock - there, 0.0)
    formula = "liquor − stock − what stands in the tub" if there else "liquor − stock"
    water = sheet.put(
        "vat.water", "Water to add" if there else "Water to draw",
        worth_pouring(missing) if there else missing, "L",
        sheet.worked(formula, "vat.liquor", "vat.stock", *(("vat.kept",) if there else ())),
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


def _sharpen(sheet: Worksheet) -> None:
    rules, liquor, share = method_of(sheet.plan).vat, sheet["vat.liquor"], share_kept(sheet)
    reducer, there = powder(sheet.plan, "reducer"), in_tub(sheet.plan)
    less = " − what is left in the tub" if there.litres else ""
    more = " + what brings the blue dye back" if there.oxidised_g else ""
    _dissolved_oxygen(sheet)
    left, blue = there.reducer_g * share, _reducer_for_blue(sheet, reducer)
    least = _least_reducer(sheet, reducer, left - blue)
    pure = max(rules.reducer_per_litre.value * liquor + blue - left, 0.0)
    sheet.put(
        "vat.reducer", f"{reducer.material.short} {_to(reducer)}", max(pure / reducer.purity, least or 0.0), "g",
        sheet.worked(f"{_bracketed('liquor × amount a litre', more + less)} ÷ purity, at least what the dissolved "
                     f"oxygen takes{' and the blue dye' if blue else ''}",
                     "vat.liquor", Input("a litre", rules.reducer_per_litre.value, "g/L"),
                     *((Input("for the dye that is blue again", blue, "g"),) if blue else ()),
                     *_left("reducer", left, less), "vat.oxygen",
                     Input("purity", 100 * reducer.purity, "%"), source=rules.reducer_per_litre.source),
        powder=reducer, pinnable=True, minimum=least,
    )


def _to(reducer: Powder) -> str:
    """Say what a reducer is in the tub for."""
    return "to ferment" if substances.reducer(reducer.material.species).breeds else "to sharpen"


def _reducer_for_blue(sheet: Worksheet, reducer: Powder) -> float:
    """Pure reducer that brings back the dye of a kept vat that air has turned blue, g [Reactions]."""
    blue = blue_kept(sheet)
    return substances.reducer_per_gram(reducer.material.species) * blue if blue else 0.0


def _bracketed(formula: str, less: str) -> str:
    return f"({formula}{less})" if less else formula


def _left(name: str, grams: float, less: str) -> tuple[Input, ...]:
    """What a kept vat holds already."""
    return (Input(f"{name} left in the tub", grams, "g"),) if less else ()


def _dissolved_oxygen(sheet: Worksheet) -> None:
    """Oxygen that comes in with the tap water; warmed quickly, it is still there."""
    water = sheet.plan.water
    hot, cold = celsius(water.hot), celsius(water.cold)
    milligrams = ageing.saturation(hot) * sheet["vat.hot"] + ageing.saturation(cold) * sheet["vat.cold"]
    sheet.put(
        "vat.oxygen", "Oxygen in the water", milligrams / 1000, "g",
        sheet.worked("saturation of each tap's water × litres", "vat.hot", "vat.cold",
                     Input("hot holds, mg/L", ageing.saturation(hot), ""),
                     Input("cold holds, mg/L", ageing.saturation(cold), ""), source="BensonKrause1984"),
    )


def _least_reducer(sheet: Worksheet, reducer: Powder, left_g: float) -> float | None:
    """Reducer that the dissolved oxygen takes beside what is left (pure), g of product; None where nobody knows."""
    species = reducer.material.species
    if substances.reducer(species).assumed:
        return None
    return max(sheet["vat.oxygen"] * substances.reducer_per_gram_oxygen(species) - left_g, 0.0) / reducer.purity


def _strength(sheet: Worksheet) -> None:
    there = in_tub(sheet.plan).indigotin_g * share_kept(sheet)
    of_jar = in_jar(sheet.plan).grams_in(brought_on(sheet))
    more = f"{' + what stands in the tub' if sheet.plan.kept else ''}{' + kept stock' if of_jar else ''}"
    indigotin = sheet.put(
        "vat.indigotin", "Indigotin in the vat", sheet["stock.indigotin"] * stock_share(sheet) + there + of_jar, "g",
        sheet.worked(f"indigotin of the stock × share brought in{more}", "stock.indigotin", "vat.stock", "stock.water",
                     *((Input("in the tub", there, "g"),) if sheet.plan.kept else ()),
                     *((Input("of the kept stock", of_jar, "g"),) if of_jar else ())),
    )
    sheet.put(
        "vat.strength", "Strength", indigotin / sheet["vat.liquor"], "g/L",
        sheet.worked("indigotin ÷ liquor", "vat.indigotin", "vat.liquor"),
    )


def _alkali_left(sheet: Worksheet) -> None:
    """Alkali after the dye is dissolved and the oxygen eaten, as grams of sodium hydroxide."""
    alkali, reducer = powder(sheet.plan, "alkali"), powder(sheet.plan, "reducer")
    product = sheet["stock.alkali"] * stock_share(sheet) + sheet["vat.alkali"]
    brought = product * alkali.purity * substances.naoh_equivalent(alkali.material.species) + _of_soda(sheet)
    at_hand = in_jar(sheet.plan)
    of_jar = at_hand.alkali_g * at_hand.share(brought_on(sheet))
    there = in_tub(sheet.plan).alkali_g * share_kept(sheet)
    new_dye = sheet["stock.indigotin"] * stock_share(sheet) + blue_kept(sheet)
    by_dye, by_oxygen = _taken(sheet, reducer, new_dye)
    assumed = substances.reducer(reducer.material.species).assumed
    sheet.put(
        "vat.alkali_left", "Alkali left, as lye", brought + there + of_jar - by_dye - by_oxygen, "g",
        sheet.worked("alkali of stock and sharpening − what dye, reducer and oxygen use",
                     Input("brought, as lye", brought, "g"), *_left("alkali", there, " " if there else ""),
                     *((Input("alkali of the kept stock", of_jar, "g"),) if of_jar else ()),
                     Input("dye and its reducer", by_dye, "g"),
                     Input("oxygen and its reducer", by_oxygen, "g"),
                     source="memory" if assumed else "stoichiometry"),
    )
    sheet.put(
        "vat.alkali_strength", "Alkali left", sheet["vat.alkali_left"] / sheet["vat.liquor"], "g/L",
        sheet.worked("alkali left ÷ liquor", "vat.alkali_left", "vat.liquor"),
    )


def _taken(sheet: Worksheet, reducer: Powder, new_dye_g: float) -> tuple[float, float]:
    """Lye that the dye and its reducer take, and the oxygen with its own; iron takes all its own as it goes in."""
    species = reducer.material.species
    if not substances.reducer(species).at_once:
        by_oxygen = sheet["vat.oxygen"] * substances.naoh_per_gram_oxygen(species)
        return new_dye_g * substances.naoh_per_gram(species), by_oxygen
    grams = (sheet["stock.reducer"] * stock_share(sheet) + sheet["vat.reducer"]) * reducer.purity
    settled = hydroxide_of(species, grams) * substance(LYE).molar_mass
    return new_dye_g * MONO_NAOH_PER_G + settled, 0.0


def _hydrogen(sheet: Worksheet) -> None:
    """Hydrogen of a reducer that water takes where indigo does not."""
    reducer = powder(sheet.plan, "reducer")
    species, kept = reducer.material.species, in_tub(sheet.plan).reducer_g * share_kept(sheet)
    if not substances.reducer(species).hydrogen:
        return
    pure = (sheet["stock.reducer"] + sheet["vat.reducer"]) * reducer.purity + kept
    spare = max(pure - sheet["stock.indigotin"] * substances.reducer_per_gram(species), 0.0)
    litres_ = sheet.put(
        "vat.hydrogen", "Hydrogen it may give off", hydrogen_of(species, spare), "L",
        sheet.worked("reducer that no indigo takes ÷ its molar mass × 24.5 L a mole, over the life of stock and vat",
                     "stock.reducer", "vat.reducer", "stock.indigotin", source="Reactions"),
        rough=True,
    )
    sheet.say(Weight.CARE, f"Up to {plain(litres_, 'L')} of hydrogen come off stock and vat, over hours and days: lids "
                           "laid on, never tight; no flame, no spark near; window open.", "vat.hydrogen")


def _of_soda(sheet: Worksheet) -> float:
    """Alkali of the soda ash that holds a vat for wool or silk, as grams of sodium hydroxide."""
    row, soda = sheet.rows.get(BUFFERED[0]), powder(sheet.plan, SODA)
    return row.value * soda.purity * substances.naoh_equivalent(soda.material.species) if row else 0.0


def _capacity(sheet: Worksheet) -> None:
    plan, reaches = sheet.plan, method_of(sheet.plan).vat.yield_
    on_fibre = need_of(plan).on_fibre
    enough = sheet["vat.indigotin"] * reaches.value / 100 / on_fibre if on_fibre else 0.0
    for lot in plan.lots:
        sheet.put(
            f"vat.dyes.{lot.id}", f"Enough for {lot.name}", clean_grams(plan, lot) * enough, "g",
            sheet.worked("lot × indigotin in the vat × share that reaches the fibre ÷ indigotin wanted on all lots",
                         Input("lot", clean_grams(plan, lot), "g"), "vat.indigotin",
                         Input("reaches the fibre", reaches.value, "%"), Input("wanted on all lots", on_fibre, "g"),
                         Input("depth", 100 * share(lot.depth), "%"), source=reaches.source),
        )






def _times(sheet: Worksheet) -> None:
    rules = method_of(sheet.plan).vat
    rows = [("sharpen", "Sharpen for", rules.sharpen), ("rest", "Rest for", rules.rest)]
    if rules.look_every is not None:
        rows.append(("look_every", "Look every", rules.look_every))
    for name, label, fact in rows:
        sheet.put(
            f"vat.{name}", label, fact.value, "min", sheet.worked("by method", source=fact.source), pinnable=True
        )
