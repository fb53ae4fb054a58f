"""What the dyer should hear about a plan before she weighs anything."""

from __future__ import annotations

from attrs import evolve

from vatside.catalogue.load import methods
from vatside.dips.uptake import SoFar
from vatside.plan.figure_text import plain
from vatside.plan.measures import (
    SODA,
    celsius,
    clean_grams,
    delicate_lot,
    fibre_of,
    litres,
    method_of,
    powder,
    share,
    suits_lime,
    window_of,
)
from vatside.plan.plan import Measure, Stuff
from vatside.plan.sheet import Figure, Stage, Weight
from vatside.recipe import scour_notices
from vatside.recipe.pins import SMALL, below_minimum, dye_cost
from vatside.recipe.vat_needs import other_methods
from vatside.recipe.worksheet import Worksheet
from vatside.units import show_count

UNSURE = 0.1
"""A spoon is worth weighing from this spread on."""
JAR_WITH_ROOM = 1.5
"""A jar is half as large again as the stock meant for it; more does not fit: common practice, no source."""


def look_over(sheet: Worksheet) -> None:
    """Add every notice that the figures and the plan call for."""
    for check in (
        _method,
        _names,
        _vessels,
        scour_notices.look_over,
        _taps,
        _stock,
        _minima,
        _spoons,
        _vat,
        _dye,
        _fibres,
    ):
        check(sheet)


def _method(sheet: Worksheet) -> None:
    """A plan of elsewhere, or of a file of the dyer's own that is gone."""
    if sheet.plan.method in methods():
        return
    sheet.stage = Stage.PLAN
    sheet.say(
        Weight.DANGER,
        f"“{sheet.plan.method}” is no kind of vat that is known here, nor are its amounts: what stands here is "
        f"{method_of(sheet.plan).name}. Put its file back among your own vats, or choose another kind.",
    )


def _names(sheet: Worksheet) -> None:
    """Names that no piece is left for: a lot that was made smaller."""
    sheet.stage = Stage.PLAN
    for lot in sheet.plan.lots:
        over = [name for name in lot.names[lot.pieces :] if name]
        if over:
            counted = f"{len(over) + lot.pieces} names for {show_count(lot.pieces, 'piece')}"
            sheet.say(Weight.CARE, f"{lot.name}: {counted}, so there is none for {', '.join(over)}.")


def past_plan(sheet: Worksheet, so_far: SoFar) -> None:
    """Take back what the plan says of its alkali once more went into the vat; say where it stands and whom it harms."""
    if not so_far.corrected:
        return
    sheet.notices = [notice for notice in sheet.notices if notice.figure not in ("vat.pH", "vat.alkali_left")]
    sheet.stage = Stage.VAT
    sentence = f"More went into the vat than the plan has: {so_far.corrected} by the account."
    harm, weight = _harm(sheet, so_far)
    sheet.say(weight, f"{sentence} {harm or 'Go by that and your readings.'}", "vat.pH")


def _harm(sheet: Worksheet, so_far: SoFar) -> tuple[str, Weight]:
    """Say which fibre still to be dipped the vat stands too high for; empty if it suits them all."""
    left = (lot for lot in sheet.plan.lots if not all(so_far.of(lot.id, n).done for n in range(1, lot.pieces + 1)))
    lot = delicate_lot(evolve(sheet.plan, lots=tuple(left)))
    if lot is None or so_far.stands is None:
        return "", Weight.NOTE
    fibre = fibre_of(lot)
    window = window_of(sheet.plan, fibre)
    at = f"At pH {so_far.stands:.1f}"
    if so_far.stands > window.block:
        weight = Weight.CARE if fibre.group == "cellulose" else Weight.DANGER
        return f"{at} {fibre.name} is harmed, from {window.block:g} on: none of it in before it is lower.", weight
    if so_far.stands > window.high and not suits_lime(sheet.plan, fibre.group):
        return f"{at} it is above the {window.high:g} that suits {fibre.name}: keep the dips short.", Weight.CARE
    return "", Weight.NOTE


def _vessels(sheet: Worksheet) -> None:
    """Alkali and bare aluminium, zinc or tin give off hydrogen [SDSLye]."""
    vessels = sheet.plan.vessels
    places = (
        (Stage.SCOUR, "scour pot", vessels.scour_stuff, _soda_in_scour(sheet)),
        (Stage.STOCK, "stock jar", vessels.jar_stuff, True),
        (Stage.VAT, "vat tub", vessels.tub.stuff, True),
    )
    for stage, place, stuff, alkaline in places:
        if alkaline and stuff in (Stuff.ALUMINIUM, Stuff.GALVANISED, Stuff.TINNED):
            sheet.stage = stage
            sheet.say(
                Weight.DANGER,
                f"The {place} is {stuff.value}: alkali eats it and gives off hydrogen. "
                "Take stainless steel, sound enamel or heat-proof plastic.",
            )


