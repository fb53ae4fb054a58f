"""All steps of a dye day in order, from scour to finish, out of the catalogue; the label of a stock jar."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, datetime, timedelta

from attrs import evolve

from vatside.catalogue.load import cautions, materials, steps_of
from vatside.catalogue.values import MOMENTS, StepTemplate
from vatside.chemistry.reducers import REDUCERS
from vatside.chemistry.substances import ALKALIS
from vatside.dayline.steps import (
    DEFER,
    Setting,
    Step,
    amount_words,
    caution,
    fill,
    has,
    is_needed,
    lid_words,
    make,
    opening,
    ties,
    wet_from,
)
from vatside.dips.lot import dip_order
from vatside.plan.batches import Batch, Bath, batches, baths
from vatside.plan.figure_text import plain
from vatside.plan.hours import MONTHS
from vatside.plan.measures import fibre_of, method_of, plant_after, powder
from vatside.plan.plan import Lot, Plan, Stuff
from vatside.plan.sheet import Figure, Sheet, Stage
from vatside.recipe.kept import BROUGHT, CLINGS_L, in_jar
from vatside.recipe.scour_notices import MOST_LOADS
from vatside.recipe.stages.stock import jug_litres
from vatside.units import show_minutes


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


ROTATE, GENTLE = "dip.rotate", "dip.gentle"
"""Steps that the board carries out: the last dips, and in a vat for both those of wool, hair and silk before them."""
LIME_TAKES_ML = 32
"""Vinegar of 5 % that a gram of slaked lime takes: 27 mmol of hydroxide over 0.8326 mmol of acid a mL [CIAAW]."""
FULL_ENOUGH = 0.75
"""Of its tub: emptier than that a vat is kept in a smaller one. Common practice, no source."""
MOST_NAMED = 6
"""A sentence that names more lots than this is not read to its end. Ours."""


def dye_steps(plan: Plan, sheet: Sheet) -> Iterator[Step]:
    """Give the steps of Dip, then those of Finish fibre by fibre, then those of the vat's end."""
    words = _words(plan, sheet)
    yield from _made(steps_of("dip"), Setting(plan, sheet, Stage.DIP, words))
    for batch in batches(plan):
        of_fibre = {**_sour_words(plan, batch), **_batch_words(batch)}
        at = Setting(plan, sheet, Stage.FINISH, of_fibre, batch.id(""), group=batch.name)
        yield from _made((item for item in steps_of("finish") if item.each), at)
    yield from _made(method_of(plan).ending, Setting(plan, sheet, Stage.FINISH, words))


def _made(items: Iterable[StepTemplate], at: Setting) -> Iterator[Step]:
    """Make the steps that are needed; what works the hands all along counts with its own minutes."""
    for item in (item for item in items if is_needed(item, at)):
        step = make(item, at)
        if item.works:
            hands = item.hands + _handling(at.plan, at.sheet, item)
            step = evolve(step, hands_min=step.hands_min + _works(at.plan, at.sheet, item), handling_min=hands)
        yield step


def _words(plan: Plan, sheet: Sheet) -> dict[str, str]:
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
        "caustic": "caustic" if ALKALIS[powder(plan, "alkali").material.species].caustic else "alkaline",
        "open": opening(*(lot.form for lot in (plants if plant_after(plan) else lots))),
        "gentle_open": opening(*(lot.form for lot in gentle)),
        "wet_from": wet_from(plan),
        "label": _label(plan, sheet),
        "vinegar_is": _how_sure(sheet["finish.vinegar"]) if has(sheet, "finish.vinegar") else "",
        "soda_end": _soda_end(sheet),
        "smaller": _smaller(sheet),
        "sludge_of": _sludge_of(plan),
        **lid_words(plan),
    }


def _label(plan: Plan, sheet: Sheet) -> str:
    """Give the label of the jar by the plan alone; empty where nothing stays in it."""
    if not sheet.value("stock.left", 0.0):
        return ""

    return "; ".join(
        label(plan, sheet.value("stock.left"), sheet.value("stock.left_strength"), made_of_kept(plan, sheet))
    )


def _sludge_of(plan: Plan) -> str:
    """Name what lies at the bottom of a lime vat."""
    metal = REDUCERS[powder(plan, "reducer").material.species].sludge > 0
    return "lime, iron and blue" if metal else "lime and blue"


