"""The steps of Dip and Finish, from the templates of the catalogue."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from vatside.catalogue.dyeing import DyeStep, dip_steps, finish_steps
from vatside.chemistry.alkalis import ALKALIS
from vatside.dayline.cautions import caution, lye_limits
from vatside.dayline.steps import Caution, Step
from vatside.dayline.template import fill, has, ties
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
MOST_NAMED = 6
"""A sentence that names more lots than this is not read to its end. Ours."""


def steps(plan: Plan, sheet: Sheet) -> Iterator[Step]:
    """Give the steps of Dip, then those of Finish fibre by fibre, then those of the vat's end."""
    words = _words(plan, sheet)
    yield from (_step(plan, sheet, item, Stage.DIP, words) for item in dip_steps() if _applies(plan, sheet, item))
    ending = [item for item in finish_steps() if not item.each]
    for batch in batches(plan):
        yield from (_batch_step(plan, sheet, batch, item) for item in finish_steps() if item.each)
    yield from (_step(plan, sheet, item, Stage.FINISH, words) for item in ending if _applies(plan, sheet, item))


def _applies(plan: Plan, sheet: Sheet, item: DyeStep) -> bool:
    groups = {fibre_of(lot).group for lot in plan.lots}
    return (
        (not item.alkalis or powder(plan, "alkali").material.species in item.alkalis)
        and (not item.groups or bool(groups & set(item.groups)))
        and (not item.needs or sheet.value(item.needs, 0.0) > 0)
        and (not item.unless or not sheet.value(item.unless, 0.0))
    )


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


def _step(plan: Plan, sheet: Sheet, item: DyeStep, stage: Stage, words: dict[str, str]) -> Step:
    minutes = _length(sheet, item.wait)
    return Step(
        id=item.id,
        stage=stage,
        text=fill(item.text, sheet, plan, **words),
        hands_min=item.hands + (_works(plan, sheet, item) if item.works else 0.0),
        handling_min=item.hands + _handling(plan, sheet, item) if item.works else None,
        minutes=minutes,
        wait_label=item.wait_label if minutes is not None else "",
        cautions=tuple(_cautions(plan, sheet, item, stage)),
        group=item.heading,
    )


def _cautions(plan: Plan, sheet: Sheet, item: DyeStep, stage: Stage) -> Iterator[Caution]:
    """`alkali` and `reducer` stand for the cautions of the vat's own."""
    own = {role: powder(plan, role).material.cautions for role in ("alkali", "reducer")}
    for name in (name for each in item.cautions for name in own.get(each, (each,))):
        yield caution(name, *(lye_limits(plan, sheet, stage) if name == "lye" else ()))


def _works(plan: Plan, sheet: Sheet, item: DyeStep) -> float:
    """Minutes of work; of the dips in a vat for both, wool, hair and silk go first."""
    minutes = sheet.value(item.works)
    if plant_after(plan) is None:
        return minutes
    gentle = min(sheet.value("dip.gentle_minutes", 0.0), minutes)
    return gentle if item.id == GENTLE else minutes - gentle


def _handling(plan: Plan, sheet: Sheet, item: DyeStep) -> float:
    """Minutes of hands on, parted as `_works`; dip, airing and rest are none."""
    minutes = sheet.value(item.works)
    return sheet.value("dip.hands") * (_works(plan, sheet, item) / minutes if minutes else 0.0)


def _batch_step(plan: Plan, sheet: Sheet, batch: Batch, item: DyeStep) -> Step:
    minutes = _length(sheet, batch.id(item.wait)) if item.wait else None
    return Step(
        id=batch.id(item.id),
        stage=Stage.FINISH,
        text=fill(_text(batch, item), sheet, plan, **_sour_words(plan, batch)),
        hands_min=item.hands,
        minutes=minutes,
        wait_label=item.wait_label.replace("{fibre}", batch.name) if minutes is not None else "",
        cautions=tuple(caution(name) for name in item.cautions),
        group=batch.name,
    )


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


def _text(batch: Batch, item: DyeStep) -> str:
    """Give the template with the words of the fibre in it and the figures of its batch named."""
    text = item.text
    for name, words in _batch_words(batch).items():
        text = text.replace("{" + name + "}", words)
    return text.replace("{bath.", "{" + batch.id(""))


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


def _length(sheet: Sheet, figure_id: str) -> float | None:
    """Minutes of a wait; None if the sheet has no such wait."""
    return sheet.value(figure_id) if figure_id and has(sheet, figure_id) else None
