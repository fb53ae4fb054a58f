"""The tub: which of hers, how far it is filled, what hangs in it at once, and the liquor that leaves."""

from __future__ import annotations

from vatside.plan.measures import brim_litres, clean_grams, fibre_of, litres, method_of, share, total_grams
from vatside.plan.plan import Dosing, TubShape
from vatside.plan.sheet import Input, Working
from vatside.recipe.need import dosing_of, need_of
from vatside.recipe.sizing import following, size_of
from vatside.recipe.worksheet import Worksheet

TUB_FORMULAS = {
    TubShape.LITRES: "as given",
    TubShape.ROUND: "π ÷ 4 × diameter² × height inside",
    TubShape.OVAL: "π ÷ 4 × length × width × height inside",
    TubShape.BOX: "length × width × height inside",
}
"""How the size of a tub is worked out."""


def work_out(sheet: Worksheet) -> None:
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
