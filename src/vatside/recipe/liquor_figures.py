"""What the liquor comes to: pH of stock and vat, how the dye stands, and the window of the most delicate fibre."""

from __future__ import annotations

from functools import lru_cache

from attrs import frozen

from vatside.catalogue.values import Fibre
from vatside.chemistry.bath import Bath
from vatside.chemistry.errors import CannotReach
from vatside.chemistry.liquor import at_25, solve
from vatside.recipe.care.account import whole_percents
from vatside.recipe.care.alkali import alkali_grams
from vatside.recipe.care.dose import Dose, amount_text, as_measured
from vatside.recipe.care.made import stock_bath, stock_share, vat_bath
from vatside.recipe.care.setting import delicate_lot, suits_lime
from vatside.recipe.measures import Powder, clean_grams, fibre_of, plant_after, powder
from vatside.recipe.sheet import Input, Remedy, Stage, Weight, Working
from vatside.recipe.show import plain
from vatside.recipe.worksheet import Worksheet
from vatside.units import Amount

FORMULA = "charge balance of all that is in the liquor"
PH_SOURCE = "IAPWS-R11"
NEAR = 0.05
"""pH no farther than this past a limit prints as the limit itself and counts as within."""

LEAST_G = 0.05
"""Less alkali than this prints as none. Ours."""

NEUTRAL = 7.0
"""A vat below this has no alkali left at all."""


@frozen
class Balance:
    """A liquor at two temperatures."""

    pH: float  # noqa: N815  (chemistry's own symbol)
    pH_25: float  # noqa: N815  (chemistry's own symbol)


@lru_cache(maxsize=64)
def balance(bath: Bath) -> Balance:
    """Work a liquor out once for all keystrokes that leave it as it is. Raises `OutOfRange`."""
    return Balance(solve(bath).pH, at_25(bath).pH)


def work_out(sheet: Worksheet) -> None:
    """Put the liquor's figures on the worksheet after those of stock and vat, and say what alkali would harm."""
    _stock(sheet)
    if _vat(sheet):
        _forms(sheet)
        _window(sheet)
        _raise(sheet)


def _stock(sheet: Worksheet) -> None:
    sheet.stage = Stage.STOCK
    if not sheet["stock.water"]:
        return
    try:
        _put_pH(sheet, "stock", stock_bath(sheet.plan, sheet.__getitem__))
    except ValueError as error:
        _cannot(sheet, error, "stock.alkali")


def _vat(sheet: Worksheet) -> bool:
    sheet.stage = Stage.VAT
    try:
        _put_pH(sheet, "vat", vat_bath(sheet.plan, sheet.__getitem__))
    except ValueError as error:
        _cannot(sheet, error, "vat.alkali")
        return False
    return True


def _cannot(sheet: Worksheet, error: ValueError, figure: str) -> None:
    sheet.say(Weight.CARE, f"The pH cannot be worked out. {error}", figure)


def _put_pH(sheet: Worksheet, stage: str, bath: Bath) -> None:
    found, warm = balance(bath), bath.temperature_C
    inputs = ("stock.alkali", "stock.reducer", "stock.indigotin") + (
        ("stock.water",) if stage == "stock" else ("vat.stock", "vat.alkali", "vat.reducer", "vat.oxygen", "vat.liquor")
    )
    for name, t_C, value in (("pH", warm, found.pH), ("pH_25", 25.0, found.pH_25)):
        at = Input("at", t_C, "degC")
        working = sheet.worked(FORMULA, *inputs, at, source=PH_SOURCE)
        sheet.put(f"{stage}.{name}", f"pH at {plain(t_C, 'degC')}", value, "", working)


def _forms(sheet: Worksheet) -> None:
    """How the leuco-indigo stands, in whole percents: its constants allow no more [Etters]."""
    forms = zip(("acid", "mono", "di"), whole_percents(sheet["vat.pH"]), strict=True)
    labels = {"acid": "Dye as white acid", "mono": "as single ion", "di": "as double ion"}
    for name, percent in forms:
        working = sheet.worked("share of leuco-indigo at this pH, pKa 7.97 and 12.68", "vat.pH", source="Etters")
        sheet.put(f"vat.leuco_{name}", labels[name], percent, "%", working)


