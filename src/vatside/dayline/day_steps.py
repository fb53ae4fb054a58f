"""All steps of a dye day, in order, from the templates of the catalogue."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from vatside.catalogue.load import materials, steps_of
from vatside.catalogue.values import MOMENTS, StepTemplate
from vatside.dayline import dye_steps
from vatside.dayline.cautions import DEFER, caution
from vatside.dayline.step_maker import Setting, is_needed, lid_words, make
from vatside.dayline.steps import Step
from vatside.dayline.template import amount_words, ties
from vatside.plan.figure_text import plain
from vatside.plan.measures import method_of, powder
from vatside.plan.plan import Plan
from vatside.plan.scour_baths import Bath, baths
from vatside.plan.sheet import Sheet, Stage
from vatside.recipe.kept_stock import BROUGHT
from vatside.recipe.notices.scour import MOST_LOADS
from vatside.recipe.stages.stock import jug_litres

__all__ = ["DEFER", "caution", "steps"]

JAR, STOCK_IN = "vat.jar", "vat.stock_in"
"""The steps that look at a kept stock, and that bring a stock in."""


def steps(plan: Plan, sheet: Sheet) -> tuple[Step, ...]:
    """Give every step of the day, stage by stage."""
    return (*_scour(plan, sheet), *_method(plan, sheet), *dye_steps.steps(plan, sheet))


def _method(plan: Plan, sheet: Sheet) -> Iterator[Step]:
    words = _jar_words(round(sheet.value("stock.jars", 1))) | _lye_words(sheet) | _powder_words(plan) | lid_words(plan)
    for item in _items(sheet, plan):
        at = Setting(plan, sheet, Stage(item.id.partition(".")[0]), words)
        if is_needed(item, at):
            yield make(item, at)


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
    return {"fibre": bath.called, "agents": _agents(plan, sheet, bath), "quicker": quicker, "ties": ties(plan)}


def _agents(plan: Plan, sheet: Sheet, bath: Bath) -> str:
    parts = (
        f"{amount_words(sheet[bath.id(agent.material)], plan)} of {materials()[agent.material].short.lower()}"
        for agent in bath.scour.agents
    )
    return " and ".join(parts)


def _agent_cautions(bath: Bath) -> tuple[str, ...]:
    return tuple(name for agent in bath.scour.agents for name in materials()[agent.material].cautions)
