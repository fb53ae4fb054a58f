"""Booking on the shelf what a session really used; booking twice changes nothing."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve, frozen

from vatside.catalogue.load import materials
from vatside.recipe.measures import ROLES, method_of, shelf_entry
from vatside.recipe.plan import Plan, ShelfEntry
from vatside.session.across.done import Added, added, happened
from vatside.session.events import PowderTaken
from vatside.session.session import Session
from vatside.session.shelf.events import PowderUsed
from vatside.session.shelf.shelf import Owned, Shelf
from vatside.session.state import State, fold
from vatside.units import Amount

DECIMALS = 3
"""Grams are booked to the milligram, so that the same use always comes out as the same number. Ours."""
LEAST_SPOON = 0.1
"""Lightest level teaspoon that a plan takes, g; see the form."""


@frozen
class Booking:
    """What is to be noted on the shelf for a session."""

    events: tuple[PowderUsed, ...]
    """New or put right; empty if all is booked."""
    unplaced: tuple[PowderUsed, ...]
    """Uses of which the shelf cannot tell which item they came from; their `item` is empty."""


def book(shelf: Shelf, session: Session) -> Booking:
    """Compare what a session used with what the shelf knows of it, step by step and figure by figure."""
    state = fold(session)
    known = {(use.step, use.figure): use for owned in shelf.owned for use in owned.uses if use.session == session.id}
    events: list[PowderUsed] = []
    unplaced: list[PowderUsed] = []
    used = tuple(added(session))
    for item in used:
        use = _use(state, item)
        old = known.get((use.step, use.figure))
        place = _taken(shelf, state, item) or (old.item if old else _only_one(shelf, state, item))
        place = place if place is not None and _was_there(shelf[place], item) else None
        if place is None:
            unplaced.append(use)
        elif old is None or _differs(old, evolve(use, item=place)):
            events.append(evolve(use, item=place))
    events.extend(_taken_back(known, {(item.use.step, item.use.figure) for item in used}))
    return Booking(tuple(events), tuple(unplaced))


def _use(state: State, item: Added) -> PowderUsed:
    grams = round(item.use.grams, DECIMALS)
    return PowderUsed("", state.session, state.plan.title, item.use.step, item.use.figure, grams, item.at.utc)


def _differs(old: PowderUsed, new: PowderUsed) -> bool:
    """The day's title may change without anything being used."""
    return evolve(old, title="", used=new.used) != evolve(new, title="")


def _taken_back(known: dict[tuple[str, str], PowderUsed], used: set[tuple[str, str]]) -> Iterator[PowderUsed]:
    """Steps that were opened again used nothing so far."""
    for key, old in known.items():
        if key not in used and old.grams:
            yield evolve(old, grams=0.0)


def _taken(shelf: Shelf, state: State, item: Added) -> str | None:
    """Find the item that was taken into the plan for such a use; the latest one, if it still is on the shelf."""
    taken = [
        entry.event.item
        for entry in happened(state, PowderTaken)
        if isinstance(entry.event, PowderTaken) and entry.event.entry.material == item.use.material
    ]
    return taken[-1] if taken and any(one.item.id == taken[-1] for one in shelf.owned) else None


def _only_one(shelf: Shelf, state: State, item: Added) -> str | None:
    """Find the only item that a use can have come from: of that material, or else of that purity and spoon as well."""
    there = [one for one in shelf.owned if one.item.material == item.use.material and not one.finished]
    if len(there) > 1:
        there = [one for one in there if _alike(one, shelf_entry(state.plan, item.use.material))]
    return there[0].item.id if len(there) == 1 else None


def _was_there(owned: Owned, item: Added) -> bool:
    """A bag bought on a later day was not used; local days, as the dyer wrote hers down."""
    bought = owned.item.bought
    return bought is None or bought <= f"{item.at.utc.astimezone():%Y-%m-%d}"


def _alike(owned: Owned, entry: ShelfEntry) -> bool:
    return abs(100 * owned.purity - entry.purity.value) < 0.01 and owned.item.spoon_mass == entry.spoon_mass


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
    purity = Amount(max(round(100 * owned.purity, 2), 1.0), "%")
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
