"""The stock: how much pigment, alkali and reducer, in how much water, how warm, how long, and a slow reducer's pace."""

from __future__ import annotations

from math import ceil

from vatside.catalogue.values import Fact, StockRules
from vatside.chemistry import heat, substances
from vatside.chemistry.life import least_alkali
from vatside.chemistry.rates import speed
from vatside.plan.figure_text import plain
from vatside.plan.measures import (
    Powder,
    by_jug,
    celsius,
    has_warm_bath,
    is_paced,
    litres,
    method_of,
    powder,
    reducer_of,
    total_grams,
)
from vatside.plan.plan import Dosing, Plan
from vatside.plan.sheet import Input, Stage, Weight, Working
from vatside.recipe import kept as jar
from vatside.recipe.drawn_water import draw
from vatside.recipe.kept import in_tub
from vatside.recipe.need import need_of
from vatside.recipe.sizing import Size, following, size_of
from vatside.recipe.worksheet import Worksheet

COLDEST_C, HOTTEST_C = 20.0, 75.0
"""Between these the law is used; outside, as at the end: it was measured at 65 degrees C and near it [Vuorema2008]."""


def times_as_long(plan: Plan, from_C: float, to_C: float) -> float:
    """Give how many times as long the plan's reducer works at another warmth [Arrhenius]; 1 where its pace is unknown.

    Sugar takes 4.2 times as long at 45 as at 65 degrees C, by glucose's energy of activation [Vuorema2008].
    """
    heat = reducer_of(plan).heat
    there, then = (min(max(celsius, COLDEST_C), HOTTEST_C) for celsius in (from_C, to_C))
    return speed(heat, then, there) if heat else 1.0


def stock_warmth(plan: Plan) -> str:
    """Give the figure of the warmth at which the stock rests: its bath's, its water's, or what both come to."""
    if not has_warm_bath(plan):
        return "stock.start"
    held = any(pin.figure == "stock.start" for pin in plan.pins)
    return RESTS_AT if held and is_paced(plan) else "stock.bath_temperature"


RESTS_AT = "stock.rests_at"
"""The figure of what stock and bath come to, where she sets the stock's water herself."""


def work_out(sheet: Worksheet) -> None:
    """Put every figure of the stock on the worksheet."""
    sheet.stage = Stage.STOCK
    _pigment(sheet)
    _liquid(sheet)
    _reducer(sheet)
    _alkali(sheet)
    _warmth(sheet)
    _times(sheet)


def _pigment(sheet: Worksheet) -> None:
    plan, pigment = sheet.plan, powder(sheet.plan, "indigo")
    size = size_of(following(plan, "stock.pigment"))
    wanted = sheet.put("stock.wanted", "Indigotin wanted", size.indigotin, "g", _dosing(sheet, size))
    tub, of_jar, more = in_tub(plan).indigotin_g, jar.at_hand(sheet, wanted, size.liquor), jar.others(sheet)
    there = (("what stands in the tub", "in the tub", tub), ("kept stock", "of the kept stock", of_jar))
    less = "".join(f" − {words}" for words, _, grams in there if grams)
    formula = f"{f'(indigotin{less})' if less else 'indigotin'} ÷ purity{' + what other vats take' if more else ''}"
    grams = sheet.put(
        "stock.pigment", pigment.material.short, jar.missing_of(wanted, tub + of_jar) / pigment.purity + more, "g",
        sheet.worked(formula, "stock.wanted", *(Input(label, part, "g") for _, label, part in there if part),
                     Input("purity", 100 * pigment.purity, "%"),
                     jar.OTHERS if more else None, source=pigment.material.purity.source),
        powder=pigment, pinnable=True,
    )
    sheet.put(
        "stock.indigotin", "of it indigotin", grams * pigment.purity, "g",
        sheet.worked("powder × purity", "stock.pigment", Input("purity", 100 * pigment.purity, "%"),
                     source=pigment.material.purity.source),
    )
    fibre = total_grams(plan)
    sheet.put(
        "stock.owf", "Powder on weight of fibre", 100 * max(grams - more, 0.0) / fibre if fibre else 0.0, "%",
        sheet.worked("powder ÷ dry fibre", "stock.pigment", Input("dry fibre", fibre, "g")),
    )


