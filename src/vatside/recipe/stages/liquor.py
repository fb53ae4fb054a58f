"""What the liquor comes to: pH of stock and vat, how the dye stands, and the window of the most delicate fibre."""

from __future__ import annotations

from functools import lru_cache

from attrs import evolve, frozen

from vatside.catalogue.values import Fibre
from vatside.chemistry.adjust import alkali_grams
from vatside.chemistry.bath import Bath, not_begun
from vatside.chemistry.errors import CannotReach
from vatside.chemistry.life import SPENT, Course, course, holds_reducer, spend
from vatside.chemistry.liquor import at_25, solve
from vatside.chemistry.substances import whole_percents
from vatside.plan.figure_text import plain
from vatside.plan.measures import (
    BUFFERED,
    clean_grams,
    delicate_lot,
    fibre_of,
    method_of,
    plant_after,
    powder,
    suits_lime,
    tap_of,
    window_of,
)
from vatside.plan.sheet import Input, Remedy, Stage, Weight, Working
from vatside.recipe.baths import stock_bath, vat_bath
from vatside.recipe.vat_alkali import SLACK
from vatside.recipe.vat_needs import limed, other_methods
from vatside.recipe.worksheet import Worksheet

FORMULA = "charge balance of all that is in the liquor"
PH_SOURCE = "IAPWS-R11"
NEAR = 0.05
"""pH no farther than this past a limit prints as the limit itself and counts as within."""

DOSES = (
    "stock.alkali", "stock.reducer", "vat.alkali", "vat.reducer", *BUFFERED, "vat.temperature",
)  # fmt: skip
"""Figures that decide the pH."""
LEAST_ALIVE = 8.0
"""Below this the dye of a vat no longer stays dissolved: half of it is white acid at 7.97 [Etters]."""
SULFUR_DIOXIDE_LIMIT, SULFUR_DIOXIDE_IDLH = 2.0, 100.0
"""ppm that a workplace may have over ten hours, and that is dangerous at once [NIOSH]."""

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
    whole = _vat(sheet)
    if whole is not None:
        _forms(sheet)
        _window(sheet, whole)
        _raise(sheet)


def _stock(sheet: Worksheet) -> None:
    sheet.stage = Stage.STOCK
    if not sheet["stock.water"] or "stock.alkali_in" in method_of(sheet.plan).without:  # a paste of dye and water
        return
    try:
        _put_pH(sheet, "stock", stock_bath(sheet.plan, sheet.__getitem__))
    except ValueError as error:
        _cannot(sheet, error, "stock.alkali")


def _vat(sheet: Worksheet) -> Course | None:
    sheet.stage = Stage.VAT
    try:
        bath = vat_bath(sheet.plan, sheet.__getitem__)
        return _put_waking(sheet, bath) if _comes_to_life(sheet) else _put_pH(sheet, "vat", bath)
    except ValueError as error:
        _cannot(sheet, error, "vat.alkali")
        return None


def _cannot(sheet: Worksheet, error: ValueError, figure: str) -> None:
    sheet.say(Weight.CARE, f"The pH cannot be worked out. {error}", figure)


def _comes_to_life(sheet: Worksheet) -> bool:
    """Tell a new vat that reduces nothing until something lives in it."""
    return method_of(sheet.plan).vat.wakes is not None and sheet.plan.kept is None


def _put_waking(sheet: Worksheet, bath: Bath) -> Course:
    """The pH at which it is set, its dye blue, which life has to bear; then that at which it dyes."""
    asleep = tuple(not_begun(one) for one in (bath, *_other_waters(sheet)))
    whole = evolve(_whole(sheet, "vat", bath), fresh=_course(asleep).fresh)
    _put_pH(sheet, "vat", not_begun(bath), whole, gone=bath)
    working = sheet.worked(
        "the same with its dye reduced, before more of its starch is acid", "vat.pH", source="Reactions"
    )
    sheet.put("vat.pH_awake", "pH once its dye is reduced", balance(bath).pH, "", working, rough=True)
    return whole