def _window(sheet: Worksheet) -> None:
    """Hold the vat against the most delicate fibre's window, then against the others'."""
    lot = delicate_lot(sheet.plan)
    if lot is None:
        return
    fibre = fibre_of(lot)
    by = Working(f"what suits {fibre.name}, at the temperature of the vat", (), fibre.window.source)
    sheet.put("vat.window_low", f"pH for {fibre.name}, from", fibre.window.low, "", by)
    sheet.put("vat.window_high", f"pH for {fibre.name}, up to", fibre.window.high, "", by)
    _alkali_for(sheet, fibre)
    _say_window(sheet, fibre)
    _say_others(sheet, fibre)


def _alkali_for(sheet: Worksheet, fibre: Fibre) -> None:
    """The alkali that would put the vat at the fibre's target: in all, and what of it is left to sharpen with."""
    alkali, target = powder(sheet.plan, "alkali"), fibre.window.target
    name = alkali.material.short
    try:
        bare = vat_bath(sheet.plan, sheet.__getitem__, alkali=False)
        total = alkali_grams(bare, target, alkali.material.species) / alkali.purity
    except CannotReach as error:
        sheet.say(Weight.NOTE, f"{error}", "vat.pH")
        return
    working = sheet.worked(
        "alkali that brings the liquor to the pH wanted ÷ purity, up to the next 0.1 g; "
        "what reducer uses as it falls apart comes on top",
        Input("pH wanted", target, ""), "vat.temperature", "vat.liquor", "vat.indigotin",
        Input("purity", 100 * alkali.purity, "%"), source="Reactions",
    )  # fmt: skip
    sheet.put("vat.alkali_for_window", f"{name} in all for {fibre.name}", total, "g", working, powder=alkali)
    brought = sheet["stock.alkali"] * stock_share(sheet.__getitem__)
    sheet.put(
        "vat.sharpen_for_window", f"{name} to sharpen for {fibre.name}", max(total - brought, 0.0), "g",
        sheet.worked(
            "alkali in all − what the stock brings; none if that is more",
            "vat.alkali_for_window",
            Input("the stock brings", brought, "g"),
        ),
        powder=alkali,
    )  # fmt: skip


def _raise(sheet: Worksheet) -> None:
    """In a vat for both, the alkali that brings it up for the plant fibre; no figure where it wants none."""
    plant, alkali = plant_after(sheet.plan), powder(sheet.plan, "alkali")
    if plant is None:
        return
    sheet.stage, target = Stage.DIP, plant.window.target
    try:
        grams = alkali_grams(vat_bath(sheet.plan, sheet.__getitem__), target, alkali.material.species) / alkali.purity
    except CannotReach as error:
        sheet.say(Weight.NOTE, f"{error}", "vat.pH")
        return
    if grams < LEAST_G:
        return
    working = sheet.worked(
        "alkali that brings the vat from where it stands to the pH wanted ÷ purity; the dips before it change it",
        "vat.pH", Input("pH wanted", target, ""), "vat.temperature", "vat.liquor",
        Input("purity", 100 * alkali.purity, "%"), source="Reactions",
    )  # fmt: skip
    label = f"{alkali.material.short} to raise it for {plant.name}"
    sheet.put("dip.alkali", label, grams, "g", working, powder=alkali, rough=True)


def _say_window(sheet: Worksheet, fibre: Fibre) -> None:
    window, pH = fibre.window, sheet["vat.pH"]
    stands = f"The vat would stand at pH {pH:.1f} at {plain(sheet['vat.temperature'], 'degC')}"
    if pH > window.block + NEAR:
        harm = "alkali harms" if fibre.group != "cellulose" else "is more than suits"
        weight = Weight.DANGER if fibre.group != "cellulose" else Weight.CARE
        _say_pH(sheet, weight, f"{stands}: above {window.block:g} {harm} {fibre.name}.", fibre)
    elif pH > window.high + NEAR:
        _say_high(sheet, fibre, stands)
    elif pH < NEUTRAL:
        _say_pH(sheet, Weight.CARE, "The vat holds no alkali: the dye stays undissolved.", fibre)
    elif pH < window.low - NEAR:
        low = f"{stands}, below the {window.low:g} that {fibre.name} wants: {_low_cost(sheet)}"
        _say_pH(sheet, Weight.CARE, low, fibre)


