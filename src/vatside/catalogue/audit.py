"""Hold the data files against each other and against themselves."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

import attrs

from vatside.catalogue import dyeing
from vatside.catalogue.load import cautions, fibres, materials, methods, scours, sources, steps_of
from vatside.catalogue.values import MOMENTS, CautionText, Fact, Fibre, MethodEnd, Scour, StepTemplate, Window
from vatside.chemistry.reducers import REDUCERS
from vatside.chemistry.substances import ALKALIS, HYDROXIDE, SUBSTANCES

GROUPS = ("protein", "silk", "cellulose")
"""Kinds of fibre that a vat treats alike."""
ROLES = ("indigo", "alkali", "buffer", "reducer", "soap", "acid")
"""What a material is for."""
STARTS = ("lukewarm", "hot")
"""How a scour bath begins."""
END_PAGES = 4
"""The end of a vat has: blue, acid or none, what is done, where it goes."""
STEP_FILES = ("scour", "jar", "vat", "dip", "finish")
"""Files of steps, by what they are for."""
KITCHEN = ("sink", "hob", "pot", "bowl", "jar", "tub")
"""What a step can take or hold besides hands."""
HOLDS = re.compile(rf"({'|'.join(KITCHEN)}) until ([a-z_.]+)( begins)?")
"""A thing, the step until whose end it is held, and whether that is its beginning instead."""
OWN_CAUTIONS = ("agents", "alkali", "reducer", "indigo", "liquor")
"""Stand for the cautions of what goes in, or of what the vat is made with."""


def problems() -> tuple[str, ...]:
    """Every contradiction of the data files, in words; empty when they hang together."""
    return (
        *_fibres(),
        *_scours(),
        *_materials(),
        *_methods(),
        *_steps(),
        *_broken_facts(),
    )


def _fibres() -> Iterator[str]:
    for key, fibre in fibres().items():
        named = {fibre.scour, fibre.scour_greasy}
        yield from (f"fibre {key}: no scour {scour}" for scour in sorted(named - set(scours())))
        if fibre.group not in GROUPS:
            yield f"fibre {key}: no group {fibre.group}"
        if (fibre.scour != fibre.scour_greasy) != bool(fibre.greasy_name):
            yield f"fibre {key}: a scour of its own and a greasy_name go together"
        yield from _window(key, fibre)


def _window(key: str, fibre: Fibre) -> Iterator[str]:
    window = fibre.window
    if not window.low <= window.target <= window.high <= window.block:
        yield f"fibre {key}: its window does not run from low over target and high to block"


def _scours() -> Iterator[str]:
    for key, scour in scours().items():
        named = [agent.material for agent in scour.agents]
        yield from (f"scour {key}: no material {material}" for material in named if material not in materials())
        if scour.start not in STARTS:
            yield f"scour {key}: no start {scour.start}"
        if scour.hold.value > scour.ceiling.value:
            yield f"scour {key}: held above its own ceiling"
        yield from _agents(key, scour)


def _agents(key: str, scour: Scour) -> Iterator[str]:
    for agent in scour.agents:
        if (agent.per_kg is None) == (agent.per_litre is None):
            yield f"scour {key}: {agent.material} wants one amount, a kilogram or a litre"


def _materials() -> Iterator[str]:
    for key, material in materials().items():
        yield from _unknown_cautions(f"material {key}", material.cautions)
        if material.role not in ROLES:
            yield f"material {key}: no role {material.role}"
        known: dict[str, Iterable[str]] = {"alkali": HYDROXIDE, "buffer": ALKALIS, "reducer": REDUCERS, "soap": [""]}
        if material.species not in known.get(material.role, SUBSTANCES):
            yield f"material {key}: chemistry knows no {material.role} {material.species}"


def _methods() -> Iterator[str]:
    for key, method in methods().items():
        for role in ("indigo", "alkali", "reducer"):
            material = materials().get(getattr(method, role))
            if material is None or material.role != role:
                yield f"method {key}: {getattr(method, role)} is no {role}"
        yield from (f"method {key}: no group {group}" for group in method.vat.suits if group not in GROUPS)


def _steps() -> Iterator[str]:
    for name in STEP_FILES:
        yield from (line for step in steps_of(name) for line in _step_problems(f"{name} step {step.id}", step))
    for key, method in methods().items():
        if method.end is not None and len(method.end.pages) != END_PAGES:
            yield f"method {key}: its end has {END_PAGES} pages, not {len(method.end.pages)}"
        own = (*method.steps, *method.ending)
        yield from (line for step in own for line in _step_problems(f"method {key}, {step.id}", step))


def _step_problems(place: str, step: StepTemplate) -> Iterator[str]:
    yield from _unknown_cautions(place, (name for name in step.cautions if name not in OWN_CAUTIONS))
    if step.when not in MOMENTS:
        yield f"{place}: no moment {step.when}"
    yield from (f"{place}: {name!r} is no figure" for name in step.needs if len(name) == 1)
    if step.source not in ("", *sources()):
        yield f"{place}: no source {step.source}"
    yield from (f"{place}: holds {words}" for words in step.holds if not HOLDS.fullmatch(words))
    yield from (f"{place}: takes {name}" for name in step.takes if name not in KITCHEN)
    yield from (f"{place}: no alkali {name}" for name in step.alkalis if name not in ALKALIS)
    yield from (f"{place}: no group {name}" for name in step.groups if name not in GROUPS)


def _unknown_cautions(place: str, names: Iterable[str]) -> Iterator[str]:
    yield from (f"{place}: no caution {name}" for name in names if name not in cautions())


def _broken_facts() -> Iterator[str]:
    steps = {name: steps_of(name) for name in STEP_FILES}
    groups = (fibres(), scours(), materials(), methods(), cautions(), dyeing.facts(), steps)
    for group in groups:
        for key, item in group.items():
            yield from _facts_in(key, item)


def _facts_in(place: str, item: object) -> Iterator[str]:
    """Walk an attrs value and judge each fact and window in it."""
    if isinstance(item, Fact):
        yield from _fact_problems(place, item)
    if isinstance(item, Fact | Window | CautionText | MethodEnd) and item.source not in sources():
        yield f"{place}: no source {item.source}"
    if isinstance(item, tuple):
        for number, part in enumerate(item, 1):
            yield from _facts_in(f"{place} {number}", part)
    elif attrs.has(cls := type(item)):
        for name in attrs.fields_dict(cls):
            yield from _facts_in(f"{place}, {name}", getattr(item, name))


def _fact_problems(place: str, fact: Fact) -> Iterator[str]:
    low = fact.value if fact.low is None else fact.low
    high = fact.value if fact.high is None else fact.high
    if not low <= fact.value <= high:
        yield f"{place}: {fact.value} is not between {low} and {high}"
    if low < 0:
        yield f"{place}: {low} is less than nothing"
