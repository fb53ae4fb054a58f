"""Which figures a step uses: the length of its wait and the powders that go in."""

from __future__ import annotations

import re
from collections.abc import Iterator

from attrs import frozen

from vatside.catalogue.load import materials, scour_steps
from vatside.catalogue.values import StepText
from vatside.dayline.day import steps
from vatside.recipe.compute import compute
from vatside.recipe.measures import ROLES, method_of, powder
from vatside.recipe.plan import Plan
from vatside.recipe.scour import baths
from vatside.recipe.sheet import Sheet

_SCOUR_STEP = re.compile(r"(scour\.[\w-]+)\.([a-z_]+)(?:\.\d+)?")
_BLANK = re.compile(r"\{([a-z_.0-9-]+)\}")
_KEYS = {"pigment": "indigo"}
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
    prefix, item = _template(plan, step)
    if item is None or not item.wait:
        return ""
    return f"{prefix}.{item.wait}" if prefix else item.wait


def uses(plan: Plan, sheet: Sheet, step: str) -> tuple[Use, ...]:
    """Give what a step puts in, by the sheet; empty for a step that nobody knows."""
    found = (_use(plan, sheet, step, figure) for figure in _figures(plan, step))
    return tuple(use for use in found if use is not None)


def all_uses(plan: Plan) -> tuple[Use, ...]:
    """Give what all steps of a day put in, every bath counted."""
    sheet = compute(plan)
    return tuple(use for step in steps(plan, sheet) for use in uses(plan, sheet, step.id))


def material_of(plan: Plan, figure: str) -> str | None:
    """Give the material whose amount a figure is; None for a figure that is no powder or liquid."""
    key = figure.rpartition(".")[2]
    key = _KEYS.get(key, key)
    return powder(plan, key).id if key in ROLES or key in materials() else None


def _use(plan: Plan, sheet: Sheet, step: str, figure: str) -> Use | None:
    material = material_of(plan, figure)
    try:
        row = sheet[figure]
    except KeyError:
        return None
    return Use(step, figure, material, row.value) if material and row.unit == "g" else None


def _figures(plan: Plan, step: str) -> Iterator[str]:
    prefix, item = _template(plan, step)
    for blank in dict.fromkeys(_BLANK.findall(item.text) if item else ()):
        if blank == "agents":
            yield from _agents(plan, prefix)
        else:
            yield blank.replace("bath.", f"{prefix}.") if prefix else blank


def _agents(plan: Plan, prefix: str) -> Iterator[str]:
    for bath in baths(plan):
        if f"scour.{bath.key}" == prefix:
            yield from (bath.id(agent.material) for agent in bath.scour.agents)


def _template(plan: Plan, step: str) -> tuple[str, StepText | None]:
    """Find a step's template and, for a scour, the start of its bath's figure ids."""
    for item in method_of(plan).steps:
        if item.id == step:
            return "", item
    found = _SCOUR_STEP.fullmatch(step)
    if found is None:
        return "", None
    return found[1], next((item for item in scour_steps() if item.id == found[2]), None)
