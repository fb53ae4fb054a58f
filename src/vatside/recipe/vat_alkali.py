"""How much alkali makes a vat hold from its first dip to its last, in the dyer's water.

All the reducer in it falls apart in the end and takes lye with it, and so does the bicarbonate of hard water. A vat of
lye for plant fibres gets as much as leaves the dye dissolved once all that is gone. For wool and silk no lye does: it
would harm them at first or turn to acid later; soda ash and baking soda hold the vat between the two instead.
"""

from __future__ import annotations

from functools import lru_cache

from vatside.chemistry.adjust import alkali_grams
from vatside.chemistry.bath import Bath, add_grams, not_begun
from vatside.chemistry.buffer import RULES, Buffer, BufferedVat, buffer_for
from vatside.chemistry.errors import CannotReach, OutOfRange
from vatside.chemistry.life import SPENT, spend
from vatside.chemistry.liquor import solve
from vatside.chemistry.substances import ALKALIS, BAKING_SODA, LYE, moles, naoh_equivalent, substance
from vatside.chemistry.tap import CARBONATE_PER_ALKALINITY, TapWater
from vatside.plan.measures import (
    BUFFERED,
    alkali_of,
    delicate_lot,
    fibre_of,
    is_buffered,
    method_of,
    powder,
    tap_of,
    window_of,
)
from vatside.plan.sheet import Input, Weight
from vatside.recipe.baths import MONO_NAOH_PER_G, jar_share, stock_share, vat_bath
from vatside.recipe.kept import in_jar, in_tub, share_kept
from vatside.recipe.worksheet import Worksheet

ABOVE_LOW = 0.1
"""A spent vat is planned to stand so far above the lowest pH that suits its fibre: ours."""
SLACK = 0.1
"""A vat whose water is not known may pass its window by so much at the ends: ours."""


def work_out(sheet: Worksheet) -> None:
    """Put the alkali that sharpens the vat on the worksheet, and the buffer of a vat for wool or silk."""
    if is_buffered(sheet.plan):
        _buffered(sheet)
    elif alkali_of(sheet.plan).heats:
        _lye(sheet)
    elif method_of(sheet.plan).vat.wakes is not None and sheet.plan.kept is None:
        _for_life(sheet)
    else:
        _by_the_litre(sheet)


def _for_life(sheet: Worksheet) -> None:
    """Soda for a vat that comes to life by itself: as much as life bears, within what is usual."""
    rules, alkali, liquor = method_of(sheet.plan).vat, powder(sheet.plan, "alkali"), sheet["vat.liquor"]
    usual, lot = rules.alkali_per_litre, delicate_lot(sheet.plan)
    wakes = min(
        rules.wakes.value if rules.wakes else 0.0, *([window_of(sheet.plan, fibre_of(lot)).high] if lot else [])
    )
    try:
        borne = alkali_grams(not_begun(_bare(sheet, tap_of(sheet.plan).likely)), wakes, alkali.material.species)
    except (CannotReach, OutOfRange):
        borne = usual.value * liquor
    grams = min(max(borne, (usual.low or 0.0) * liquor), (usual.high or usual.value) * liquor) / alkali.purity
    sheet.put(
        "vat.alkali", f"{alkali.material.short} for the tub", grams, "g",
        sheet.worked("as much as stands at the pH that life and fibre bear while the dye is blue, in your water, "
                     "between the least and the most a litre ÷ purity",
                     Input("pH", wakes, ""), "vat.liquor", Input("least", usual.low or 0.0, "g/L"),
                     Input("most", usual.high or usual.value, "g/L"), Input("purity", 100 * alkali.purity, "%"),
                     source=usual.source),
        powder=alkali, pinnable=True,
    )  # fmt: skip


