"""Hold the data files against each other and against themselves."""

from __future__ import annotations

from collections.abc import Iterator

import attrs

from vatside.catalogue.load import cautions, fibres, materials, methods, scours, sources
from vatside.catalogue.values import CautionText, Fact, Window


def problems() -> tuple[str, ...]:
    """Every contradiction of the data files, in words; empty when they hang together."""
    return (*_fibre_links(), *_material_links(), *_method_links(), *_broken_facts())


def _fibre_links() -> Iterator[str]:
    for key, fibre in fibres().items():
        named = {fibre.scour, fibre.scour_greasy}
        yield from (f"fibre {key}: no scour {scour}" for scour in named - set(scours()))
    for key, scour in scours().items():
        named = {agent.material for agent in scour.agents}
        yield from (f"scour {key}: no material {material}" for material in named - set(materials()))


def _material_links() -> Iterator[str]:
    for key, material in materials().items():
        missing = set(material.cautions) - set(cautions())
        yield from (f"material {key}: no caution {name}" for name in missing)


def _method_links() -> Iterator[str]:
    for key, method in methods().items():
        for role in ("indigo", "alkali", "reducer"):
            material = materials().get(getattr(method, role))
            if material is None or material.role != role:
                yield f"method {key}: {getattr(method, role)} is no {role}"


def _broken_facts() -> Iterator[str]:
    groups = (fibres(), scours(), materials(), methods(), cautions())
    for group in groups:
        for key, item in group.items():
            yield from _facts_in(key, item)


def _facts_in(place: str, item: object) -> Iterator[str]:
    """Walk an attrs value and judge each fact and window in it."""
    if isinstance(item, Fact):
        yield from _fact_problems(place, item)
    if isinstance(item, Fact | Window | CautionText) and item.source not in sources():
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
