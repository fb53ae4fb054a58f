"""The steps of Dip and Finish, from the templates of the catalogue."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from attrs import evolve

from vatside.catalogue.load import steps_of
from vatside.catalogue.values import StepTemplate
from vatside.chemistry.alkalis import ALKALIS
from vatside.dayline.step_maker import Setting, is_needed, lid_words, make
from vatside.dayline.steps import Step
from vatside.dayline.template import ties
from vatside.dips.lot import dip_order
from vatside.plan.batches import Batch, batches
from vatside.plan.figure_text import plain
from vatside.plan.measures import fibre_of, plant_after, powder
from vatside.plan.plan import Lot, Plan
from vatside.plan.sheet import Figure, Sheet, Stage

ROTATE, GENTLE = "dip.rotate", "dip.gentle"
"""Steps that the board carries out: the last dips, and in a vat for both those of wool, hair and silk before them."""
LIME_TAKES_ML = 32
"""Vinegar of 5 % that a gram of slaked lime takes: 27 mmol of hydroxide over 0.8326 mmol of acid a mL [CIAAW]."""
FULL_ENOUGH = 0.75
"""Of its tub: emptier than that a vat is kept in a smaller one. Common practice, no source."""
MOST_NAMED = 6
"""A sentence that names more lots than this is not read to its end. Ours."""


def steps(plan: Plan, sheet: Sheet) -> Iterator[Step]:
    """Give the steps of Dip, then those of Finish fibre by fibre, then those of the vat's end."""
    words = _words(plan, sheet)
    yield from _made(steps_of("dip"), Setting(plan, sheet, Stage.DIP, words))
    for batch in batches(plan):
        of_fibre = {**_sour_words(plan, batch), **_batch_words(batch)}
        at = Setting(plan, sheet, Stage.FINISH, of_fibre, batch.id(""), group=batch.name)
        yield from _made((item for item in steps_of("finish") if item.each), at)
    ending = (item for item in steps_of("finish") if not item.each)
    yield from _made(ending, Setting(plan, sheet, Stage.FINISH, words))


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
        "ties": ties(plan),
        "label": _label(plan, sheet),
        "vinegar_is": _how_sure(sheet["finish.vinegar"]),
        "soda_end": _soda_end(sheet),
        "smaller": _smaller(sheet),
        **lid_words(plan),
    }


def _label(plan: Plan, sheet: Sheet) -> str:
    """Give the label of the jar by the plan alone; empty where nothing stays in it."""
    if not sheet.value("stock.left", 0.0):
        return ""
    from vatside.dayline.jar_label import label, made_of_kept  # late: most days empty their jar

    return "; ".join(
        label(plan, sheet.value("stock.left"), sheet.value("stock.left_strength"), made_of_kept(plan, sheet))
    )


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
    wanted = sheet.value("finish.end_pH")
    if sheet.value("finish.sample_pH") >= wanted:
        return ""
    return f", cold (it holds soda: at pH {wanted:g} only a part is in, and the pH drifts up again)"


def _by_turn(lots: Iterable[Lot]) -> tuple[list[Lot], list[Lot]]:
    """Part the lots into wool, hair and silk, which go in first, and plant fibres."""
    found: tuple[list[Lot], list[Lot]] = ([], [])
    for lot in lots:
        found[fibre_of(lot).group == "cellulose"].append(lot)
    return found


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
