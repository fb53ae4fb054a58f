"""What reduces in the vat: the powder that sharpens it, the oxygen that it meets, the hydrogen that it gives off."""

from __future__ import annotations

from vatside.chemistry import ageing, substances
from vatside.chemistry.reducers import hydrogen_of
from vatside.plan.figure_text import as_told, plain
from vatside.plan.measures import Powder, celsius, method_of, powder
from vatside.plan.sheet import Input, Weight
from vatside.recipe.kept import blue_kept, in_tub, share_kept
from vatside.recipe.worksheet import Worksheet


def work_out(sheet: Worksheet) -> None:
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