def _put_pH(sheet: Worksheet, stage: str, bath: Bath, whole: Course | None = None, gone: Bath | None = None) -> Course:
    """Put a liquor's pH at two temperatures and once its reducer is spent; `gone`: the bath that is spent then."""
    balanced, warm, whole = balance(bath), bath.temperature_C, whole or _whole(sheet, stage, bath)
    inputs = ("stock.alkali", "stock.reducer", "stock.indigotin") + (
        ("stock.water",) if stage == "stock" else ("vat.stock", "vat.alkali", "vat.reducer", "vat.oxygen", "vat.liquor")
    )
    hardness = Input("hardness, mg/L CaCO₃", tap_of(sheet.plan).likely.hardness_mg, "")
    fresh = (whole.fresh.low, whole.fresh.high)
    for name, t_C, value, between in (("pH", warm, balanced.pH, fresh), ("pH_25", 25.0, balanced.pH_25, None)):
        at = Input("at", t_C, "degC")
        working = sheet.worked(FORMULA, *inputs, hardness, at, source=PH_SOURCE)
        sheet.put(f"{stage}.{name}", f"pH at {plain(t_C, 'degC')}", value, "", working, between=between)
    if holds_reducer(bath):
        _put_spent(sheet, stage, gone or bath, whole)
    if whole.sulfur_dioxide_ppm > SULFUR_DIOXIDE_LIMIT:
        _say_gas(sheet, stage, whole)
    return whole


def _put_spent(sheet: Worksheet, stage: str, bath: Bath, whole: Course) -> None:
    """Where the pH has gone once all the reducer has fallen apart."""
    working = sheet.worked(
        "the same once all its reducer has turned to acid: its lowest pH before air turns the dye blue; between soft "
        "and hard water where yours is not known, chalk settled or not",
        f"{stage}.pH", source="Reactions",
    )  # fmt: skip
    spent = solve(spend(bath, SPENT)).pH
    sheet.put(
        f"{stage}.pH_spent", "pH once the reducer is spent", spent, "", working,
        between=(whole.spent.low, whole.spent.high), rough=True,
    )  # fmt: skip


def _say_gas(sheet: Worksheet, stage: str, whole: Course) -> None:
    """A liquor that turns sour with sulphite in it, which it has as well once the dye has used its reducer up."""
    spent = f"{stage}.pH_spent"
    weight = Weight.DANGER if whole.sulfur_dioxide_ppm > SULFUR_DIOXIDE_IDLH else Weight.CARE
    sheet.say(
        weight,
        f"The {stage} turns sour as its reducer is used up, to pH {whole.low:.1f}: sulphur dioxide could come off, up "
        f"to {float(f'{whole.sulfur_dioxide_ppm:.1g}'):g} ppm in still, closed air. Window open, no acid, do not lean "
        "over it.",
        spent if spent in sheet.rows else f"{stage}.pH",
        *_as_worked_out(sheet),
    )


def _whole(sheet: Worksheet, stage: str, likely: Bath) -> Course:
    """The pH from fresh to spent in the likeliest water, and for the vat in every other it may be.

    In a stock the water is nothing beside its alkali: grams of it a litre, tenths of a gram in a hard water.
    """
    return _course((likely, *(_other_waters(sheet) if stage == "vat" else ())))


def _other_waters(sheet: Worksheet) -> tuple[Bath, ...]:
    return tuple(vat_bath(sheet.plan, sheet.__getitem__, tap=water) for water in tap_of(sheet.plan).ends)


@lru_cache(maxsize=32)
def _course(baths: tuple[Bath, ...]) -> Course:
    """Work it out once for all keystrokes that leave it as it is. Raises `OutOfRange`."""
    return course(*baths, halfway=False)


def _forms(sheet: Worksheet) -> None:
    """How the leuco-indigo stands, in whole percents: its constants allow no more [Etters]."""
    forms = zip(("acid", "mono", "di"), whole_percents(sheet["vat.pH"]), strict=True)
    labels = {"acid": "Dye undissolved", "mono": "as it goes on best", "di": "as it goes on little"}
    for name, percent in forms:
        working = sheet.worked("share of leuco-indigo at this pH, pKa 7.97 and 12.68", "vat.pH", source="Etters")
        sheet.put(f"vat.leuco_{name}", labels[name], percent, "%", working)


