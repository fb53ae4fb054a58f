"""The words that the steps of a day are filled with, and the label of a stock jar."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, timedelta

from vatside.catalogue.load import cautions, materials
from vatside.chemistry.substances import ALKALIS
from vatside.dayline.steps import amount_words, fill, lid_words, opening, ties, wet_from
from vatside.dips.lot import dip_order
from vatside.plan.batches import Batch, Bath
from vatside.plan.figure_text import plain
from vatside.plan.hours import MONTHS
from vatside.plan.measures import alkali_of, fibre_of, method_of, plant_after, powder, reducer_of
from vatside.plan.plan import Lot, Plan, Stuff
from vatside.plan.sheet import Figure, Sheet
from vatside.recipe.kept import CLINGS_L, in_jar
from vatside.recipe.stages.stock import jug_litres
from vatside.units import show_minutes

LIME_TAKES_ML = 32
"""Vinegar of 5 % that a gram of slaked lime takes: 27 mmol of hydroxide over 0.8326 mmol of acid a mL [CIAAW]."""
FULL_ENOUGH = 0.75
"""Of its tub: emptier than that a vat is kept in a smaller one. Common practice, no source."""
MOST_NAMED = 6
"""A sentence that names more lots than this is not read to its end. Ours."""


def dye_words(plan: Plan, sheet: Sheet) -> dict[str, str]:
    """Name lots, fibres and powders for the steps of the dips and of the vat's end, and what only some days say."""
    lots = dip_order(plan, sheet.value("vat.strength"))
    gentle, plants = _by_turn(lots)
    return {
        "order": _names(plants if plant_after(plan) else lots),
        "gentle": _names(gentle),
        "gentle_fibres": _fibres(gentle),
        "plant_fibres": _fibres(plants),
        "reducer": powder(plan, "reducer").material.name,
        "alkali": powder(plan, "alkali").material.short.lower(),
        "ties": ties(plan.lots),
        "caustic": "caustic" if alkali_of(plan).caustic else "alkaline",
        "open": opening(*(lot.form for lot in (plants if plant_after(plan) else lots))),
        "gentle_open": opening(*(lot.form for lot in gentle)),
        "wet_from": wet_from(plan),
        "label": _label(plan, sheet),
        "vinegar_is": _how_sure(sheet["finish.vinegar"]) if "finish.vinegar" in sheet else "",
        "soda_end": _soda_end(sheet),
        "smaller": _smaller(sheet),
        "sludge_of": _sludge_of(plan),
        **lid_words(plan),
    }


def _label(plan: Plan, sheet: Sheet) -> str:
    """Give the label of the jar by the plan alone; empty where nothing stays in it."""
    if not sheet.value("stock.left", 0.0):
        return ""
    left, strength = sheet.value("stock.left"), sheet.value("stock.left_strength")
    return "; ".join(label(plan, left, strength, made_of_kept(plan, sheet)))


def _sludge_of(plan: Plan) -> str:
    """Name what lies at the bottom of a lime vat."""
    metal = reducer_of(plan).sludge > 0
    return "lime, iron and blue" if metal else "lime and blue"


def _how_sure(figure: Figure) -> str:
    """Say `at most` or `about`, as the figure itself does behind the comma of its label."""
    return figure.label.rpartition(", ")[2]


def _smaller(sheet: Sheet) -> str:
    """Say that a tub with much air over its vat is changed for a smaller one; empty for one that is full enough."""
    if sheet.value("vat.fill") >= FULL_ENOUGH * sheet.value("vat.tub"):
        return ""
    return "; it keeps better in a tub that it just fills: by the jug, low and slowly, goggles on"


def _soda_end(sheet: Sheet) -> str:
    """Say why the sample of a vat with soda ends below the pH that is wanted; empty for others."""
    wanted = sheet.value("finish.end_pH", 0.0)
    if sheet.value("finish.sample_pH", 0.0) >= wanted:
        return ""
    return f", cold (it holds soda: at pH {wanted:g} only a part is in, and the pH drifts up again)"


def _by_turn(lots: Iterable[Lot]) -> tuple[list[Lot], list[Lot]]:
    """Part the lots into wool, hair and silk, which go in first, and plant fibres."""
    parted: tuple[list[Lot], list[Lot]] = ([], [])
    for lot in lots:
        parted[fibre_of(lot).group == "cellulose"].append(lot)
    return parted


def _names(lots: Iterable[Lot]) -> str:
    """Name the lots in the order of their dips; of many, the first."""
    names = list(dict.fromkeys(lot.name for lot in lots))
    if len(names) > MOST_NAMED:
        names[MOST_NAMED - 1 :] = [f"the other {len(names) - MOST_NAMED + 1} in their turn"]
    return ", then ".join(names) or "piece by piece"


def _fibres(lots: Iterable[Lot]) -> str:
    return " and ".join(dict.fromkeys(fibre_of(lot).name for lot in lots))


def sour_words(plan: Plan, batch: Batch) -> dict[str, str]:
    """Say where the paper should find the sour, and what plant fibre and a vat with lime ask for besides."""
    target, limed = batch.finish.sour_pH, alkali_of(plan).saturates
    return {
        "citric": "" if batch.gentle else ", all of it to be rinsed out again; vinegar is better",
        "sour_low": f"{target.low:g}",
        "sour_high": f"{target.high:g}",
        "lime": f"; lime left in the {batch.name} takes {LIME_TAKES_ML:g} mL of vinegar a gram" if limed else "",
        "sour_rinses": "once" if batch.gentle else "once, twice after citric acid",
    }


