"""The finish: last airing, rinses, sour, wash-off, drying; the lots' gain; the vat's end, or what keeps it fed."""

from __future__ import annotations

from math import ceil

from vatside.catalogue.dyeing import ending
from vatside.catalogue.values import Fact
from vatside.chemistry.adjust import AcidNeeded, acid_needed, alkalinity, spent_and_cool
from vatside.chemistry.bath import Bath
from vatside.chemistry.errors import CannotReach, OutOfRange
from vatside.chemistry.heat import water_volume
from vatside.chemistry.life import makes_acid, turned_sour
from vatside.chemistry.reducers import REDUCERS, hydroxide_of
from vatside.chemistry.substances import ALKALIS, LYE, naoh_equivalent, substance
from vatside.dips.depth import depth_name
from vatside.dips.uptake import NOTHING, CameOut, SoFar
from vatside.plan.batches import Batch, batches
from vatside.plan.figure_text import plain
from vatside.plan.measures import BUFFERS, Powder, celsius, clean_grams, fibre_of, is_buffered, method_of, powder, share
from vatside.plan.plan import Lot
from vatside.plan.sheet import Input, Stage, Weight
from vatside.recipe.baths import vat_bath
from vatside.recipe.stages import sour
from vatside.recipe.stages.scour import SLOW_HEATING
from vatside.recipe.stages.sludge import decanted
from vatside.recipe.worksheet import Worksheet, draw, pot_minutes, wet_litres
from vatside.units import Kind, to_base

WEIGHING_ERROR = 0.5
"""A gain is sure to so many percent of the fibre at best: its moisture moves with the weather. Common practice."""
MOST_GAIN = 50.0
"""No fibre gains more percent of its mass: the deepest blue and all the damp it holds come to less. Ours."""
MOST_LOSS = 50.0
"""Nor does any lose more: a scour takes far less off. Ours."""
FIVE_PERCENT = 5.0
"""The vinegar that recipes mean, %."""


def work_out(sheet: Worksheet, so_far: SoFar = NOTHING) -> None:
    """Put every figure of the finish on the worksheet: from the plan, or with what came out."""
    sheet.stage = Stage.FINISH
    all_batches = batches(sheet.plan)
    for batch in all_batches:
        sheet.group = batch.name if len(all_batches) > 1 else ""
        _rinses(sheet, batch)
        _sour(sheet, batch)
        _wash(sheet, batch)
    for lot in sheet.plan.lots:
        sheet.group = lot.name if len(sheet.plan.lots) > 1 else ""
        _gain(sheet, lot)
        if lot.id in so_far.colours:
            _colour(sheet, lot, so_far.colours[lot.id])
    sheet.group = ""
    _ending(sheet, so_far)


def _time(sheet: Worksheet, figure: str, label: str, fact: Fact, scale: float = 1.0) -> float:
    working = sheet.worked("by fibre", source=fact.source)
    return sheet.put(figure, label, fact.value * scale, "min", working, pinnable=True)


def _rinses(sheet: Worksheet, batch: Batch) -> None:
    finish, room = batch.finish, celsius(sheet.plan.water.room)
    _time(sheet, batch.id("last_air"), "Last airing", finish.last_air)
    sheet.put(
        batch.id("water"), "Water of each bath", batch.grams / 1000 * finish.liquor.value, "L",
        sheet.worked("fibre × liquor ratio", Input("fibre", batch.grams, "g"),
                     Input("liquor ratio", finish.liquor.value, "L/kg"), source=finish.liquor.source),
        pinnable=True,
    )
    sheet.put(
        batch.id("rinses"), "Rinses", finish.rinses.value, "",
        sheet.worked("by fibre, or until no blue runs", source=finish.rinses.source), pinnable=True,
    )
    step = batch.fibre.step
    sheet.put(
        batch.id("rinse_temperature"), "First rinse at", room + step.value if batch.gentle else room, "degC",
        sheet.worked("protein: the room, to which it has cooled in the air, + one safe step; others: the room",
                     Input("room", room, "degC"), Input("safe step", step.value, "K"), source=step.source),
        pinnable=True,
    )


