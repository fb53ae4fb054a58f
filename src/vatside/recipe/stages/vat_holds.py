"""What the vat holds once all is in: indigotin, the alkali that is left, how much of each lot that dyes; its reducer.

The powder that sharpens it, the oxygen that it meets, the hydrogen that it gives off.
"""

from __future__ import annotations

from vatside.chemistry import ageing, substances
from vatside.chemistry.reducers import hydrogen_of, hydroxide_of
from vatside.chemistry.substances import LYE, substance
from vatside.plan.figure_text import as_told, plain
from vatside.plan.measures import BUFFERED, SODA, Powder, celsius, clean_grams, method_of, powder, share
from vatside.plan.sheet import Input, Weight
from vatside.recipe.baths import MONO_NAOH_PER_G
from vatside.recipe.kept import blue_kept, brought_on, in_jar, in_tub, share_kept, stock_share
from vatside.recipe.need import need_of
from vatside.recipe.worksheet import Worksheet


def work_out(sheet: Worksheet) -> None:
    """Put strength, alkali left and what the vat can dye on the worksheet."""
    _strength(sheet)
    _alkali_left(sheet)
    _capacity(sheet)


def _strength(sheet: Worksheet) -> None:
    there = in_tub(sheet.plan).indigotin_g * share_kept(sheet)
    of_jar = in_jar(sheet.plan).grams_in(brought_on(sheet))
    more = f"{' + what stands in the tub' if sheet.plan.kept else ''}{' + kept stock' if of_jar else ''}"
    indigotin = sheet.put(
        "vat.indigotin", "Indigotin in the vat", sheet["stock.indigotin"] * stock_share(sheet) + there + of_jar, "g",
        sheet.worked(f"indigotin of the stock × share brought in{more}", "stock.indigotin", "vat.stock", "stock.water",
                     Input("in the tub", there, "g") if sheet.plan.kept else None,
                     Input("of the kept stock", of_jar, "g") if of_jar else None),
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
                     Input("brought, as lye", brought, "g"),
                     Input("alkali left in the tub", there, "g") if there else None,
                     Input("alkali of the kept stock", of_jar, "g") if of_jar else None,
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


def put_reducer(sheet: Worksheet) -> None:
    """Put the reducer that sharpens on the worksheet, with what it meets and what comes off."""
    _dissolved_oxygen(sheet)
    _sharpen(sheet)
    _hydrogen(sheet)


def _sharpen(sheet: Worksheet) -> None:
    rules, liquor, share = method_of(sheet.plan).vat, sheet["vat.liquor"], share_kept(sheet)
    reducer, there = powder(sheet.plan, "reducer"), in_tub(sheet.plan)
    change = " + what brings the blue dye back" if there.oxidised_g else ""
    change += " − what is left in the tub" if there.litres else ""
    formula = f"(liquor × amount a litre{change})" if change else "liquor × amount a litre"
    left, blue = there.reducer_g * share, _reducer_for_blue(sheet, reducer)
    least = _least_reducer(sheet, reducer, left - blue)
    pure = max(rules.reducer_per_litre.value * liquor + blue - left, 0.0)
    sheet.put(
        "vat.reducer", f"{reducer.material.short} {_to(reducer)}", max(pure / reducer.purity, least or 0.0), "g",
        sheet.worked(f"{formula} ÷ purity, at least what the dissolved oxygen takes"
                     f"{' and the blue dye' if blue else ''}",
                     "vat.liquor", Input("a litre", rules.reducer_per_litre.value, "g/L"),
                     Input("for the dye that is blue again", blue, "g") if blue else None,
                     Input("reducer left in the tub", left, "g") if there.litres else None, "vat.oxygen",
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


def _hydrogen(sheet: Worksheet) -> None:
    """Hydrogen of a reducer that water takes where indigo does not."""
    reducer = powder(sheet.plan, "reducer")
    species, kept = reducer.material.species, in_tub(sheet.plan).reducer_g * share_kept(sheet)
    if not substances.reducer(species).hydrogen:
        return
    pure = (sheet["stock.reducer"] + sheet["vat.reducer"]) * reducer.purity + kept
    spare = max(pure - sheet["stock.indigotin"] * substances.reducer_per_gram(species), 0.0)
    sheet.put(
        "vat.hydrogen", "Hydrogen it may give off", hydrogen_of(species, spare), "L",
        sheet.worked("reducer that no indigo takes ÷ its molar mass × 24.5 L a mole, over the life of stock and vat",
                     "stock.reducer", "vat.reducer", "stock.indigotin", source="Reactions"),
        rough=True,
    )
    told = plain(as_told(sheet.rows["vat.hydrogen"]), "L")
    sheet.say(Weight.CARE, f"Up to {told} of hydrogen come off stock and vat, over hours and days: lids "
                           "laid on, never tight; no flame, no spark near; window open.", "vat.hydrogen")