def batch_words(batch: Batch, sheet: Sheet) -> dict[str, str]:
    """Name a fibre and say how gently it is rinsed and washed off, and in what parts where no pot takes all of it."""
    each = "; {bath.wash_parts} parts, one after the other, as the pot takes no more: each {bath.part_detergent} in "
    named = {"fibre": batch.name, "in_parts": f"{each}{{bath.part_water}}" if batch.id("wash_parts") in sheet else ""}
    if not batch.gentle:
        return {**named, "falling": "cold", "gently": "", "after_wash": "hot first, then cold"}
    cooler = f"each at most {plain(batch.fibre.step.value, 'degC')} cooler than the one before"
    return {
        **named,
        "falling": f"the first at {{bath.rinse_temperature}}, {cooler}",
        "gently": " slowly, moving it little",
        "after_wash": f"from the wash down, {cooler}",
    }


def warm_after(sheet: Sheet, plan: Plan) -> str:
    """Say what warms a vat that comes out of its rest too cool; nothing for one that does not, or is kept."""
    if "vat.by_then" not in sheet or plan.kept is not None:
        return ""
    on_hob = BY_POT if plan.vessels.tub.stuff in NO_HOB else BY_HOB
    gas = reducer_of(plan).breathes
    by = f"a bath of kettle water, no hob or flame near, for {gas} comes off" if gas else on_hob
    minutes = show_minutes(max(round(sheet.value("vat.warm_up")), 1))
    return fill(f"; then, near {{vat.by_then}}, warm it to {{vat.temperature}}: {by}", sheet, plan, minutes=minutes)


BY_HOB = "a hot bath, or about {minutes} of the hob"
"""What warms a vat that gives off no gas, in a tub that may stand on a hob."""
BY_POT = "a hot bath round it, or a pot of it, about {minutes} on the hob"
NO_HOB = (Stuff.PLASTIC, Stuff.GLASS)
"""What may not stand on a hob."""


def jar_words(jars: int) -> dict[str, str]:
    """Words for one jar and for several."""
    if jars == 1:
        return {"jar": "jar", "in_all": "", "shared": ""}
    return {"jar": "jars", "in_all": " in all", "shared": f", shared between the {jars} jars"}


def powder_words(plan: Plan) -> dict[str, str]:
    """Name alkali and reducer in short."""
    return {role: powder(plan, role).material.short.lower() for role in ("alkali", "reducer")}


def lye_words(sheet: Sheet) -> dict[str, str]:
    """Say what lye is dissolved in: cold water in a plastic jug, or the jar's own where the dyer wants it so."""
    jug = sheet.value("stock.jug", 0.0)
    cold = f"{plain(jug, 'L')} of cold water in a plastic jug, never water onto lye; once clear, pour it into the jar, "
    return {
        "in_jar": plain(max(sheet.value("stock.water") - jug, 0.0), "L"),
        "lye_water": f"{cold}stirring" if jug else "the water, never water onto lye",
        "lye_jug": plain(jug_litres(sheet.value("vat.alkali")), "L"),
    }


def bath_words(plan: Plan, sheet: Sheet, bath: Bath) -> dict[str, str]:
    """Name what a scour bath holds and what goes into it, and how it comes down quicker."""
    down, quicker = bath.id("steps_down"), ""
    if sheet.value(down, 0.0) > 1:
        step = plain(bath.fibre.step.value, "degC")
        quicker = f"; quicker, {amount_words(sheet[down], plan)}, each at most {step} cooler"
    return {"fibre": bath.called, "agents": _agents(plan, sheet, bath), "quicker": quicker, "ties": ties(bath.lots)}


def _agents(plan: Plan, sheet: Sheet, bath: Bath) -> str:
    parts = (
        f"{amount_words(sheet[bath.id(agent.material)], plan)} of {materials()[agent.material].short.lower()}"
        for agent in bath.scour.agents
    )
    return " and ".join(parts)


def agent_cautions(bath: Bath) -> tuple[str, ...]:
    """Give the cautions of what goes into a scour bath."""
    return tuple(name for agent in bath.scour.agents for name in materials()[agent.material].cautions)


def label(plan: Plan, litres: float, strength: float, made: datetime | None) -> tuple[str, ...]:
    """Give the lines of a label: litres, strength (g/L of indigotin), its day and hour (local; None: not known yet)."""
    method, alkali = method_of(plan), powder(plan, "alkali").material
    days = method.stock.keeps.value
    if made is None:
        when = f"made (day and hour), use within {plain(1440 * days, 'min')}"
    else:
        when = f"made {_day(made)} {made:%H:%M}, use by {_day(made + timedelta(days=days))}"
    word = "CAUSTIC" if ALKALIS[alkali.species].caustic else "ALKALINE"
    hurts = ", ".join(cautions()[name].title.lower() for name in alkali.cautions)
    return (
        f"indigo stock ({method.name}), {plain(strength, 'g/L')} of indigotin, {plain(litres, 'L')}",
        when,
        f"{word}, NOT FOOD: {hurts}; no acid to it",
    )


def _day(at: date) -> str:
    return f"{at.day} {MONTHS[at.month - 1][:3].capitalize()}"


def made_of_kept(plan: Plan, sheet: Sheet) -> datetime | None:
    """Give when the older stock in the jar was made, where some of a kept one stays; None for this day's own."""
    there = plan.stock_kept
    if there is None or there.made is None or "T" not in there.made:
        return None
    stays = in_jar(plan).litres - min(sheet.value("vat.stock_kept", 0.0), in_jar(plan).litres)
    return datetime.fromisoformat(there.made) if stays > CLINGS_L else None