def _sour(sheet: Worksheet, batch: Batch) -> None:
    limed = ALKALIS[powder(sheet.plan, "alkali").material.species].saturates
    sour.work_out(sheet, batch)
    longest = batch.finish.sour_lime if limed else batch.finish.sour
    _time(sheet, batch.id("sour"), "In the sour, no longer than", longest)


def _wash(sheet: Worksheet, batch: Batch) -> None:
    plan, finish, detergent = sheet.plan, batch.finish, powder(sheet.plan, "detergent")
    room, step = celsius(plan.water.room), batch.fibre.step
    wash = sheet.put(
        batch.id("wash"), "Wash off at", finish.wash.value, "degC",
        sheet.worked("by fibre", source=finish.wash.source), pinnable=True,
    )
    start = max(min(room + step.value if batch.gentle else celsius(plan.water.hot), wash), celsius(plan.water.cold))
    sheet.put(
        batch.id("wash_start"), "Wash water at first", start, "degC",
        sheet.worked("protein: the room + one safe step; others: as the hot tap runs; never above the wash",
                     Input("room", room, "degC"), Input("safe step", step.value, "K"), batch.id("wash"),
                     source=step.source),
    )
    draw(sheet, batch.id("wash_"), sheet[batch.id("water")], start)
    sheet.put(
        batch.id("detergent"), detergent.material.short, sheet[batch.id("water")] * finish.detergent.value, "g",
        sheet.worked("water × amount a litre", batch.id("water"), Input("a litre", finish.detergent.value, "g/L"),
                     source=finish.detergent.source),
        powder=detergent, pinnable=True,
    )
    _wash_times(sheet, batch, start, wash)


def _wash_times(sheet: Worksheet, batch: Batch, start_C: float, wash_C: float) -> None:
    power, water = to_base(sheet.plan.water.hob, Kind.POWER), sheet[batch.id("water")]
    minutes = pot_minutes(sheet.plan, water, start_C, wash_C, batch.fibre, batch.grams)
    if batch.gentle:
        minutes = max(minutes, (wash_C - start_C) / SLOW_HEATING)
    sheet.put(
        batch.id("heating"), "Heating the wash takes", minutes, "min",
        sheet.worked("(water × rise + wet fibre × its rise from the room) × heat capacity ÷ hob power, without losses; "
                     "protein no faster than 1 °C a minute",
                     batch.id("water"), Input("wet fibre, as water", wet_litres(batch.fibre, batch.grams), "L"),
                     batch.id("wash_start"), batch.id("wash"), Input("hob", power, "kW"),
                     source="Popiel1998"),
        pinnable=True,
    )
    _time(sheet, batch.id("wash_minutes"), "Wash for", batch.finish.wash_minutes)
    room, step = celsius(sheet.plan.water.room), batch.fibre.step
    down = max(ceil(round((wash_C - room) / step.value, 6)), 0) if batch.gentle else 0
    last = batch.finish.last_rinses
    sheet.put(
        batch.id("last_rinses"), "Rinses after the wash", max(last.value, down), "",
        sheet.worked("by fibre; protein: as many as it takes to come down to the room by safe steps",
                     Input("by fibre", last.value, ""), batch.id("wash"), Input("room", room, "degC"),
                     Input("safe step", step.value, "K"), source=last.source),
        pinnable=True,
    )
    _time(sheet, batch.id("dry"), "Drying takes", batch.finish.dry, 60.0)


