"""All steps of a dye day, in order, from the templates of the catalogue."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from attrs import evolve

from vatside.catalogue.load import jar_steps, materials, scour_steps
from vatside.catalogue.values import MOMENTS, StepText
from vatside.dayline import dye_steps
from vatside.dayline.cautions import DEFER, caution, lye_limits
from vatside.dayline.steps import Caution, Nudge, Step
from vatside.dayline.template import amount_words, fill, has, ties
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
SKIPPED = {"rinse": "rinses", "cool": "cool"}
"""Steps that fall away when their figure is nothing."""


def steps(plan: Plan, sheet: Sheet) -> tuple[Step, ...]:
    """Give every step of the day, stage by stage."""
    return (*_scour(plan, sheet), *_method(plan, sheet), *dye_steps.steps(plan, sheet))


def _method(plan: Plan, sheet: Sheet) -> Iterator[Step]:
    words = _jar_words(round(sheet.value("stock.jars", 1))) | _lye_words(sheet)
    for item in _items(plan, sheet):
        minutes = _length(sheet, item.wait)
        yield Step(
            id=item.id,
            stage=Stage(item.id.partition(".")[0]),
            text=fill(item.kept if plan.kept and item.kept else item.text, sheet, plan, **words),
            hands_min=item.hands + ((minutes or 0.0) if item.busy else 0.0),
            minutes=minutes,
            wait_label=item.wait_label if minutes is not None else "",
            nudges=_every(sheet.value(item.nudge_every, 0.0), minutes or 0.0, item.nudge_label),
            cautions=tuple(_caution(plan, sheet, item, name) for name in _named(plan, item)),
        )


def _items(plan: Plan, sheet: Sheet) -> Iterator[StepText]:
    """Give the method's steps that are needed; those of a kept stock where the stock goes in."""
    if not sheet.value(BROUGHT, 0.0):
        yield from (item for item in method_of(plan).steps if _is_needed(sheet, item))
        return
    looks, brings = jar_steps()[JAR], jar_steps()[STOCK_IN]
    for item in method_of(plan).steps:
        if item.id == STOCK_IN:
            new = "; then of the new stock {vat.stock} in the same way" if sheet.value("stock.water") else ""
            yield looks
            yield evolve(brings, text=brings.text + new)
        elif _is_needed(sheet, item):
            yield item


def _named(plan: Plan, item: StepText) -> Iterator[str]:
    """`alkali` stands for the cautions of the vat's own."""
    own = powder(plan, "alkali").material.cautions
    for name in item.cautions:
        yield from own if name == "alkali" else (name,)


def _caution(plan: Plan, sheet: Sheet, item: StepText, name: str) -> Caution:
    here = lye_limits(plan, sheet, Stage(item.id.partition(".")[0])) if name == "lye" else ()
    return caution(name, *here)


def _is_needed(sheet: Sheet, item: StepText) -> bool:
    """A step falls away when nothing goes in with it; the stock's do when a kept vat wants none."""
    of_stock = item.id.startswith("stock.") or item.id == STOCK_IN
    if of_stock and not sheet.value("stock.water"):
        return False
    return not item.puts_in or sheet.value(item.puts_in, 0.0) > 0


def _jar_words(jars: int) -> dict[str, str]:
    """Words for one jar and for several."""
    if jars == 1:
        return {"jar": "jar", "in_all": "", "shared": ""}
    return {"jar": "jars", "in_all": " in all", "shared": f", shared between the {jars} jars"}


def _lye_words(sheet: Sheet) -> dict[str, str]:
    """Say what lye is dissolved in: cold water in a plastic jug, or the jar's own where the dyer wants it so."""
    jug = sheet.value("stock.jug", 0.0)
    cold = f"{plain(jug, 'L')} of cold water in a plastic jug, never water onto lye; once clear, pour it into the jar, "
    return {
        "in_jar": plain(max(sheet.value("stock.water") - jug, 0.0), "L"),
        "lye_water": f"{cold}stirring" if jug else "the water, never water onto lye",
        "lye_jug": plain(jug_litres(sheet.value("vat.alkali")), "L"),
    }


