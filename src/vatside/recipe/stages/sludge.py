"""What lies at the bottom of a vat of lime, iron or zinc, and how much clear liquor stands over it."""

from __future__ import annotations

from attrs import evolve

from vatside.chemistry.bath import Bath, part
from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.heat import water_volume
from vatside.chemistry.life import SPENT, spend
from vatside.chemistry.liquor import clear, solve
from vatside.chemistry.reducers import REDUCERS
from vatside.chemistry.substances import moles
from vatside.plan.figure_text import plain
from vatside.plan.measures import alkali_of, powder, reducer_of
from vatside.plan.sheet import Input, Stage, Weight
from vatside.recipe.baths import vat_bath
from vatside.recipe.kept import stock_share
from vatside.recipe.worksheet import Worksheet

WET_ML_A_GRAM = (4.0, 6.0, 8.0)
"""Room that a gram of dry sludge takes in the vat, mL: a guess."""
MUCH = 0.25
"""Share of the vat from which on goods hardly hang clear of it: ours, no source."""


RUST = 106.866
"""Fe(OH)3, g/mol [CIAAW]."""
LEAST_CLEAR = 0.5
"""So much of a vat is clear at the least: ours, no source."""


def decanted(bath: Bath) -> Bath:
    """Give the clear liquor of a spent bath that has settled: what lies at the bottom stays there, with its water.

    Acid that has gone in is in the clear: it goes in once that is poured off. At the bath's temperature; raises
    `OutOfRange` as `solve`.
    """
    unsoured = evolve(bath, acetate=0.0, citrate=0.0)
    there = solve(unsoured)
    dry = there.undissolved_lime_g + there.undissolved_gypsum_g + bath.ferric * RUST
    share = 1 - dry * WET_ML_A_GRAM[1] / 1000 / water_volume(bath.water_kg, bath.temperature_C)
    over_it = part(clear(unsoured), min(max(share, LEAST_CLEAR), 1.0))
    return evolve(over_it, acetate=bath.acetate, citrate=bath.citrate)


def has_sludge(sheet: Worksheet) -> bool:
    """Tell a vat in which something settles."""
    return alkali_of(sheet.plan).saturates or reducer_of(sheet.plan).sludge > 0


def work_out(sheet: Worksheet) -> None:
    """Put the sludge of a spent vat on the worksheet, and the clear liquor over it."""
    if not has_sludge(sheet):
        return
    sheet.stage = Stage.VAT
    try:
        lime, gypsum = _solids(vat_bath(sheet.plan, sheet.__getitem__))
    except OutOfRange:
        return
    metal, rest, sulfite = _of_reducer(sheet), _of_indigo(sheet), _sulfite(sheet)
    dry = lime + gypsum + sulfite + metal + rest
    low, likely, high = (dry * ml_a_gram / 1000 for ml_a_gram in WET_ML_A_GRAM)
    sludge = sheet.put(
        "vat.sludge", "Sludge, once it is spent", likely, "L",
        sheet.worked("what does not dissolve × room that a gram of it takes wet", Input("lime", lime, "g"),
                     Input("gypsum", gypsum, "g") if gypsum else None,
                     Input("calcium sulfite", sulfite, "g") if sulfite else None,
                     Input("of the reducer", metal, "g") if metal else None,
                     Input("what is no indigotin in the powder", rest, "g"),
                     Input("room, mL/g", WET_ML_A_GRAM[1], ""), source="guess"),
        rough=True, between=(low, high),
    )  # fmt: skip
    over_it = sheet.put(
        "vat.clear", "Clear liquor over it", max(sheet["vat.liquor"] - sludge, 0.0), "L",
        sheet.worked("liquor − sludge", "vat.liquor", "vat.sludge"),
    )  # fmt: skip
    if sludge > MUCH * sheet["vat.liquor"]:
        sheet.say(
            Weight.CARE,
            f"Sludge takes {plain(sludge, 'L')} of the {plain(sheet['vat.liquor'], 'L')}: {plain(over_it, 'L')} are "
            "clear over it. Hang the fibre above it, and let it settle between dips.",
            "vat.sludge",
        )  # fmt: skip


def _solids(vat: Bath) -> tuple[float, float]:
    """Give the lime and the gypsum at the bottom of a spent vat, g."""
    there = solve(spend(vat, SPENT))
    return there.undissolved_lime_g, there.undissolved_gypsum_g


CALCIUM_SULFITE = 129.15
"""CaSO3 with half a molecule of water, g/mol [CIAAW]; what of it dissolves, 0.04 g/L from memory, is left out."""


def _sulfite(sheet: Worksheet) -> float:
    """Give the calcium sulfite of a lime vat whose reducer is spent, g: solid, the air is slow to take it further."""
    return spend(vat_bath(sheet.plan, sheet.__getitem__), SPENT, "sulfite").sulfite * CALCIUM_SULFITE


def _of_reducer(sheet: Worksheet) -> float:
    """Give what the reducer's metal leaves, g."""
    reducer = powder(sheet.plan, "reducer")
    grams = (sheet["stock.reducer"] * stock_share(sheet) + sheet["vat.reducer"]) * reducer.purity
    return moles(reducer.material.species, grams) * REDUCERS[reducer.material.species].sludge


def _of_indigo(sheet: Worksheet) -> float:
    """Give what of the powder is no indigotin, g."""
    return (sheet["stock.pigment"] - sheet["stock.indigotin"]) * stock_share(sheet)
