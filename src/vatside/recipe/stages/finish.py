"""The finish of each fibre: last airing, rinses, sour, wash-off, drying; and what came out, by the scale and by eye."""

from __future__ import annotations

from vatside.dips.depth import depth_name
from vatside.dips.uptake import NOTHING, CameOut, SoFar
from vatside.plan.batches import Batch, batches
from vatside.plan.figure_text import plain
from vatside.plan.measures import alkali_of, celsius, clean_grams, fibre_of, share
from vatside.plan.plan import Lot
from vatside.plan.sheet import Input, Stage, Weight
from vatside.recipe.stages import sour, vat_after, wash
from vatside.recipe.worksheet import Worksheet

WEIGHING_ERROR = 0.5
"""A gain is sure to so many percent of the fibre at best: its moisture moves with the weather. Common practice."""
MOST_GAIN = 50.0
"""No fibre gains more percent of its mass: the deepest blue and all the damp it holds come to less. Ours."""
MOST_LOSS = 50.0
"""Nor does any lose more: a scour takes far less off. Ours."""


def work_out(sheet: Worksheet, so_far: SoFar = NOTHING) -> None:
    """Put every figure of the finish on the worksheet: from the plan, or with what came out."""
    sheet.stage = Stage.FINISH
    all_batches = batches(sheet.plan)
    for batch in all_batches:
        sheet.group = batch.name if len(all_batches) > 1 else ""
        _rinses(sheet, batch)
        _sour(sheet, batch)
        wash.work_out(sheet, batch)
    for lot in sheet.plan.lots:
        sheet.group = lot.name if len(sheet.plan.lots) > 1 else ""
        _gain(sheet, lot)
        if lot.id in so_far.colours:
            _colour(sheet, lot, so_far.colours[lot.id])
    sheet.group = ""
    vat_after.work_out(sheet, so_far.spent, ended=so_far.ended)


def _rinses(sheet: Worksheet, batch: Batch) -> None:
    finish, room = batch.finish, celsius(sheet.plan.water.room)
    sheet.fact(batch.id("last_air"), "Last airing", finish.last_air, "min", "by fibre")
    sheet.put(
        batch.id("water"), "Water of each bath", batch.grams / 1000 * finish.liquor.value, "L",
        sheet.worked("fibre × liquor ratio", Input("fibre", batch.grams, "g"),
                     Input("liquor ratio", finish.liquor.value, "L/kg"), source=finish.liquor.source),
        pinnable=True,
    )
    sheet.fact(batch.id("rinses"), "Rinses", finish.rinses, "", "by fibre, or until no blue runs")
    step = batch.fibre.step
    sheet.put(
        batch.id("rinse_temperature"), "First rinse at", room + step.value if batch.gentle else room, "degC",
        sheet.worked("protein: the room, to which it has cooled in the air, + one safe step; others: the room",
                     Input("room", room, "degC"), Input("safe step", step.value, "K"), source=step.source),
        pinnable=True,
    )


def _sour(sheet: Worksheet, batch: Batch) -> None:
    limed = alkali_of(sheet.plan).saturates
    sour.work_out(sheet, batch)
    longest = batch.finish.sour_lime if limed else batch.finish.sour
    sheet.fact(batch.id("sour"), "In the sour, no longer than", longest, "min", "by fibre")


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