def _soda_in_scour(sheet: Worksheet) -> bool:
    return any(row.startswith("scour.") and row.endswith(SODA) for row in sheet.rows)


def _taps(sheet: Worksheet) -> None:
    water = sheet.plan.water
    hot, cold = celsius(water.hot), celsius(water.cold)
    if hot <= cold:
        sheet.stage = Stage.PLAN
        sheet.say(Weight.CARE, "The hot tap is no warmer than the cold one: every bath is heated on the hob.")
    for stage, place, wanted in (
        (Stage.STOCK, "stock", sheet["stock.start"]),
        (Stage.VAT, "vat", sheet["vat.temperature"]),
    ):
        sheet.stage = stage
        kettle = sheet.rows.get(f"{stage}.kettle")
        if kettle and hot > cold:
            sheet.say(
                Weight.NOTE,
                f"The hot tap gives {plain(hot, 'degC')}, the {place} wants {plain(wanted, 'degC')}: "
                f"{plain(kettle.value, 'min')} on the hob.",
                kettle.id,
            )
        if wanted < cold - 0.5:
            sheet.say(
                Weight.NOTE,
                f"The cold tap gives {plain(cold, 'degC')}, the {place} wants {plain(wanted, 'degC')}: let it stand.",
                f"{stage}.cold",
            )


def _stock(sheet: Worksheet) -> None:
    sheet.stage = Stage.STOCK
    _lye_heat(sheet)
    limit = method_of(sheet.plan).stock.pigment_limit.value
    if sheet["stock.water"] and sheet["stock.pigment"] / sheet["stock.water"] > limit * 1.001:
        sheet.say(
            Weight.CARE,
            f"More than {plain(limit, 'g/L')} of powder in the stock: take one more jar.",
            "stock.jars",
        )
    room = JAR_WITH_ROOM * _jar(sheet) * sheet["stock.jars"]
    if sheet["stock.water"] > room * 1.001:
        sheet.say(
            Weight.CARE,
            f"The jars do not take {plain(sheet['stock.water'], 'L')} of stock: {plain(_jar(sheet), 'L')} in each.",
            "stock.water",
        )


def _jar(sheet: Worksheet) -> float:
    return litres(sheet.plan, sheet.plan.vessels.stock_jar)


def _lye_heat(sheet: Worksheet) -> None:
    start, warmest = sheet["stock.start"], sheet["stock.warmest"]
    if start <= warmest + 0.05:
        return
    ceiling = plain(method_of(sheet.plan).stock.ceiling.value, "degC")
    if warmest < celsius(sheet.plan.water.cold):
        cure = "more water, less lye, or the lye in portions, each left to cool."
    else:
        cure = f"start at {plain(warmest, 'degC')} at most."
    sheet.say(Weight.DANGER, f"Lye into water of {plain(start, 'degC')} would pass {ceiling}: {cure}", "stock.start")


def _minima(sheet: Worksheet) -> None:
    """What the method itself gives can be less than a very pure indigo takes."""
    for row in list(sheet.rows.values()):
        if row.pin is None and row.minimum is not None and row.value < row.minimum * (1 - SMALL / 10):
            sheet.stage = row.stage
            sheet.say(Weight.CARE, f"{row.label}, {plain(row.value, row.unit)}: {below_minimum(row)}", row.id)


def _spoons(sheet: Worksheet) -> None:
    """Spoons of a powder nobody weighed are a guess."""
    for stage in (Stage.STOCK, Stage.VAT):
        unsure = [row for row in sheet.rows.values() if row.stage is stage and _by_unsure_spoon(sheet, row)]
        if unsure:
            names = ", ".join(f"{row.label} ±{100 * row.spread:.0f} %" for row in unsure)
            sheet.stage = stage
            sheet.say(
                Weight.NOTE,
                f"By the spoon this is a guess: {names}. "
                "Weigh ten level spoons once and write a tenth of it in the form.",
                unsure[0].id,
            )


def _by_unsure_spoon(sheet: Worksheet, row: Figure) -> bool:
    by_spoon = row.pin is not None or sheet.plan.measure is Measure.SPOONS
    return by_spoon and row.teaspoons is not None and row.spread > UNSURE