def _dosing(sheet: Worksheet, size: Size) -> Working:
    """Say how much indigo a vat is given: for this fibre, or as strong as is usual; more where that spares dips."""
    rules, need = method_of(sheet.plan).vat, need_of(sheet.plan)
    more = ", and more to spare dips" if size.indigotin > size.needed * (1 + MORE) else ""
    if size.dosing is Dosing.SPENT:
        lots = (Input(item.lot.name, item.grams * item.depth / 100, "g") for item in need.lots)
        return sheet.worked(f"for this fibre: scoured fibre × depth ÷ share that reaches the fibre{more}", *lots,
                            Input("reaches the fibre", rules.yield_.value, "%"), source=rules.yield_.source)
    return sheet.worked(f"a working vat: liquor × usual strength of the depth, at least twice what the dips take{more}",
                        Input("liquor", size.liquor, "L"), Input("usual strength", need.strength, "g/L"),
                        Input("the dips take", need.taken, "g"))


MORE = 0.02
"""A share of indigo more than asked for that is worth saying: ours."""


def _liquid(sheet: Worksheet) -> None:
    plan, rules = sheet.plan, method_of(sheet.plan).stock
    jar = litres(plan, plan.vessels.stock_jar)
    limit = rules.pigment_limit
    jars = sheet.put(
        "stock.jars", "Jars", max(ceil(round(sheet["stock.pigment"] / (limit.value * jar), 6)), _fewest(sheet)), "",
        sheet.worked("powder ÷ (most powder a litre × jar), rounded up", "stock.pigment",
                     Input("most powder", limit.value, "g/L"), Input("stock in one jar", jar, "L"),
                     source=limit.source),
        pinnable=True,
    )
    usual = limit.lowest
    water = sheet.put(
        "stock.water", "Water", _water(sheet["stock.pigment"] / usual, jars * jar), "L",
        sheet.worked("powder ÷ usual in a stock, no less than moves in a jar and no more than the jars take",
                     "stock.pigment", Input("usual", usual, "g/L"), "stock.jars", Input("stock in one jar", jar, "L"),
                     source=limit.source),
        pinnable=True,
    )
    sheet.put(
        "stock.strength", "Strength", sheet["stock.indigotin"] / water if water else 0.0, "g/L",
        sheet.worked("indigotin ÷ water", "stock.indigotin", "stock.water"),
    )


LEAST_STOCK_L = 0.2
"""Less does not cover a thermometer or stir well: common practice, no source."""
STOCK_STEP_L = 0.05
"""What a kitchen jug shows."""


def _water(wanted_l: float, most_l: float) -> float:
    """Round the water of a stock up to what a jug shows."""
    steps = ceil(round(max(wanted_l, LEAST_STOCK_L) / STOCK_STEP_L, 6))
    return min(steps * STOCK_STEP_L, most_l)


def _fewest(sheet: Worksheet) -> int:
    """A vat that lacks no dye, by what was kept, wants no stock at all."""
    return 0 if (sheet.plan.kept or sheet.plan.stock_kept) and not sheet["stock.pigment"] else 1


def _basis(sheet: Worksheet) -> tuple[float, str | Input]:
    """Give the grams that a method's amounts a gram count, and how to name them: a paste as the powder in it."""
    if method_of(sheet.plan).stock.ratio_basis != "powder":
        return sheet["stock.indigotin"], "stock.indigotin"
    counts_as = powder(sheet.plan, "indigo").material.counts_as
    if counts_as is None:
        return sheet["stock.pigment"], "stock.pigment"
    grams = sheet["stock.indigotin"] / counts_as.value * 100
    return grams, Input(f"as powder of {counts_as.value:g} %", grams, "g")


def _still_blue(sheet: Worksheet) -> float:
    """Give the share of the dye that is not reduced yet, 0 to 1."""
    reduced = powder(sheet.plan, "indigo").material.reduced
    return 1 - reduced.value / 100 if reduced else 1.0