def _how_sure(figure: Figure) -> str:
    """Say `at most` or `about`, as the figure itself does behind the comma of its label."""
    return figure.label.rpartition(", ")[2]


def _smaller(sheet: Sheet) -> str:
    """Say that a tub with much air over its vat is changed for a smaller one; empty for one that is full enough."""
    if sheet.value("vat.fill") >= FULL_ENOUGH * sheet.value("vat.tub"):
        return ""
    litres = plain(sheet.value("vat.liquor"), "L")
    return f"; it keeps better in a tub that its {litres} just fill: by the jug, low and slowly, goggles on"


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


def _works(plan: Plan, sheet: Sheet, item: StepTemplate) -> float:
    """Minutes of work; of the dips in a vat for both, wool, hair and silk go first."""
    minutes = sheet.value(item.works)
    if plant_after(plan) is None:
        return minutes
    gentle = min(sheet.value("dip.gentle_minutes", 0.0), minutes)
    return gentle if item.id == GENTLE else minutes - gentle


def _handling(plan: Plan, sheet: Sheet, item: StepTemplate) -> float:
    """Minutes of hands on, parted as `_works`; dip, airing and rest are none."""
    minutes = sheet.value(item.works)
    return sheet.value("dip.hands") * (_works(plan, sheet, item) / minutes if minutes else 0.0)


def _sour_words(plan: Plan, batch: Batch) -> dict[str, str]:
    """Say where the paper should find the sour, and what plant fibre and a vat with lime ask for besides."""
    target, limed = batch.finish.sour_pH, ALKALIS[powder(plan, "alkali").material.species].saturates
    return {
        "citric": "" if batch.gentle else ", all of it to be rinsed out again; vinegar is better",
        "sour_low": f"{target.low:g}",
        "sour_high": f"{target.high:g}",
        "lime": f"; lime left in the {batch.name} takes {LIME_TAKES_ML:g} mL of vinegar a gram" if limed else "",
        "sour_rinses": "once" if batch.gentle else "once, twice after citric acid",
    }


def _batch_words(batch: Batch) -> dict[str, str]:
    if not batch.gentle:
        return {"fibre": batch.name, "falling": "cold", "gently": "", "after_wash": "hot first, then cold"}
    cooler = f"each at most {plain(batch.fibre.step.value, 'degC')} cooler than the one before"
    return {
        "fibre": batch.name,
        "falling": f"the first at {{bath.rinse_temperature}}, {cooler}",
        "gently": " slowly, moving it little",
        "after_wash": f"from the wash down, {cooler}",
    }


__all__ = ["DEFER", "caution", "steps"]

JAR, STOCK_IN = "vat.jar", "vat.stock_in"
"""The steps that look at a kept stock, and that bring a stock in."""


def steps(plan: Plan, sheet: Sheet) -> tuple[Step, ...]:
    """Give every step of the day, stage by stage."""
    return (*_scour(plan, sheet), *_method(plan, sheet), *dye_steps(plan, sheet))


def _method(plan: Plan, sheet: Sheet) -> Iterator[Step]:
    words = _jar_words(round(sheet.value("stock.jars", 1))) | _lye_words(sheet) | _powder_words(plan) | lid_words(plan)
    for item in _items(sheet, plan):
        at = Setting(plan, sheet, Stage(item.id.partition(".")[0]), words)
        if is_needed(item, at):
            step = make(item, at)
            yield evolve(step, text=step.text + _warm_after(sheet, plan)) if item.id == RESTS else step


RESTS = "vat.rest_covered"
"""The step after which the vat is looked at."""


def _warm_after(sheet: Sheet, plan: Plan) -> str:
    """Say what warms a vat that comes out of its rest too cool; nothing for one that does not, or is kept."""
    if "vat.by_then" not in sheet or plan.kept is not None:
        return ""
    on_hob = BY_POT if plan.vessels.tub.stuff in NO_HOB else BY_HOB
    gas = REDUCERS[powder(plan, "reducer").material.species].breathes
    by = f"a bath of kettle water, no hob or flame near, for {gas} comes off" if gas else on_hob
    minutes = show_minutes(max(round(sheet.value("vat.warm_up")), 1))
    return fill(f"; then, near {{vat.by_then}}, warm it to {{vat.temperature}}: {by}", sheet, plan, minutes=minutes)