def _window(sheet: Worksheet, whole: Course) -> None:
    """Hold the vat against the most delicate fibre's window, then against the others'."""
    lot = delicate_lot(sheet.plan)
    if lot is None:
        return
    fibre = fibre_of(lot)
    window = window_of(sheet.plan, fibre)
    by = Working(f"what suits {fibre.name}, at the temperature of the vat", (), window.source)
    limes = suits_lime(sheet.plan, fibre.group)
    high = limed(window, sheet["vat.temperature"]).high if limes else window.high
    sheet.put("vat.window_low", f"pH for {fibre.name}, from", window.low, "", by)
    sheet.put("vat.window_high", f"pH for {fibre.name}, up to", high, "", by)
    _say_window(sheet, fibre, whole)
    _say_others(sheet, fibre)


def _raise(sheet: Worksheet) -> None:
    """In a vat for both, the alkali that brings it up for the plant fibre; no figure where it wants none."""
    plant, alkali = plant_after(sheet.plan), powder(sheet.plan, "alkali")
    if plant is None:
        return
    sheet.stage, target = Stage.DIP, window_of(sheet.plan, plant).target
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


def _say_window(sheet: Worksheet, fibre: Fibre, whole: Course) -> None:
    """Judge the whole way of the vat: fresh, where it stands highest, and spent, where it has fallen."""
    window, pH = window_of(sheet.plan, fibre), sheet["vat.pH"]
    stands = f"The vat would stand at pH {pH:.1f} at {plain(sheet['vat.temperature'], 'degC')}"
    lowest = min(whole.low, pH)
    if pH > window.block + NEAR:
        harm = "alkali harms" if fibre.group != "cellulose" else "is more than suits"
        weight = Weight.DANGER if fibre.group != "cellulose" else Weight.CARE
        _say_pH(sheet, weight, f"{stands}: above {window.block:g} {harm} {fibre.name}.")
    elif pH > window.high + NEAR:
        _say_high(sheet, fibre, stands)
    elif pH < NEUTRAL:
        _say_pH(sheet, Weight.CARE, "The vat holds no alkali: the dye stays undissolved.")
    elif pH < window.low - NEAR:
        low = f"{stands}, below the {window.low:g} that {fibre.name} wants: {_low_cost(sheet)}"
        _say_pH(sheet, Weight.CARE, low)
    elif fibre.group != "cellulose" and whole.high > window.high + NEAR + SLACK:
        could = f"In the softest water that yours may be the vat would stand at pH {whole.high:.1f}"
        _say_pH(sheet, Weight.CARE, f"{could}, above the {window.high:g} that suits {fibre.name}: read it first.")
    if pH >= NEUTRAL:
        _say_fall(sheet, fibre, lowest)


def _say_fall(sheet: Worksheet, fibre: Fibre, lowest: float) -> None:
    """Where the vat comes to once its reducer is spent: too low for the dye, or for wool and silk."""
    pH, low = sheet["vat.pH"], window_of(sheet.plan, fibre).low
    if method_of(sheet.plan).vat.wakes is not None:
        if lowest < low - NEAR:
            text = (
                f"With all its starch turned to acid it would come to pH {lowest:.1f}: soda ash day by day, by the pH."
            )
            sheet.say(Weight.NOTE, text, "vat.pH_spent")
        return
    falls = f"As its reducer is used up the vat falls from pH {pH:.1f} to {lowest:.1f}"
    if lowest < LEAST_ALIVE:
        _say_pH(sheet, Weight.CARE, f"{falls}: the dye comes out of it.", "vat.pH_spent")
    elif fibre.group != "cellulose" and pH >= low - NEAR and lowest < low - NEAR - SLACK:
        text = f"{falls}, below the {low:g} that {fibre.name} wants: the dye goes on less evenly."
        _say_pH(sheet, Weight.CARE, text, "vat.pH_spent")