def _say_high(sheet: Worksheet, fibre: Fibre, stands: str) -> None:
    """Above the window but not harmful; a lime vat for cellulose cannot help being there."""
    high = f"{fibre.window.high:g}"
    if suits_lime(fibre.group, powder(sheet.plan, "alkali").material.species):
        sheet.say(Weight.NOTE, f"{stands}: lime holds it above {high}, as in every lime vat.", "vat.pH")
        return
    if fibre.group == "cellulose":
        text = f"{stands}, above the {high} that suits {fibre.name}: it comes down as the reducer is used up."
        sheet.say(Weight.NOTE, text, "vat.pH")
        return
    _say_pH(sheet, Weight.CARE, f"{stands}, above the {high} that suits {fibre.name}: keep the dips short.", fibre)


def _low_cost(sheet: Worksheet) -> str:
    acid = round(sheet["vat.leuco_acid"])
    return f"{acid} % of the dye is white acid, which does not dye." if acid >= 1 else "the dye goes on less evenly."


def _say_pH(sheet: Worksheet, weight: Weight, text: str, fibre: Fibre) -> None:
    """Say that the pH does not suit, with the alkali that would."""
    if "vat.alkali_for_window" not in sheet.rows:
        sheet.say(weight, text, "vat.pH")
        return
    name, target = powder(sheet.plan, "alkali").material.short.lower(), f"{fibre.window.target:g}"
    less = sheet["vat.pH"] > fibre.window.target
    otherwise = f"Start with {'less' if less else 'more'} {name}, and bring it to pH {target} by readings."
    if _stands_above(sheet):
        otherwise = (
            f"What stands in the tub has {name} enough: none to sharpen; read the pH, and thin it if it is above."
        )
    sheet.say(weight, text, "vat.pH", _suiting(sheet), otherwise)


def _stands_above(sheet: Worksheet) -> bool:
    """Tell a kept vat that has all the alkali already; a stock still needs what dissolves its dye."""
    return sheet.plan.kept is not None and not sheet["vat.alkali_for_window"]


def _suiting(sheet: Worksheet) -> tuple[Remedy, ...]:
    """Alkali that suits the window: what the stock needs to dissolve its dye, and the rest to sharpen with.

    As near as it can be measured; else no less, so that the dye is not left short.
    """
    total = sheet["vat.alkali_for_window"]
    return tuple(dict.fromkeys(_measured(sheet, total, least) for least in (0.0, total)))


def _measured(sheet: Worksheet, total: float, least: float) -> Remedy:
    """Give `total` grams of alkali, not below `least` in all, as the plan measures it."""
    plan, alkali, stock = sheet.plan, powder(sheet.plan, "alkali"), sheet.rows["stock.alkali"]
    share, needed = stock_share(sheet.__getitem__), stock.minimum or 0.0
    wanted = max(min(stock.value, total / share), needed) if share else 0.0
    places, parts, brought = {}, [], 0.0
    name = f" of {alkali.material.short.lower()}"
    if share:
        jar = as_measured(plan, alkali, wanted, max(min(wanted, least / share), needed))
        places["stock.alkali"], brought = jar, alkali.grams(jar, plan.spoons) * share
        parts, name = [f"{_much(sheet, alkali, jar)}{name} in the stock"], ""
    left = total - brought if wanted * share < total * (1 - 1e-9) else 0.0
    tub = as_measured(plan, alkali, max(left, 0.0), max(min(left, least - brought), 0.0))
    places["vat.alkali"] = tub
    parts.append(f"{_much(sheet, alkali, tub) if tub.value else 'none'}{name} to sharpen")
    return Remedy(f"{', '.join(parts)}, for pH {{vat.pH}} (the last of it by the pH you read)", tuple(places.items()))


def _much(sheet: Worksheet, alkali: Powder, amount: Amount) -> str:
    return amount_text(sheet.plan, Dose(alkali, alkali.grams(amount, sheet.plan.spoons)))


def _say_others(sheet: Worksheet, delicate: Fibre) -> None:
    """What the vat's pH means for the hardier fibres of a mixed plan."""
    said = {delicate.window}
    for lot in sheet.plan.lots:
        fibre, pH = fibre_of(lot), sheet["vat.pH"]
        if fibre.window in said or not clean_grams(sheet.plan, lot):
            continue
        said.add(fibre.window)
        if pH < fibre.window.low - NEAR:
            text = f"pH {pH:.1f} is below the {fibre.window.low:g} that suits it: raise the alkali before it goes in."
            sheet.say(Weight.NOTE, f"{lot.name}: {text}", "vat.pH")
