"""All steps of a dye day in order, from scour to finish, out of the catalogue."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from attrs import evolve

from vatside.catalogue.load import steps_of
from vatside.catalogue.values import MOMENTS, StepTemplate
from vatside.dayline.step_words import (
    agent_cautions,
    batch_words,
    bath_words,
    dye_words,
    jar_words,
    lye_words,
    powder_words,
    sour_words,
    warm_after,
)
from vatside.dayline.steps import Setting, Step, is_needed, lid_words, make
from vatside.plan.batches import Bath, batches, baths
from vatside.plan.measures import method_of, plant_after
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet, Stage
from vatside.recipe.kept import BROUGHT
from vatside.recipe.scour_notices import MOST_LOADS

ROTATE, GENTLE = "dip.rotate", "dip.gentle"
"""Steps that the board carries out: the last dips, and in a vat for both those of wool, hair and silk before them."""


def dye_steps(plan: Plan, sheet: Sheet) -> Iterator[Step]:
    """Give the steps of Dip, then those of Finish fibre by fibre, then those of the vat's end."""
    words = dye_words(plan, sheet)
    yield from _made(steps_of("dip"), Setting(plan, sheet, Stage.DIP, words))
    for batch in batches(plan):
        of_fibre = {**sour_words(plan, batch), **batch_words(batch, sheet)}
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


STOCK_IN = "vat.stock_in"
"""The step that brings a stock in: with it a vat begins to live."""


def steps(plan: Plan, sheet: Sheet) -> tuple[Step, ...]:
    """Give every step of the day, stage by stage."""
    return (*_scour(plan, sheet), *_method(plan, sheet), *dye_steps(plan, sheet))


def _method(plan: Plan, sheet: Sheet) -> Iterator[Step]:
    words = jar_words(round(sheet.value("stock.jars", 1))) | lye_words(sheet) | powder_words(plan) | lid_words(plan)
    for item in _items(sheet, plan):
        at = Setting(plan, sheet, Stage(item.id.partition(".")[0]), words)
        if is_needed(item, at):
            step = make(item, at)
            yield evolve(step, text=step.text + warm_after(sheet, plan)) if item.id == RESTS else step


RESTS = "vat.rest_covered"
"""The step after which the vat is looked at."""


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


def _scour(plan: Plan, sheet: Sheet) -> Iterator[Step]:
    for bath in baths(plan):
        own = Setting(
            plan, sheet, Stage.SCOUR, bath_words(plan, sheet, bath), bath.id(""), agents=agent_cautions(bath),
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
