"""Mixed fibre: what a cloth of two fibres or more is, by the share of each in its mass."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache

from attrs import evolve

from vatside.catalogue.load import fibres, scours
from vatside.catalogue.values import GROUPS, Fact, Fibre, Scour
from vatside.plan.plan import Condition

SEVERAL = 256
"""Blends that are kept worked out."""

Parts = tuple[tuple[str, float], ...]
"""Fibre ids and the share of each, of one in all."""


def mixed(*blends: tuple[Parts, float]) -> Parts:
    """Give the parts of several blends put together, each with its mass in any unit."""
    whole = sum(mass for _, mass in blends)
    shares: dict[str, float] = {}
    for parts, mass in blends:
        for key, share in parts:
            shares[key] = shares.get(key, 0.0) + share * (mass / whole if whole else 1 / len(blends))
    return tuple(shares.items())


@lru_cache(SEVERAL)
def gentlest(parts: Parts) -> Fibre:
    """Give the fibre of a blend that is harmed first: it says how the whole is treated.

    Wool and hair before silk before plant fibres; of one group the one that bears less alkali, then less heat.
    """
    return min((fibres()[key] for key, _ in parts), key=_bears)


def _bears(fibre: Fibre) -> tuple[int, float, float, float]:
    scour = scours()[fibre.scour]
    return GROUPS.index(fibre.group), fibre.window.block, scour.ceiling.value, scour.hold.value


@lru_cache(SEVERAL)
def blended(parts: Parts) -> Fibre:
    """Give a blend as a fibre: its amounts by share, its window, scour and largest step of the gentlest part."""
    if len(parts) == 1:
        return fibres()[parts[0][0]]
    gentle = gentlest(parts)
    name = _joined(fibres()[key].name for key, _ in parts)
    return evolve(
        gentle,
        name=name,
        greasy_name=gentle.greasy_name.replace(gentle.name, name),
        density=_density(parts),
        regain=by_share(parts, lambda fibre: fibre.regain),
        held=by_share(parts, lambda fibre: fibre.held),
        step=min((fibres()[key].step for key, _ in parts), key=lambda step: step.value),
    )


def _joined(names: Iterable[str]) -> str:
    """Give `cotton-linen`; a name of several words is joined with a word."""
    listed = tuple(names)
    return (" with " if any(" " in name for name in listed) else "-").join(listed)


def by_share(parts: Parts, fact: Callable[[Fibre], Fact]) -> Fact:
    """Give a fact of each fibre's mass by the shares; a range only where every part has one, or stands for itself."""
    facts = [(fact(fibres()[key]), share) for key, share in parts]
    if len(facts) == 1:
        return facts[0][0]
    return Fact(
        sum(item.value * share for item, share in facts),
        _sources(item for item, _ in facts),
        sum(item.lowest * share for item, share in facts),
        sum(item.highest * share for item, share in facts),
    )


UNSCOURED = (Condition.READY, Condition.RINSED)
"""How fibre comes that goes through no bath."""


@lru_cache(SEVERAL)
def scour_for(parts: Parts, condition: Condition) -> Scour:
    """Give the scouring recipe of a blend: that of its gentlest part, with what it loses by share."""
    gentle, greasy = gentlest(parts), condition is Condition.GREASY
    scour = scours()[gentle.scour_greasy if greasy else gentle.scour]
    if condition in UNSCOURED:
        return _unscoured(scour, condition)
    loss = by_share(parts, lambda fibre: scours()[fibre.scour_greasy if greasy else fibre.scour].loss)
    return evolve(scour, loss=loss)


def _unscoured(scour: Scour, condition: Condition) -> Scour:
    """Leave of a scour what fibre wants that is clean as it comes: the wetting out, and a rinse where it is asked."""
    nothing, rinses = Fact(0.0, "practice"), int(condition is Condition.RINSED)
    return evolve(scour, minutes=nothing, loss=nothing, cool=nothing, baths=0, agents=(), rinses=rinses)


def _density(parts: Parts) -> Fact:
    """Give the density of a blend, g/cm3: volumes add up, so that shares of the mass divide."""
    facts = [(fibres()[key].density, share) for key, share in parts]
    return Fact(1 / sum(share / item.value for item, share in facts), _sources(item for item, _ in facts))


def _sources(facts: Iterable[Fact]) -> str:
    return " + ".join(dict.fromkeys(fact.source for fact in facts))