BY_HOB = "a hot bath, or about {minutes} of the hob"
"""What warms a vat that gives off no gas, in a tub that may stand on a hob."""
BY_POT = "a hot bath round it, or a pot of it, about {minutes} on the hob"
NO_HOB = (Stuff.PLASTIC, Stuff.GLASS)
"""What may not stand on a hob."""


def _items(sheet: Sheet, plan: Plan) -> Iterator[StepTemplate]:
    """Give the method's steps; those of a kept stock where the stock goes in, and none of a stock that is not made."""
    new, of_jar = bool(sheet.value("stock.water")), bool(sheet.value(BROUGHT, 0.0))
    for item in method_of(plan).steps:
        if item.id == STOCK_IN and of_jar:
            yield from _of_kept_stock(new)
        elif new or not (item.id.startswith("stock.") or item.id == STOCK_IN):
            yield item


def _of_kept_stock(new: bool) -> Iterator[StepTemplate]:
    looks, brings = steps_of("jar")
    more = "; then of the new stock {vat.stock} in the same way" if new else ""
    yield from (looks, evolve(brings, text=brings.text + more))


def _jar_words(jars: int) -> dict[str, str]:
    """Words for one jar and for several."""
    if jars == 1:
        return {"jar": "jar", "in_all": "", "shared": ""}
    return {"jar": "jars", "in_all": " in all", "shared": f", shared between the {jars} jars"}


def _powder_words(plan: Plan) -> dict[str, str]:
    return {role: powder(plan, role).material.short.lower() for role in ("alkali", "reducer")}


def _lye_words(sheet: Sheet) -> dict[str, str]:
    """Say what lye is dissolved in: cold water in a plastic jug, or the jar's own where the dyer wants it so."""
    jug = sheet.value("stock.jug", 0.0)
    cold = f"{plain(jug, 'L')} of cold water in a plastic jug, never water onto lye; once clear, pour it into the jar, "
    return {
        "in_jar": plain(max(sheet.value("stock.water") - jug, 0.0), "L"),
        "lye_water": f"{cold}stirring" if jug else "the water, never water onto lye",
        "lye_jug": plain(jug_litres(sheet.value("vat.alkali")), "L"),
    }


def _scour(plan: Plan, sheet: Sheet) -> Iterator[Step]:
    for bath in baths(plan):
        own = Setting(
            plan, sheet, Stage.SCOUR, _bath_words(plan, sheet, bath), bath.id(""), agents=_agent_cautions(bath),
            group=bath.name,
        )  # fmt: skip
        for item, number in _rounds(sheet, bath):
            kind = "load" if item.when in ("load", "only") else "bath"
            at = evolve(own, number=number, counted=kind)
            if is_needed(item, at):
                yield make(item, at)


def _rounds(sheet: Sheet, bath: Bath) -> Iterator[tuple[StepTemplate, str]]:
    """Every step of a bath with the number that tells it from its like; empty where there is only one."""
    loads = min(max(round(sheet.value(bath.id("loads"), 1)), 1), MOST_LOADS)
    scour = steps_of("scour")
    moments = {when: [item for item in scour if item.when == when] for when in MOMENTS}
    if bath.unscoured:
        for load in range(loads):
            yield from ((item, str(load + 1) if loads > 1 else "") for item in moments["only"])
    yield from ((item, "") for item in moments["before"])
    for load in range(0 if bath.unscoured else loads):
        for number in range(1, bath.scour.baths + 1):
            these = ("", "first" if number == 1 else "later")
            count = str(load * bath.scour.baths + number) if loads * bath.scour.baths > 1 else ""
            yield from ((item, count) for item in scour if item.when in these)
        yield from ((item, str(load + 1) if loads > 1 else "") for item in moments["load"])
    yield from ((item, "") for item in moments["after"])


def _bath_words(plan: Plan, sheet: Sheet, bath: Bath) -> dict[str, str]:
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


def _agent_cautions(bath: Bath) -> tuple[str, ...]:
    return tuple(name for agent in bath.scour.agents for name in materials()[agent.material].cautions)