def _alkali(sheet: Worksheet) -> None:
    rules, alkali = method_of(sheet.plan).stock, powder(sheet.plan, "alkali")
    least = _least_alkali(sheet, alkali)
    _by_jar_or_dye(sheet, "stock.alkali", alkali, (rules.alkali_per_litre, rules.alkali_per_gram), least)


def _by_jar_or_dye(
    sheet: Worksheet, figure: str, item: Powder, rules: tuple[Fact, Fact], least: float | None, share: float = 1.0
) -> None:
    """Put the larger of what practice puts in a jar and what strong dye needs on the sheet."""
    litre, gram = rules
    dye, named = _basis(sheet)
    pure = max(litre.value * sheet["stock.water"], gram.value * dye * share)
    sheet.put(
        figure, item.material.short, max(pure / item.purity, least or 0.0), "g",
        sheet.worked("the larger of water × amount a litre and dye × amount a gram, ÷ purity; at least what the "
                     "reactions take to the end",
                     "stock.water", Input("a litre", litre.value, "g/L"),
                     named, Input("not reduced yet", 100 * share, "%") if share < 1 else None,
                     Input("a gram", gram.value, "g/g"),
                     Input("purity", 100 * item.purity, "%"), source=gram.source),
        powder=item, pinnable=True, minimum=least,
    )


def _least_alkali(sheet: Worksheet, alkali: Powder) -> float | None:
    """Alkali that sees the stock through to the end of all its reducer, g of product; None where that is not known."""
    reducer = powder(sheet.plan, "reducer")
    if substances.reducer(reducer.material.species).assumed:
        return None
    there = [(reducer.material.species, sheet["stock.reducer"] * reducer.purity)]
    return least_alkali(alkali.material.species, sheet["stock.indigotin"], there, sheet["stock.water"]) / alkali.purity


def _reducer(sheet: Worksheet) -> None:
    rules, reducer = method_of(sheet.plan).stock, powder(sheet.plan, "reducer")
    least = _least_reducer(sheet, reducer)
    _by_jar_or_dye(sheet, "stock.reducer", reducer, (rules.reducer_per_litre, rules.reducer_per_gram), least,
                   _still_blue(sheet))


def _least_reducer(sheet: Worksheet, reducer: Powder) -> float | None:
    """Reducer that the reaction itself takes, g of product; None where that is not known."""
    species = reducer.material.species
    if substances.reducer(species).assumed:
        return None
    return sheet["stock.indigotin"] * _still_blue(sheet) * substances.reducer_per_gram(species) / reducer.purity


def _warmth(sheet: Worksheet) -> None:
    plan, rules = sheet.plan, method_of(sheet.plan).stock
    cold, lye = celsius(plan.water.cold), sheet["stock.alkali"] * powder(plan, "alkali").purity if by_jug(plan) else 0.0
    water = max(sheet["stock.water"], 0.05)
    warmest = sheet.put(
        "stock.warmest", "Warmest safe start", heat.warmest_start(lye, water, rules.ceiling.value), "degC",
        sheet.worked("ceiling − what dissolving the lye adds, were it all in the jar",
                     Input("ceiling", rules.ceiling.value, "degC"),
                     "stock.alkali", "stock.water", source="CRCsolution"),
    )
    start = sheet.put(
        "stock.start", "Start the water at", max(min(rules.temperature.value, warmest), cold), "degC",
        sheet.worked("the method's temperature, never above the warmest safe start; no colder than the cold tap",
                     Input("method", rules.temperature.value, "degC"), "stock.warmest",
                     Input("cold tap", cold, "degC"), source=rules.temperature.source),
        pinnable=True,
    )
    jug = _jug(sheet, lye, start) if by_jug(plan) else 0.0
    draw(sheet, "stock.", sheet["stock.water"] - jug, start)
    _warm_bath(sheet)


JUG_L_PER_G = 0.02
"""Cold water for a gram of lye, as for one that goes into a live vat (`additions.toml`): common practice, no source."""
LEAST_JUG_L = 0.05
"""No lye is dissolved in less: common practice, no source."""
MOST_OF_WATER = 0.5
"""Share of the stock's water that may be cold, so that the rest still warms it: ours, no source."""