def _by_the_litre(sheet: Worksheet) -> None:
    """Lime and the like: amounts of practice."""
    rules, alkali = method_of(sheet.plan).vat, powder(sheet.plan, "alkali")
    there = in_tub(sheet.plan).alkali_g * share_kept(sheet) / naoh_equivalent(alkali.material.species)
    less = " − what is left in the tub" if there else ""
    left = (Input("alkali left in the tub", there, "g"),) if there else ()
    formula = f"(liquor × amount a litre{less})" if less else "liquor × amount a litre"
    sheet.put(
        "vat.alkali", f"{alkali.material.short} to sharpen",
        max(rules.alkali_per_litre.value * sheet["vat.liquor"] - there, 0.0) / alkali.purity, "g",
        sheet.worked(f"{formula} ÷ purity", "vat.liquor", Input("a litre", rules.alkali_per_litre.value, "g/L"),
                     *left, Input("purity", 100 * alkali.purity, "%"), source=rules.alkali_per_litre.source),
        powder=alkali, pinnable=True,
    )  # fmt: skip


def _lye(sheet: Worksheet) -> None:
    """As much lye as leaves the dye dissolved once all reducer is spent, in the hardest water it may be."""
    alkali, lot = powder(sheet.plan, "alkali"), delicate_lot(sheet.plan)
    target = window_of(sheet.plan, fibre_of(lot)).low + ABOVE_LOW if lot else 0.0
    grams = _lye_for(sheet, target) / alkali.purity if lot else 0.0
    sheet.put(
        "vat.alkali", f"{alkali.material.short} to sharpen", grams, "g",
        sheet.worked("as much as keeps the vat at the lowest pH that suits the fibre once all its reducer is spent, "
                     "in your water ÷ purity",
                     Input("pH, spent", target, ""), "stock.reducer", "vat.reducer", "stock.alkali", "vat.liquor",
                     Input("hardness, mg/L CaCO₃", _hardest(sheet), ""), Input("purity", 100 * alkali.purity, "%"),
                     source="Reactions"),
        powder=alkali, pinnable=True,
    )  # fmt: skip


def _hardest(sheet: Worksheet) -> float:
    return max(water.hardness_mg for water in tap_of(sheet.plan).waters)


def _lye_for(sheet: Worksheet, target: float) -> float:
    """Pure lye to sharpen with, g; none where the stock brings enough, or where nothing can be worked out.

    The hardest water comes first: what does there is mostly enough in a softer one.
    """
    waters, grams = tap_of(sheet.plan).waters, 0.0
    try:
        for water in reversed(waters[1:] or waters):
            bath = spend(_bare(sheet, water), SPENT)
            if not grams or solve(add_grams(bath, LYE, grams)).pH < target:
                grams = max(grams, _lye_in(bath, target))
    except OutOfRange:
        return 0.0
    return grams


def _bare(sheet: Worksheet, water: TapWater) -> Bath:
    """Give the vat with nothing to sharpen it."""
    return vat_bath(sheet.plan, lambda name: 0.0 if name == "vat.alkali" else sheet[name], tap=water)


def _lye_in(bath: Bath, target: float) -> float:
    try:
        return alkali_grams(bath, target, LYE)
    except CannotReach:
        return 0.0


def wool_vat(sheet: Worksheet) -> BufferedVat:
    """Give what a vat for wool or silk holds besides its buffer, pure."""
    share = stock_share(sheet.__getitem__)
    reducer, alkali = powder(sheet.plan, "reducer"), powder(sheet.plan, "alkali")
    there, kept = in_tub(sheet.plan), share_kept(sheet)
    new = (sheet["stock.alkali"] * share + sheet["vat.alkali"]) * alkali.purity
    jar, poured = in_jar(sheet.plan), jar_share(sheet.plan, sheet.__getitem__)
    all_reducer = (sheet["stock.reducer"] * share + sheet["vat.reducer"]) * reducer.purity
    all_reducer += there.reducer_g * kept + jar.reducer_g * poured
    old = (there.alkali_g + (there.indigotin_g - there.oxidised_g) * MONO_NAOH_PER_G) * kept
    old += (jar.alkali_g + jar.indigotin_g * MONO_NAOH_PER_G) * poured
    return BufferedVat(
        litres=sheet["vat.liquor"],
        temperature_C=sheet["vat.temperature"],
        indigotin_g=sheet["stock.indigotin"] * share + there.indigotin_g * kept + jar.indigotin_g * poured,
        reducer_g=all_reducer,
        reducer=reducer.material.species,
        lye_g=new * naoh_equivalent(alkali.material.species) + old,
        baking_soda_g=_baking_soda(sheet) * kept + _as_baking_soda(alkali.material.species, new),
    )