def _gain(sheet: Worksheet, lot: Lot) -> None:
    """What a lot weighs before and after: typed in from the scale, the gain is what is really on it."""
    before = sheet.put(
        f"finish.before.{lot.id}", "Weighed dry before the vat", clean_grams(sheet.plan, lot), "g",
        sheet.worked("fibre − what the scour takes off: type in what the scale says", Input(
                     "as it came", clean_grams(sheet.plan, lot), "g")),
        pinnable=True,
    )
    after = sheet.put(
        f"finish.after.{lot.id}", "Weighs, dyed and dry",
        before + clean_grams(sheet.plan, lot) * sheet[f"dip.{lot.id}.reaches"] / 100, "g",
        sheet.worked("before + the indigotin on it: type in what the scale says", f"finish.before.{lot.id}",
                     Input("lot as dipped", clean_grams(sheet.plan, lot), "g"), f"dip.{lot.id}.reaches"),
        pinnable=True,
    )
    gain = true_gain(before, after)
    figure = f"finish.gain.{lot.id}"
    sheet.put(
        figure, "Gained", gain, "%",
        sheet.worked("(after − before) ÷ before; sure to half a percent at best, as fibre takes up moisture",
                     f"finish.before.{lot.id}", f"finish.after.{lot.id}",
                     Input("regain of this fibre", fibre_of(lot).regain.value, "%"), source="D1909"),
        rough=True,
    )
    if sheet.rows[f"finish.after.{lot.id}"].pin is not None:
        _say_gain(sheet, lot, gain, figure)


def _colour(sheet: Worksheet, lot: Lot, came: CameOut) -> None:
    """What it came out by its colour, beside what the dips and the scale say."""
    figure = f"finish.colour.{lot.id}"
    sheet.put(
        figure, f"Colour: {depth_name(came.depth)}", came.depth, "%",
        sheet.worked("the depth on the ladder that looks like the colour recorded; an estimate until pieces of yours "
                     "were weighed and their colours recorded", Input("wanted", 100 * share(lot.depth), "%"),
                     source="guess"),
        rough=True,
    )
    sheet.say(Weight.NOTE, f"{lot.name} came out {came.words}.", figure)


def true_gain(before_g: float, after_g: float) -> float:
    """Give what a lot gained, % of its dry mass before the vat; 0 without a mass before."""
    return 100 * (after_g - before_g) / before_g if before_g > 0 else 0.0


def can_gain(gain: float) -> bool:
    """Tell whether a lot can have gained so much (%), or whether the scale or what was typed is to be doubted."""
    return -MOST_LOSS <= gain <= MOST_GAIN


def _say_gain(sheet: Worksheet, lot: Lot, gain: float, figure: str) -> None:
    wanted = 100 * share(lot.depth)
    if not can_gain(gain):
        after, before = (plain(sheet[f"finish.{when}.{lot.id}"], "g") for when in ("after", "before"))
        text = f"{lot.name}: {after} dyed and dry, where {before} went in? Look at the number and its unit, g or kg."
        sheet.say(Weight.CARE, text, figure)
    elif gain <= 0:
        text = f"{lot.name} weighs no more than before: dry both times for a day in the same room, and weigh again."
        sheet.say(Weight.CARE, text, figure)
    elif abs(gain - wanted) > WEIGHING_ERROR:
        sheet.say(
            Weight.NOTE,
            f"{lot.name} gained {plain(float(f'{gain:.2g}'), '%')} where {plain(wanted, '%')} was wanted; damp air "
            f"alone can make {plain(WEIGHING_ERROR, '%')} of that.",
            figure,
        )


def _ending(sheet: Worksheet, so_far: SoFar) -> None:
    feed_the_kept(sheet)
    _spent(sheet, so_far.spent)


def _spent(sheet: Worksheet, spent: Bath | None) -> None:
    rules = ending()
    for name, label, fact in (("oxidise", "Oxidise for", rules.oxidise), ("settle", "Let it settle for", rules.settle)):
        sheet.put(f"finish.{name}", label, fact.value * 60, "min", sheet.worked("any vat", source=fact.source),
                  pinnable=True)
    if method_of(sheet.plan).end is None:
        _neutral(sheet, spent)