def _say_high(sheet: Worksheet, fibre: Fibre, stands: str) -> None:
    """Above the window but not harmful; a lime vat for cellulose cannot help being there."""
    high, wakes = f"{window_of(sheet.plan, fibre).high:g}", method_of(sheet.plan).vat.wakes
    if _comes_to_life(sheet) and wakes is not None and sheet["vat.pH"] > wakes.value + NEAR:
        sleeps = f"{stands} while its dye is blue: above {wakes.value:g} it sleeps."
        _say_pH(sheet, Weight.CARE, f"{sleeps} Read it before the bran goes in: a little vinegar helps.")
    elif _comes_to_life(sheet):
        _say_pH(
            sheet,
            Weight.CARE,
            f"{stands} at first, above the {high} that suits {fibre.name}: its acid brings it "
            f"down; dip once it reads {high} or less.",
        )
    elif suits_lime(sheet.plan, fibre.group):
        sheet.say(Weight.NOTE, f"{stands}: lime holds it above {high}, as in every lime vat.", "vat.pH")
    elif fibre.group == "cellulose" and _comes_down(sheet, fibre):
        text = f"{stands}, above the {high} that suits {fibre.name}: it comes down as the reducer is used up."
        sheet.say(Weight.NOTE, text, "vat.pH")
    elif fibre.group == "cellulose":
        _say_pH(sheet, Weight.CARE, f"{stands}, above the {high} that suits {fibre.name}, and it does not come down.")
    else:
        _say_pH(sheet, Weight.CARE, f"{stands}, above the {high} that suits {fibre.name}: keep the dips short.")


def _comes_down(sheet: Worksheet, fibre: Fibre) -> bool:
    """Tell whether a vat comes into the window of a fibre as its reducer is spent; one without any stays."""
    spent = sheet.rows.get("vat.pH_spent")
    return spent is not None and spent.value <= window_of(sheet.plan, fibre).high + NEAR


def _low_cost(sheet: Worksheet) -> str:
    acid = round(sheet["vat.leuco_acid"])
    return f"{acid} % of the dye is white acid, which does not dye." if acid >= 1 else "the dye goes on less evenly."


def _say_pH(sheet: Worksheet, weight: Weight, text: str, figure: str = "vat.pH") -> None:
    """Say that the pH does not suit, with what would put it right: amounts as they are worked out, if any is held."""
    sheet.say(weight, text, figure, *_as_worked_out(sheet))


def _as_worked_out(sheet: Worksheet) -> tuple[tuple[Remedy, ...], str]:
    """Give the cure of a vat whose alkali or reducer is held, and what is said without it."""
    held = [row for figure in DOSES if (row := sheet.rows.get(figure)) is not None and row.pin is not None]
    if held:
        amounts = ", ".join(f"{row.label[0].lower()}{row.label[1:]} {{{row.id}}}" for row in held)
        remedy = Remedy(f"{amounts}, as worked out, for pH {{vat.pH}}", tuple((row.id, None) for row in held))
        return (remedy,), "Let the amounts follow the plan, or change them by readings."
    if sheet.plan.kept is not None:
        return (), "Read the kept vat; thin it if it is above, sharpen it by readings if it is below."
    return (), other_methods(sheet)


def _say_others(sheet: Worksheet, delicate: Fibre) -> None:
    """What the vat's pH means for the hardier fibres of a mixed plan."""
    mentioned = {window_of(sheet.plan, delicate)}
    for lot in sheet.plan.lots:
        fibre, pH = fibre_of(lot), sheet["vat.pH"]
        window = window_of(sheet.plan, fibre)
        if window in mentioned or not clean_grams(sheet.plan, lot):
            continue
        mentioned.add(window)
        if pH < window.low - NEAR:
            text = f"pH {pH:.1f} is below the {window.low:g} that suits it: raise the alkali before it goes in."
            sheet.say(Weight.NOTE, f"{lot.name}: {text}", "vat.pH")
