"""What becomes of the vat: kept and fed each week; or stirred, settled and brought to a pH at which it may go."""

from __future__ import annotations

from vatside.catalogue.dyeing import ending
from vatside.catalogue.values import Fact
from vatside.chemistry.adjust import AcidNeeded, acid_needed, alkalinity, spent_and_cool
from vatside.chemistry.bath import Bath
from vatside.chemistry.errors import CannotReach, OutOfRange
from vatside.chemistry.heat import water_volume
from vatside.chemistry.life import makes_acid, turned_sour
from vatside.chemistry.reducers import REDUCERS, hydroxide_of
from vatside.chemistry.substances import LYE, naoh_equivalent, substance
from vatside.plan.measures import BUFFERS, Powder, alkali_of, is_buffered, method_of, powder
from vatside.plan.sheet import Input
from vatside.recipe.baths import vat_bath
from vatside.recipe.stages.sludge import decanted
from vatside.recipe.worksheet import Worksheet

FIVE_PERCENT = 5.0
"""The vinegar that recipes mean, %."""
SOUR_BY_THEN = 0.5
"""Of sugar or starch, what has turned to acid by the end of a day: a guess; how much decides a sample."""


def work_out(sheet: Worksheet, spent: Bath | None, *, ended: bool) -> None:
    """Put keeping and end on the worksheet: of the vat that is planned, or of a `spent` one by its account.

    A vat that has `ended` is not kept.
    """
    _keeps(sheet, ended=ended)
    _feed(sheet)
    rules = ending()
    sheet.fact("finish.oxidise", "Oxidise for", rules.oxidise, "min", "any vat", scale=60)
    sheet.fact("finish.settle", "Let it settle for", rules.settle, "min", "any vat", scale=60)
    if method_of(sheet.plan).end is None:
        _neutral(sheet, spent)


def _keeps(sheet: Worksheet, *, ended: bool) -> None:
    rules, days = ending(), method_of(sheet.plan).keeps_days
    worth = sheet["dip.left_strength"] >= rules.worth_keeping.value and not ended
    sheet.put(
        "finish.keep", "Keep the vat for", 1440.0 * days if worth else 0.0, "min",
        sheet.worked("as long as its kind keeps, if enough indigo is left; 0 lets it go",
                     "dip.left_strength", Input("enough", rules.worth_keeping.value, "g/L"),
                     Input("days it keeps", days, ""), source=rules.worth_keeping.source),
        pinnable=True,
    )


def _feed(sheet: Worksheet) -> None:
    """What a kept vat gets each week."""
    reducer = powder(sheet.plan, "reducer")
    feed = reducer.material.feed
    if feed is None:
        return
    grams = sheet.put(
        "finish.feed", f"{reducer.material.short} a week", feed.value * sheet["vat.liquor"] / reducer.purity, "g",
        sheet.worked("liquor × amount a litre ÷ purity", "vat.liquor", Input("a litre", feed.value, "g/L"),
                     Input("purity", 100 * reducer.purity, "%"), source=feed.source),
        powder=reducer, pinnable=True,
    )
    if is_buffered(sheet.plan):
        _soda(sheet, reducer, grams * reducer.purity)
    else:
        _alkali(sheet, reducer, grams * reducer.purity)


def _alkali(sheet: Worksheet, reducer: Powder, pure_g: float) -> None:
    """As much as the reducer takes until it is spent."""
    alkali = powder(sheet.plan, "alkali")
    lye = hydroxide_of(reducer.material.species, pure_g) * substance(LYE).molar_mass
    sheet.put(
        "finish.feed.alkali", f"{alkali.material.short} with it",
        lye / naoh_equivalent(alkali.material.species) / alkali.purity, "g",
        sheet.worked("what the reducer takes until it is spent ÷ purity", "finish.feed",
                     Input("purity", 100 * alkali.purity, "%"), source="Reactions"),
        powder=alkali,
    )


def _soda(sheet: Worksheet, reducer: Powder, pure_g: float) -> None:
    """Soda that holds the vat where it stands."""
    for name, a_gram in zip(BUFFERS, _with_a_gram(reducer.material.species), strict=True):
        what = powder(sheet.plan, name)
        sheet.put(
            f"finish.feed.{name}", f"{what.material.short} with it", a_gram * pure_g / what.purity, "g",
            sheet.worked("amount a gram of the reducer ÷ purity", "finish.feed", Input("a gram", a_gram, "g/g"),
                         Input("purity", 100 * what.purity, "%"), source="Buffered"),
            powder=what,
        )