def _neutral(sheet: Worksheet, spent: Bath | None) -> None:
    """What it takes to bring the vat to a pH at which it may go."""
    rules = ending()
    limed, litres = ALKALIS[powder(sheet.plan, "alkali").material.species].saturates, sheet["vat.liquor"]
    bath, sour, whose = _at_its_end(sheet, spent, limed=limed)
    if bath is not None and (limed or spent is not None):
        litres = water_volume(bath.water_kg, bath.temperature_C)
    if limed:
        sheet.put(
            "finish.clear", "Clear liquor poured off", litres, "L",
            sheet.worked("liquor − sludge, settled: the lime at the bottom stays there", "vat.liquor"), rough=True,
        )  # fmt: skip
    sample = sheet.put(
        "finish.sample", "Sample to titrate", rules.sample.value / 1000, "L",
        sheet.worked("any vat", source=rules.sample.source), pinnable=True,
    )
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
        whole = _by_then(spent_and_cool(vat_bath(sheet.plan, sheet.__getitem__))) if spent is None else spent
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
    )  # fmt: skip
    sheet.put(
        "finish.sample_pH", "Titrate the sample to pH", min(round(ends, 1), pH.value), "",
        sheet.worked("the pH wanted; with soda that at which its alkalinity is met, all carbonic acid still in it",
                     Input("to pH", pH.value, ""), Input("alkalinity", 1000 * holds, "mmol"),
                     source="HarnedEhlers1933"),
    )  # fmt: skip


SOUR_BY_THEN = 0.5
"""Of sugar or starch, what has turned to acid by the end of a day: a guess; how much decides a sample."""


def _by_then(bath: Bath) -> Bath:
    return turned_sour(bath, SOUR_BY_THEN)


def feed_the_kept(sheet: Worksheet) -> None:
    """Put on the worksheet how long the vat is kept, and what it is fed with each week."""
    _keeps(sheet)
    reducer = powder(sheet.plan, "reducer")
    feed = reducer.material.feed
    if feed is None:
        return
    grams = sheet.put(
        "finish.feed", f"{reducer.material.short} a week", feed.value * sheet["vat.liquor"] / reducer.purity, "g",
        sheet.worked("liquor × amount a litre ÷ purity", "vat.liquor", Input("a litre", feed.value, "g/L"),
                     Input("purity", 100 * reducer.purity, "%"), source=feed.source),
        powder=reducer, pinnable=True,
    )  # fmt: skip
    if is_buffered(sheet.plan):
        _soda(sheet, reducer, grams * reducer.purity)
    else:
        _alkali(sheet, reducer, grams * reducer.purity)


def _keeps(sheet: Worksheet) -> None:
    rules, days = ending(), method_of(sheet.plan).keeps_days
    worth = sheet["dip.left_strength"] >= rules.worth_keeping.value
    sheet.put(
        "finish.keep", "Keep the vat for", 1440.0 * days if worth else 0.0, "min",
        sheet.worked("as long as its kind keeps, if enough indigo is left; 0 lets it go",
                     "dip.left_strength", Input("enough", rules.worth_keeping.value, "g/L"),
                     Input("days it keeps", days, ""), source=rules.worth_keeping.source),
        pinnable=True,
    )  # fmt: skip


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
    )  # fmt: skip


def _soda(sheet: Worksheet, reducer: Powder, pure_g: float) -> None:
    """Soda that holds the vat where it stands."""
    for name, a_gram in zip(BUFFERS, _with_a_gram(reducer.material.species), strict=True):
        what = powder(sheet.plan, name)
        sheet.put(
            f"finish.feed.{name}", f"{what.material.short} with it", a_gram * pure_g / what.purity, "g",
            sheet.worked("amount a gram of the reducer ÷ purity", "finish.feed", Input("a gram", a_gram, "g/g"),
                         Input("purity", 100 * what.purity, "%"), source="Buffered"),
            powder=what,
        )  # fmt: skip


def _with_a_gram(species: str) -> tuple[float, float]:
    """Give the soda ash and the baking soda for a gram of a reducer."""
    given = REDUCERS[species].in_soda
    return (given.soda_ash, given.baking_soda) if given else (0.0, 0.0)