def _as_baking_soda(species: str, grams: float) -> float:
    """Give the baking soda that holds as much carbonate as grams of an alkali, g: its hydroxide counts as lye."""
    carbonate = dict(ALKALIS[species].pure.gives).get("carbonate", 0.0)
    return carbonate * moles(species, grams) * substance(BAKING_SODA).molar_mass


def _baking_soda(sheet: Worksheet) -> float:
    """Carbonate of a kept vat beyond what as much of its tap water brings, as baking soda, g."""
    there = in_tub(sheet.plan)
    if there.carbonate_g is None:
        return 0.0
    of_tap = CARBONATE_PER_ALKALINITY * tap_of(sheet.plan).likely.alkalinity * there.litres / 1000
    return max(there.carbonate_g - of_tap * substance(BAKING_SODA).molar_mass, 0.0)


def _buffered(sheet: Worksheet) -> None:
    """Soda ash and baking soda instead of lye."""
    alkali, lot = powder(sheet.plan, "alkali"), delicate_lot(sheet.plan)
    group = fibre_of(lot).group if lot else "protein"
    sheet.put(
        "vat.alkali", f"{alkali.material.short} to sharpen", 0.0, "g",
        sheet.worked(f"none: {alkali.material.short.lower()} alone cannot hold a vat for wool or silk; soda ash and "
                     "baking soda together do", source="Buffered"),
        powder=alkali, pinnable=True,
    )  # fmt: skip
    buffer = _buffer(sheet, group)
    doses = (buffer.soda_ash_g, buffer.baking_soda_g) if buffer else (0.0, 0.0)
    for figure, pure in zip(BUFFERED, doses, strict=True):
        what = powder(sheet.plan, figure.removeprefix("vat."))
        sheet.put(
            figure, what.material.short, pure / what.purity, "g",
            sheet.worked("what holds the vat in the window of the fibre from fresh to spent, by the charge balance of "
                         "all that is in it ÷ purity",
                         "stock.reducer", "vat.reducer", "stock.alkali", "stock.indigotin", "vat.liquor",
                         Input("hardness, mg/L CaCO₃", tap_of(sheet.plan).likely.hardness_mg, ""),
                         Input("purity", 100 * what.purity, "%"), source="Buffered"),
            powder=what, pinnable=True,
        )  # fmt: skip


@lru_cache(maxsize=32)
def _buffer_for_waters(group: str, vat: BufferedVat, waters: tuple[TapWater, ...]) -> Buffer:
    """Work it out once for all keystrokes that leave it as it is. Raises `CannotReach`, `OutOfRange`.

    Doses for the likeliest water; for a harder one it may be, where only these hold the vat in every water.
    """
    likeliest = buffer_for(group, vat, *waters)
    if likeliest.course.low >= RULES[group].low - SLACK or len(waters) == 1:
        return likeliest
    by_hardness = sorted(waters, key=lambda water: water.hardness, reverse=True)
    harder = buffer_for(group, vat, *by_hardness)
    return harder if harder.course.high <= RULES[group].high + SLACK else likeliest


def _buffer(sheet: Worksheet, group: str) -> Buffer | None:
    try:
        return _buffer_for_waters(group, wool_vat(sheet), tap_of(sheet.plan).waters)
    except (CannotReach, OutOfRange) as error:
        fibre = "wool" if group == "protein" else "silk"
        sheet.say(Weight.CARE, f"Nothing holds this vat for {fibre}: {error}", "vat.baking-soda")
        return None