def _with_a_gram(species: str) -> tuple[float, float]:
    """Give the soda ash and the baking soda for a gram of a reducer."""
    given = REDUCERS[species].in_soda
    return (given.soda_ash, given.baking_soda) if given else (0.0, 0.0)


def _neutral(sheet: Worksheet, spent: Bath | None) -> None:
    """What it takes to bring the vat to a pH at which it may go."""
    rules = ending()
    limed, litres = alkali_of(sheet.plan).saturates, sheet["vat.liquor"]
    bath, sour, whose = _at_its_end(sheet, spent, limed=limed)
    if bath is not None and (limed or spent is not None):
        litres = water_volume(bath.water_kg, bath.temperature_C)
    if limed:
        sheet.put(
            "finish.clear", "Clear liquor poured off", litres, "L",
            sheet.worked("liquor − sludge, settled: the lime at the bottom stays there", "vat.liquor"),
        )
    sample = sheet.fact("finish.sample", "Sample to titrate", rules.sample, "L", "any vat", scale=1 / 1000)
    sheet.put(
        "finish.samples", "Samples in the vat", litres / sample if sample else 0.0, "",
        sheet.worked("liquor ÷ sample: what the sample took, times this, is the vat's dose",
                     Input(f"liquor {whose}", litres, "L"), "finish.sample"),
        rough=True,
    )
    pH = rules.end_pH
    _vinegar(sheet, bath, sour, whose, pH)
    rows = (("end_pH", "Neutralise to pH", pH.value), ("pH_low", "It may go at pH, from", pH.low or pH.value),
            ("pH_high", "It may go at pH, up to", pH.high or pH.value))
    for name, label, value in rows:
        sheet.put(f"finish.{name}", label, value, "", sheet.worked("any vat; local rules first", source=pH.source))


def _at_its_end(sheet: Worksheet, spent: Bath | None, *, limed: bool) -> tuple[Bath | None, Bath | None, str]:
    """Give what is neutralised, the same once all that can has turned to acid, and whose it is.

    The vat as planned or by its account, over lime its clear liquor; None where that cannot be told, or nothing sours.
    """
    whose = "as planned" if spent is None else "by its account"
    try:
        whole = spent or turned_sour(spent_and_cool(vat_bath(sheet.plan, sheet.__getitem__)), SOUR_BY_THEN)
        sour = turned_sour(whole, 1.0) if makes_acid(whole) else None
        if limed:
            whole, sour = decanted(whole), decanted(sour) if sour else None
    except OutOfRange:
        return None, None, whose
    return whole, sour, whose


def _vinegar(sheet: Worksheet, bath: Bath | None, sour: Bath | None, whose: str, pH: Fact) -> None:
    """The vinegar that lets the vat go, as its end says."""
    strength, high = 100 * powder(sheet.plan, "vinegar").purity, pH.high or pH.value
    acid, holds, least = AcidNeeded(0.0), 0.0, None
    try:
        if bath is not None:
            acid, holds = acid_needed(bath, pH.value, high, "vinegar"), alkalinity(bath)
            least = acid_needed(sour, pH.value, high, "vinegar") if sour is not None else None
    except (CannotReach, OutOfRange):
        acid, holds, least = AcidNeeded(0.0), 0.0, None
    five_percent, ends = acid.amount / 1000, acid.end_pH or pH.value
    sheet.put(
        "finish.vinegar", "Vinegar for the vat, about", five_percent * FIVE_PERCENT / max(strength, 0.1), "L",
        sheet.worked(f"charge balance of the vat {whose}, its reducer spent by air: to the pH wanted at 25 °C, or, "
                     "where its soda would drift out of the range, by its alkalinity; a pH read then decides",
                     Input("to pH", pH.value, ""), Input("alkalinity", 1000 * holds, "mmol"),
                     Input("its strength", strength, "%"), source="HarnedEhlers1933"),
        rough=True, fewest=None if least is None else least.amount / 1000 * FIVE_PERCENT / max(strength, 0.1),
    )
    sheet.put(
        "finish.sample_pH", "Titrate the sample to pH", min(round(ends, 1), pH.value), "",
        sheet.worked("the pH wanted; with soda that at which its alkalinity is met, all carbonic acid still in it",
                     Input("to pH", pH.value, ""), Input("alkalinity", 1000 * holds, "mmol"),
                     source="HarnedEhlers1933"),
    )