def jug_litres(lye_g: float) -> float:
    """Give the cold water that lye (g) is dissolved in, L, to the nearest mark of a jug."""
    return max(round(lye_g * JUG_L_PER_G / STOCK_STEP_L) * STOCK_STEP_L, LEAST_JUG_L)


def _jug(sheet: Worksheet, lye_g: float, start_C: float) -> float:
    """Put the cold water of the lye's jug on the sheet, and by how much the lye warms it; give the litres."""
    water = sheet["stock.water"]
    wanted = min(jug_litres(sheet["stock.alkali"]), MOST_OF_WATER * water) if lye_g else 0.0
    jug = min(sheet.put(
        "stock.jug", "Cold, for the lye", wanted, "L",
        sheet.worked("lye × water a gram, to the nearest mark of a jug; at most half of the stock's water",
                     "stock.alkali", Input("water a gram, L", JUG_L_PER_G, ""), "stock.water"),
        pinnable=True,
    ), water)
    there, at_C = (jug, celsius(sheet.plan.water.cold)) if jug else (max(water, LEAST_JUG_L), start_C)
    if lye_g:
        sheet.put(
            "stock.rise", "Lye warms its jug by" if jug else "Lye warms the jar by", heat.lye_rise(lye_g, there, at_C),
            "K",
            sheet.worked("heat of solution of lye ÷ heat capacity of the water, without losses", "stock.alkali",
                         "stock.jug" if jug else "stock.water", source="CRCsolution"),
        )
    return jug


def _warm_bath(sheet: Worksheet) -> None:
    rules = method_of(sheet.plan).stock
    if not has_warm_bath(sheet.plan):
        return
    around = sheet.put(
        "stock.bath", "Warm bath round it", rules.warm_bath.value * sheet["stock.water"], "L",
        sheet.worked("stock × litres around a litre", "stock.water",
                     Input("around a litre, L", rules.warm_bath.value, ""), source=rules.warm_bath.source),
        pinnable=True,
    )
    warm = sheet.fact("stock.bath_temperature", "Warm bath at", rules.temperature, "degC", "the method's temperature")
    draw(sheet, "stock.bath_", around, warm, label="warm bath")
    if stock_warmth(sheet.plan) == RESTS_AT:
        both = heat.mix_temperature(((sheet["stock.water"], sheet["stock.start"]), (around, warm)))
        sheet.put(
            RESTS_AT, "Stock and bath come to", both, "degC",
            sheet.worked("water of both, mixed by its heat", "stock.water", "stock.start", "stock.bath",
                         "stock.bath_temperature", source="Popiel1998"),
        )  # fmt: skip


def _times(sheet: Worksheet) -> None:
    rules = method_of(sheet.plan).stock
    sheet.fact("stock.stir", "Stir for", rules.stir, "min", "by method")
    sheet.fact("stock.look_every", "Look every", rules.look_every, "min", "by method")
    _rest(sheet, rules)


def _rest(sheet: Worksheet, rules: StockRules) -> None:
    """How long the reducer works: longer where it is slow and the stock cooler than its method has it."""
    warmth, usual = stock_warmth(sheet.plan), rules.temperature.value
    longer = times_as_long(sheet.plan, usual, sheet[warmth])
    working = sheet.worked("by method", source=rules.hold.source)
    if longer != 1:
        working = sheet.worked(
            "by method × as much longer as it works more slowly at your warmth",
            Input("by method", rules.hold.value, "min"),
            Input("told for", usual, "degC"), warmth, Input("times as long", longer, ""), source="Vuorema2008",
        )  # fmt: skip
    rest = sheet.put("stock.hold", "Rest for", rules.hold.value * longer, "min", working, pinnable=True)
    if longer > TELLS and sheet.rows["stock.hold"].pin is None:
        actual, there = plain(sheet[warmth], "degC"), plain(usual, "degC")
        text = f"At {actual} the reducer works more slowly than at {there}: the stock rests for {plain(rest, 'min')}."
        sheet.say(Weight.NOTE, text, "stock.hold")


TELLS = 1.2
"""A rest that is so many times as long as usual is worth a sentence: ours, no source."""