def _length(sheet: Sheet, figure_id: str) -> float | None:
    """Minutes of a wait; None if the sheet has no such wait."""
    return sheet.value(figure_id) if figure_id and has(sheet, figure_id) else None


def _every(interval: float, minutes: float, label: str) -> tuple[Nudge, ...]:
    """A nudge at each interval, none at the very end of the wait."""
    if interval <= 0:
        return ()
    return tuple(Nudge(interval * number, label) for number in range(1, int((minutes - 0.01) / interval) + 1))


def _scour(plan: Plan, sheet: Sheet) -> Iterator[Step]:
    for bath in baths(plan):
        for item, number in _rounds(sheet, bath):
            yield _scour_step(plan, sheet, bath, item, number)


def _rounds(sheet: Sheet, bath: Bath) -> Iterator[tuple[StepText, str]]:
    """Every step of a bath with the number that tells it from its like; empty where there is only one."""
    loads = min(max(round(sheet.value(bath.id("loads"), 1)), 1), MOST_LOADS)
    skipped = [name for name, figure in SKIPPED.items() if not sheet.value(bath.id(figure), 0.0)]
    moments = {when: [item for item in scour_steps() if item.when == when] for when in MOMENTS}
    if bath.unscoured and sheet.value(bath.id("rinses"), 0.0):
        for load in range(loads):
            yield from ((item, str(load + 1) if loads > 1 else "") for item in moments["only"])
    yield from ((item, "") for item in moments["before"])
    for load in range(0 if bath.unscoured else loads):
        for number in range(1, bath.scour.baths + 1):
            these = ("", "first" if number == 1 else "later")
            count = str(load * bath.scour.baths + number) if loads * bath.scour.baths > 1 else ""
            yield from ((item, count) for item in scour_steps() if item.when in these)
        once = (item for item in moments["load"] if item.id not in skipped)
        yield from ((item, str(load + 1) if loads > 1 else "") for item in once)
    yield from ((item, "") for item in moments["after"] if item.id not in skipped)


def _scour_step(plan: Plan, sheet: Sheet, bath: Bath, item: StepText, number: str) -> Step:
    text = item.text.replace("{bath.", "{" + bath.id(""))
    minutes = _length(sheet, bath.id(item.wait)) if item.wait else None
    label = item.wait_label.replace("{fibre}", bath.called) if minutes is not None else ""
    kind = "load" if item.when in ("load", "only") else "bath"
    return Step(
        id=bath.id(item.id) + (f".{number}" if number else ""),
        stage=Stage.SCOUR,
        text=fill(text, sheet, plan, **_bath_words(plan, sheet, bath)) + (f" ({kind} {number})" if number else ""),
        hands_min=item.hands,
        minutes=minutes,
        wait_label=f"{label} {number}" if number and label else label,
        nudges=_stirs(sheet, bath, minutes or 0.0) if item.nudges else (),
        cautions=tuple(caution(name) for name in _caution_ids(item.cautions, bath)),
        group=bath.name,
    )


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


def _caution_ids(names: Iterable[str], bath: Bath) -> Iterator[str]:
    """`agents` stands for the cautions of whatever the bath takes."""
    for name in names:
        if name == "agents":
            found = (item for agent in bath.scour.agents for item in materials()[agent.material].cautions)
            yield from dict.fromkeys(found)
        else:
            yield name


def _stirs(sheet: Sheet, bath: Bath, minutes: float) -> tuple[Nudge, ...]:
    """Stirs at their interval and the turn at half time, which replaces a stir close to it."""
    half = sheet.value(bath.id("turn"), 0.0)
    stirs = _every(sheet.value(bath.id("stir_every"), 0.0), minutes, "stir slowly")
    if not half or half >= minutes:
        return stirs
    apart = [nudge for nudge in stirs if abs(nudge.minute - half) > 3]
    return tuple(sorted([*apart, Nudge(half, "turn the fibre over")], key=lambda nudge: nudge.minute))
