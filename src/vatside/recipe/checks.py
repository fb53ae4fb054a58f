"""What the dyer should hear about a plan before she weighs anything."""

from __future__ import annotations

from vatside.recipe.measures import celsius, fibre_of, litres, method_of, powder, share
from vatside.recipe.plan import Stuff
from vatside.recipe.scour import POT_WITH_FIBRE, Bath, baths
from vatside.recipe.sheet import Stage, Weight
from vatside.recipe.show import plain
from vatside.recipe.worksheet import Worksheet

WIDE_RATIO = 2.0
"""A pot this many times larger than its liquor ratio asks wastes heat: common practice, no source."""


def look_over(sheet: Worksheet) -> None:
    """Add every notice that the figures and the plan call for."""
    for check in (_vessels, _scours, _taps, _stock, _spoons, _vat):
        check(sheet)


def _vessels(sheet: Worksheet) -> None:
    """Alkali and bare aluminium or zinc give off hydrogen [SDSLye]."""
    vessels = sheet.plan.vessels
    places = (
        (Stage.SCOUR, "scour pot", vessels.scour_stuff, _soda_in_scour(sheet)),
        (Stage.STOCK, "stock jar", vessels.jar_stuff, True),
        (Stage.VAT, "vat tub", vessels.tub.stuff, True),
    )
    for stage, place, stuff, alkaline in places:
        if alkaline and stuff in (Stuff.ALUMINIUM, Stuff.GALVANISED):
            sheet.stage = stage
            sheet.say(
                Weight.DANGER,
                f"The {place} is {stuff.value}: alkali eats it and gives off hydrogen. "
                "Take stainless steel, sound enamel or heat-proof plastic.",
            )


def _soda_in_scour(sheet: Worksheet) -> bool:
    return any("soda-ash" in row for row in sheet.rows)


def _scours(sheet: Worksheet) -> None:
    sheet.stage = Stage.SCOUR
    for bath in baths(sheet.plan):
        _scour_heat(sheet, bath)
        _scour_pot(sheet, bath)


def _scour_heat(sheet: Worksheet, bath: Bath) -> None:
    hold, ceiling = bath.id("hold_temperature"), sheet[bath.id("ceiling")]
    if sheet[hold] > ceiling:
        harm = "it felts and loses its lustre" if bath.fibre.group != "cellulose" else "it is harmed"
        sheet.say(
            Weight.DANGER,
            f"{bath.name.capitalize()} above {plain(ceiling, 'degC')} in the scour: {harm}.",
            hold,
        )
    gap = sheet[bath.id("start")] - celsius(sheet.plan.water.room)
    if gap > bath.fibre.step.value + 0.5:
        sheet.say(
            Weight.CARE,
            f"The {bath.name} comes from the room into water {plain(gap, 'K')} warmer; "
            f"it takes {plain(bath.fibre.step.value, 'K')} at a time.",
            bath.id("start"),
        )


def _scour_pot(sheet: Worksheet, bath: Bath) -> None:
    pot = litres(sheet.plan, sheet.plan.vessels.scour_pot)
    if sheet[bath.id("level")] > 100 * POT_WITH_FIBRE + 0.5:
        sheet.say(Weight.CARE, f"With the {bath.name} in, the {plain(pot, 'L')} pot runs over.", bath.id("level"))
    liquor, water = sheet[bath.id("liquor")], sheet[bath.id("load_water")] * sheet[bath.id("loads")]
    if liquor and water > WIDE_RATIO * liquor:
        sheet.say(
            Weight.NOTE,
            f"The pot holds {water / liquor:.1f} times the liquor the {bath.name} needs: "
            "a smaller pot, or less water, heats sooner.",
            bath.id("load_water"),
        )


def _taps(sheet: Worksheet) -> None:
    water = sheet.plan.water
    if celsius(water.hot) <= celsius(water.cold):
        sheet.stage = Stage.PLAN
        sheet.say(Weight.CARE, "The hot tap is no warmer than the cold one: every bath is heated on the hob.")


def _stock(sheet: Worksheet) -> None:
    sheet.stage = Stage.STOCK
    start, warmest = sheet["stock.start"], sheet["stock.warmest"]
    if start > warmest + 0.05:
        sheet.say(
            Weight.DANGER,
            f"Lye into water of {plain(start, 'degC')} would pass {_ceiling(sheet)}: "
            f"start at {plain(warmest, 'degC')} at most.",
            "stock.start",
        )
    limit = method_of(sheet.plan).stock.pigment_limit.value
    if sheet["stock.water"] and sheet["stock.pigment"] / sheet["stock.water"] > limit * 1.001:
        sheet.say(
            Weight.CARE,
            f"More than {plain(limit, 'g/L')} of powder in the stock: take one more jar.",
            "stock.jars",
        )


def _ceiling(sheet: Worksheet) -> str:
    return plain(method_of(sheet.plan).stock.ceiling.value, "degC")


def _spoons(sheet: Worksheet) -> None:
    """Spoons of a powder nobody weighed are a guess."""
    unsure = [
        row for row in sheet.rows.values()
        if row.stage in (Stage.STOCK, Stage.VAT) and row.pin is not None and row.spread > 0.1
    ]  # fmt: skip
    for row in unsure:
        sheet.stage = row.stage
        sheet.say(
            Weight.NOTE,
            f"{row.label} by the spoon is sure to ±{100 * row.spread:.0f} % only: "
            "weigh ten level spoons once and write a tenth of it in the form.",
            row.id,
        )


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
    if sheet["vat.stock"] > sheet["vat.liquor"]:
        sheet.say(Weight.CARE, "More stock than the tub holds.", "vat.stock")
    if sheet["vat.temperature"] < rules.temperature_low:
        reducer = powder(sheet.plan, "reducer").material.name
        sheet.say(
            Weight.CARE,
            f"Below {plain(rules.temperature_low, 'degC')} {reducer} hardly works.",
            "vat.temperature",
        )
    _vat_alkali(sheet)
    _vat_fibres(sheet)


def _vat_alkali(sheet: Worksheet) -> None:
    if sheet["vat.alkali_left"] <= 0:
        short = plain(-sheet["vat.alkali_left"], "g")
        sheet.say(Weight.CARE, f"The dye uses up all the alkali: {short} of lye short.", "vat.alkali_left")


def _vat_fibres(sheet: Worksheet) -> None:
    warm = sheet["vat.temperature"]
    for lot in sheet.plan.lots:
        suits = fibre_of(lot).vat_temperature
        if suits.high is not None and warm > suits.high + 0.5:
            sheet.say(
                Weight.CARE,
                f"{lot.name}: {plain(warm, 'degC')} is warmer than the {plain(suits.high, 'degC')} it likes.",
                "vat.temperature",
            )
    if any(share(lot.depth) == 0 for lot in sheet.plan.lots):
        sheet.say(Weight.NOTE, "A lot with depth 0 takes no indigo.")