def _vat(sheet: Worksheet) -> None:
    sheet.stage = Stage.VAT
    rules = method_of(sheet.plan).vat
    if sheet["vat.strength"] > rules.strength_limit.value:
        sheet.say(
            Weight.CARE,
            f"Above {plain(rules.strength_limit.value, 'g/L')} of indigotin colour rubs off and turns dull: "
            "build dark blues by more dips.",
            "vat.strength",
        )
    if sheet["vat.temperature"] < rules.temperature_low:
        reducer = powder(sheet.plan, "reducer").material.name
        sheet.say(
            Weight.CARE,
            f"Below {plain(rules.temperature_low, 'degC')} {reducer} hardly works.",
            "vat.temperature",
        )
    _vat_room(sheet)
    _vat_alkali(sheet)
    if "vat.mixed" in sheet.rows:
        mixed, wanted = (plain(sheet[figure], "degC") for figure in ("vat.mixed", "vat.temperature"))
        cure = "let it cool before anything goes in, or change some of it for cold water."
        sheet.say(Weight.CARE, f"The kept vat comes to {mixed}, the plan wants {wanted}: {cure}", "vat.mixed")


def _vat_room(sheet: Worksheet) -> None:
    """More in the tub than it takes, or fibre packed too tightly to move."""
    if sheet["vat.fill"] > sheet["vat.tub"] * 1.001:
        sheet.say(Weight.CARE, f"The tub runs over: {plain(sheet['vat.tub'], 'L')} to the brim.", "vat.fill")
    ratio = method_of(sheet.plan).vat.liquor
    least = ratio.lowest
    entry = sheet["vat.entry"] / 1000
    if entry and sheet["vat.fill"] / entry < least - 0.05:
        sheet.say(
            Weight.CARE,
            f"Crowded: {plain(sheet['vat.fill'] / entry, 'L/kg')} at one entry, {plain(least, 'L/kg')} at least; "
            "fewer pieces at a time, or the blue comes out uneven.",
            "vat.entry",
        )


def _vat_alkali(sheet: Worksheet) -> None:
    """Where a fibre's window is known, the pH tells by the charge balance what this only reckons by the reactions."""
    if sheet["vat.alkali_left"] <= 0 and "vat.window_low" not in sheet.rows:
        short = plain(-sheet["vat.alkali_left"], "g")
        sheet.say(Weight.CARE, f"The dye uses up all the alkali: {short} of lye short.", "vat.alkali_left")


def _dye(sheet: Worksheet) -> None:
    """Stock that does not fit the tub, and what that leaves for the lots."""
    sheet.stage = Stage.VAT
    stock, liquor = sheet["stock.water"], sheet["vat.liquor"]
    if sheet["vat.stock"] > liquor * 1.001:
        sheet.say(Weight.CARE, f"More stock than the tub holds: {plain(liquor, 'L')}.", "vat.stock")
    elif sheet.rows["vat.stock"].pin is None and stock > liquor * 1.001:
        fits = f"Of the {plain(stock, 'L')} of stock the tub takes {plain(liquor, 'L')}: a larger tub, or more vats."
        sheet.say(Weight.CARE, f"{fits} {dye_cost(sheet)[1]}", "vat.stock")
    if any(share(lot.depth) == 0 for lot in sheet.plan.lots):
        sheet.say(Weight.NOTE, "A lot with depth 0 takes no indigo.")


def _fibres(sheet: Worksheet) -> None:
    """What the vat's warmth and alkali mean for each lot."""
    sheet.stage = Stage.VAT
    rules, warm = method_of(sheet.plan).vat, sheet["vat.temperature"]
    groups = {fibre_of(lot).group for lot in sheet.plan.lots}
    for lot in sheet.plan.lots:
        group = fibre_of(lot).group
        suits = rules.warmth.of(group)
        if suits.high is not None and warm > suits.high + 0.5:
            _too(sheet, lot.name, "warmer", suits.high)
        if suits.low is not None and suits.low - 0.5 > warm >= rules.temperature_low:
            _too(sheet, lot.name, "cooler", suits.low)
        if group not in rules.suits and clean_grams(sheet.plan, lot):
            method = method_of(sheet.plan).name
            sentence = f"{lot.name}: {method} is too alkaline for {fibre_of(lot).name}; take another vat."
            named = other_methods(sheet)
            once = any(named in notice.otherwise for notice in sheet.notices)
            sheet.say(Weight.CARE, sentence if once else f"{sentence} {named}")
    if "cellulose" in groups and len(groups) > 1:
        sheet.say(Weight.NOTE, "Wool, hair and silk go in first: alkali for the rest is raised later, not lowered.")


def _too(sheet: Worksheet, name: str, how: str, limit_C: float) -> None:
    warm = plain(sheet["vat.temperature"], "degC")
    sheet.say(Weight.CARE, f"{name}: {warm} is {how} than the {plain(limit_C, 'degC')} it likes.", "vat.temperature")
