"""What the vat holds once all is in: indigotin, the alkali that is left, and how much of each lot that dyes."""

from __future__ import annotations

from vatside.chemistry import substances
from vatside.chemistry.reducers import hydroxide_of
from vatside.chemistry.substances import LYE, substance
from vatside.plan.measures import BUFFERED, SODA, Powder, clean_grams, method_of, powder, share
from vatside.plan.sheet import Input
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
