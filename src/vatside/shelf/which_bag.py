"""Which bag a powder or liquid of a plan is weighed from, and how a bag goes into a plan."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import datetime

from attrs import frozen

from vatside.catalogue.load import materials
from vatside.log.counting import happened
from vatside.log.events.day import PowderTaken
from vatside.log.fold import State
from vatside.plan.measures import ROLES, method_of, shelf_entry
from vatside.plan.plan import Plan, ShelfEntry
from vatside.shelf.shelf import Owned, Shelf
from vatside.units import Amount

LEAST_SPOON = 0.1
"""Lightest level teaspoon that a plan takes, g; see the form."""
LEAST_PURITY = 1.0
"""Lowest purity that a plan takes, %; see the form."""

Taken = Mapping[str, str]
"""The item that was taken into the plan last, by its material."""


@frozen
class Taking:
    """A bag of the shelf went into a plan."""

    item: str
    material: str
    at: datetime
    """UTC."""


def takings(state: State) -> Iterator[Taking]:
    """Give every bag that was taken into the plan of a day, in that order; what was taken back is left out."""
    for entry in happened(state, PowderTaken):
        if isinstance(entry.event, PowderTaken):
            yield Taking(entry.event.item, entry.event.entry.material, entry.at.utc)


def taken(state: State) -> Taken:
    """Give the bag of each material that the plan of a day holds by now."""
    return {taking.material: taking.item for taking in takings(state)}


def source(shelf: Shelf, plan: Plan, material: str, taken: Taken | None = None) -> Owned | None:
    """Find the bag that a material of a plan is weighed from; None if there is none, or nobody can tell which."""
    there = [owned for owned in shelf.owned if owned.item.material == material and not owned.finished]
    chosen = (taken or {}).get(material)
    return next((owned for owned in there if owned.item.id == chosen), None) or only_one(there, plan, material)


def only_one(
    there: list[Owned], plan: Plan, material: str, fits: Callable[[Owned], bool] = lambda _owned: True
) -> Owned | None:
    """Find the only bag that fits; of several, the only one of the plan's purity, or of its purity and spoon."""
    entry = shelf_entry(plan, material)
    fitting = [owned for owned in there if fits(owned)]
    for alike in (same_purity, _same_spoon):
        if len(fitting) > 1:
            fitting = [owned for owned in fitting if alike(owned, entry)]
    return fitting[0] if len(fitting) == 1 else None


def same_purity(owned: Owned, entry: ShelfEntry) -> bool:
    """Tell whether a bag is dosed by the purity that a plan counts on."""
    return abs(100 * owned.purity - entry.purity.value) < 0.01


def _same_spoon(owned: Owned, entry: ShelfEntry) -> bool:
    return owned.item.spoon_mass == entry.spoon_mass


def taking(plan: Plan, owned: Owned) -> PowderTaken | None:
    """Take an item of the shelf into a plan, with its purity (put right by its strike) and its spoon.

    None if the plan's method and scours have no use for it.
    """
    place = _place_in(plan, owned.item.material)
    if place is None:
        return None
    spoon = owned.item.spoon_mass
    if spoon is not None and spoon.value < LEAST_SPOON:
        spoon = None
    purity = Amount(max(round(100 * owned.purity, 2), LEAST_PURITY), "%")
    return PowderTaken(place, owned.item.id, owned.item.lot, ShelfEntry(owned.item.material, purity, spoon))


def _place_in(plan: Plan, material: str) -> str | None:
    known = materials()
    if material not in known:
        return None
    for role in ROLES:
        usual = known[getattr(method_of(plan), role)]
        if (known[material].role, known[material].species) == (usual.role, usual.species):
            return role
    return material if known[material].role not in ROLES else None
