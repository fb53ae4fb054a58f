"""Which figures a step uses: the length of its wait and the powders that go in."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import reduce
from math import isclose

from attrs import frozen

from vatside.catalogue.load import materials, steps_of
from vatside.dayline.day_steps import steps
from vatside.dayline.steps import BLANK
from vatside.plan.batches import baths
from vatside.plan.measures import ROLES, method_of, powder
from vatside.plan.paths import set_value
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.compute import compute
from vatside.units import Amount

_OF_A_BATH = re.compile(r"((?:scour|finish)\.[\w-]+)\.([a-z_]+)(?:\.\d+)?")
_KEYS = {"pigment": "indigo", "citric": "citric-acid", "feed": "reducer"}
"""Last parts of figure ids that name a powder by another word than its role."""


@frozen
class Use:
    """A powder or liquid that one step puts in."""

    step: str
    figure: str
    material: str
    """Id in the catalogue."""
    grams: float
    """As weighed."""


def wait_figure(plan: Plan, step: str) -> str:
    """Give the figure that says how long a step's wait is; empty if it has none or nobody knows the step."""
    template = _template(plan, step)
    return _full(template, template.wait) if template and template.wait else ""


def uses(plan: Plan, sheet: Sheet, step: str) -> tuple[Use, ...]:
    """Give what a step puts in, by the sheet; empty for a step that nobody knows.

    Of two acids that a step offers, the one that the dyer holds an amount of counts; else the one that she took into
    the plan from her shelf (the last, if both); else the first.
    """
    used = [use for figure in figures_in(plan, step) if (use := _use(plan, sheet, step, figure)) is not None]
    acids = [use for use in used if materials()[use.material].role == "acid"]
    if len(acids) < 2:
        return tuple(used)
    chosen = _acid(plan, acids)
    return tuple(use for use in used if use not in acids or use is chosen)


def _acid(plan: Plan, acids: list[Use]) -> Use:
    held = {pin.figure for pin in plan.pins}
    by_material = {use.material: use for use in acids}
    on_plan = [by_material[entry.material] for entry in plan.shelf if entry.material in by_material]
    return next((use for use in acids if use.figure in held), (on_plan or acids)[0])


def all_uses(plan: Plan) -> tuple[Use, ...]:
    """Give what all steps of a day put in, every bath counted."""
    sheet = compute(plan)
    return tuple(use for step in steps(plan, sheet) for use in uses(plan, sheet, step.id))


def material_of(plan: Plan, figure: str) -> str | None:
    """Give the material whose amount a figure is; None for a figure that is no powder or liquid."""
    key = figure.rpartition(".")[2]
    key = _KEYS.get(key, key)
    return powder(plan, key).id if key in ROLES or key in materials() else None


def as_gone_in(done: Iterable[str], old: Plan, new: Plan) -> Plan:
    """Give the changed plan with what is in stock and vat already held, where the change would have it otherwise.

    `done` are the steps done. What was typed or freed itself stays so. Another purity, or another weight of a spoon,
    says what went in and holds nothing; nor does a kept vat, whose plan is what it lacks.
    """
    if old == new or new.kept is not None or (old.shelf, old.method) != (new.shelf, new.method):
        return new
    pinned = {pin.figure for pin in (*old.pins, *new.pins)}
    in_it = [figure for figure in _gone_in(old, done) if figure not in pinned]
    if not in_it:  # no sheet is needed: a long log is full of such changes
        return new
    before, after = compute(old), compute(new)
    values = {figure: before.value(figure) for figure in in_it if figure in before and before[figure].pinnable}
    if all(isclose(after.value(figure), value, rel_tol=1e-6) for figure, value in values.items()):
        return new
    held = ((figure, _as_weighed(value, before[figure].unit)) for figure, value in values.items())
    return reduce(lambda plan, pin: set_value(plan, *pin), held, new)


def _as_weighed(value: float, unit: str) -> Amount:
    value, unit = (1000 * value, "mL") if unit == "L" and value < 1 else (value, unit)
    return Amount(float(f"{value:.3g}"), unit)


def _gone_in(plan: Plan, done: Iterable[str]) -> Iterator[str]:
    """Give the figures of stock and vat that steps done have put in, as far as the sheet has them: powders, litres."""
    for step in done:
        if step in ("stock.water", "vat.fill"):  # the litres of either have the name of the step
            yield step
        elif not step.startswith(("scour.", "finish.")):  # which name none, and are most
            names = (name for name in figures_in(plan, step) if material_of(plan, name))
            yield from (name for name in names if name.startswith(("stock.", "vat.")))


def figures_in(plan: Plan, step: str) -> Iterator[str]:
    """Give the ids of the figures that a step's sentence names, in its order."""
    template = _template(plan, step)
    for blank in dict.fromkeys(BLANK.findall(template.text) if template else ()):
        if template and blank == "agents":
            yield from _agents(plan, template.prefix)
        elif template:
            yield _full(template, blank)


def _use(plan: Plan, sheet: Sheet, step: str, figure: str) -> Use | None:
    material = material_of(plan, figure)
    if material is None or figure not in sheet or sheet[figure].unit not in ("g", "L"):
        return None
    row = sheet[figure]
    grams = row.value if row.unit == "g" else row.value * 1000 * materials()[material].bulk.value
    return Use(step, figure, material, grams)


@frozen
class _Template:
    """A step's sentence, and what the figures of its bath begin with."""

    prefix: str
    text: str
    wait: str


def _full(template: _Template, name: str) -> str:
    """Give the whole id of a figure that a template names."""
    if name.startswith("bath."):
        return f"{template.prefix}.{name.removeprefix('bath.')}"
    return name if "." in name or not template.prefix else f"{template.prefix}.{name}"


def _agents(plan: Plan, prefix: str) -> Iterator[str]:
    for bath in baths(plan):
        if f"scour.{bath.key}" == prefix:
            yield from (bath.id(agent.material) for agent in bath.scour.agents)


def _template(plan: Plan, step: str) -> _Template | None:
    for item in (*method_of(plan).steps, *steps_of("dip"), *method_of(plan).ending):
        if item.id == step:
            kept = (jar.text for jar in steps_of("jar") if plan.stock_kept and jar.id == step)
            return _Template("", "".join(kept) + item.text, item.wait)
    match = _OF_A_BATH.fullmatch(step)
    if match is None:
        return None
    of_scour = step.startswith("scour.")
    parts = steps_of("scour") if of_scour else (item for item in steps_of("finish") if item.each)
    return next((_Template(match[1], item.text, item.wait) for item in parts if item.id == match[2]), None)
