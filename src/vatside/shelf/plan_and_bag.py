"""Where a plan counts on another purity or spoon than the bag has that it is weighed from."""

from __future__ import annotations

from collections.abc import Sequence

from attrs import frozen

from vatside.forms.fields import check_change, powder_rows
from vatside.log.events.day import PowderTaken
from vatside.plan.figure_text import show_weighed
from vatside.plan.measures import powder, shelf_entry
from vatside.plan.paths import set_value
from vatside.plan.plan import Plan
from vatside.shelf.shelf import Owned, Shelf
from vatside.shelf.supplies import Need, Taken, needs, same_purity, serves, taking
from vatside.units import Kind, show_mass, show_percent, to_base
from vatside.units.show import capital

COUNTS = {2: "two", 3: "three", 4: "four", 5: "five"}
SMALL = 0.02
"""A difference below this share changes nothing that a kitchen scale would show. Ours."""


@frozen
class Disagreement:
    """The plan counts on something else than stands on the shelf."""

    owned: Owned | None
    """What would go into the plan; None where nothing can, or the dyer must say which bag."""
    words: str
    which: bool = False
    """There are several bags: the dyer must say which."""


def disagreements(plan: Plan, shelf: Shelf, taken: Taken | None = None) -> tuple[Disagreement, ...]:
    """Give every material of which the plan and the shelf do not say the same."""
    checked = (_about(plan, shelf, need) for need in needs(plan, shelf, taken))
    return tuple(disagreement for disagreement in checked if disagreement is not None)


def _about(plan: Plan, shelf: Shelf, need: Need) -> Disagreement | None:
    if need.bag is not None:
        return _of_the_only_bag(plan, need, need.bag)
    there = [
        owned for owned in shelf.owned if serves(owned, need.material) and not owned.finished and taking(plan, owned)
    ]
    own = [owned for owned in there if owned.item.material == need.material]
    entry = shelf_entry(plan, need.material)
    if not there or any(same_purity(owned, entry) for owned in own):
        return None
    return _of_several(need, own) if own else _of_others(plan, need, there)


def _of_the_only_bag(plan: Plan, need: Need, bag: Owned) -> Disagreement | None:
    event = taking(plan, bag)
    refused = why_not(plan, event) if event else ""
    if refused:
        return Disagreement(None, f"{bag.name} cannot go into this plan as it is. {refused}")
    words = _of_the_bag(plan, need, bag)
    return Disagreement(bag, words) if words else None


def _of_the_bag(plan: Plan, need: Need, bag: Owned) -> str:
    event = taking(plan, bag)
    if event is None:
        return ""
    if abs(bag.purity / need.purity - 1) > SMALL and _settable(plan, event, "purity"):
        return (
            f"{bag.name} counts as {show_percent(100 * bag.purity)}, "
            f"the plan reckons with {show_percent(100 * need.purity)}{_instead(plan, need, bag, event)}"
        )
    return _of_the_spoon(plan, need, bag, event)


def _of_the_spoon(plan: Plan, need: Need, bag: Owned, event: PowderTaken) -> str:
    """A spoon that was weighed once, and that the plan does not know."""
    spoon, mine = bag.item.spoon_mass, powder(plan, need.material)
    if spoon is None or not _settable(plan, event, "spoon_mass"):
        return ""
    grams = to_base(spoon, Kind.MASS)
    if mine.weighed and abs(grams / mine.grams_per_teaspoon - 1) <= SMALL:
        return ""
    planned = show_mass(mine.grams_per_teaspoon) + ("" if mine.weighed else ", a guess")
    return f"1 tsp of {bag.name} weighs {show_mass(grams)}; in the plan it weighs {planned}"


def _of_several(need: Need, own: Sequence[Owned]) -> Disagreement:
    share = show_percent(100 * need.purity)
    return Disagreement(
        None, f"The plan reckons with {need.name} of {share}, and none of the {len(own)} bags is that", which=True
    )


def _of_others(plan: Plan, need: Need, there: Sequence[Owned]) -> Disagreement:
    """Another material that brings the same stands on the shelf, and this one does not."""
    if len(there) > 1:
        return Disagreement(None, f"There is no {need.name}; {len(there)} other bags can take its place", which=True)
    (bag,) = there
    event = taking(plan, bag)
    instead = _instead(plan, need, bag, event) if event else ""
    return Disagreement(bag, f"There is no {need.name}; {bag.name} can take its place{instead}")


def _instead(plan: Plan, need: Need, bag: Owned, event: PowderTaken) -> str:
    """Say what the plan would ask for with the bag in it: the recipe works that out, nobody else."""
    with_it = taken_into(plan, event)
    after = next(
        (wanted.grams for wanted in needs(with_it, Shelf()) if wanted.material == bag.item.material), need.grams
    )
    if abs(after / need.grams - 1) <= SMALL:
        return ""
    return f": {show_weighed(bag.item.material, after)} of it instead of {show_weighed(need.material, need.grams)}"


def from_shelf(plan: Plan, shelf: Shelf) -> tuple[PowderTaken, ...]:
    """Give every bag that goes into a new plan unasked: the only one of its material, where the plan says otherwise."""
    only = ((need, need.bag) for need in needs(plan, shelf) if need.bag is not None)
    bags = (bag for need, bag in only if not bag.purer_than_pure and _of_the_bag(plan, need, bag))
    events = (taking(plan, bag) for bag in bags)
    return tuple(event for event in events if event is not None and not why_not(plan, event))


def undecided(plan: Plan, shelf: Shelf) -> str:
    """Say of which materials a new plan takes no bag in, as there are several unlike ones; empty if there are none."""
    parts = []
    for need in needs(plan, shelf):
        own = [
            owned for owned in shelf.there if owned.item.material == need.material and taking(plan, owned) is not None
        ]
        if len({(owned.purity, owned.item.spoon_mass, owned.item.lot) for owned in own}) > 1:
            share = show_percent(100 * need.purity)
            parts.append(f"{COUNTS.get(len(own), len(own))} bags of {need.name}, the plan reckons with {share}")
    sentence = "; ".join(parts)
    return f"{capital(sentence)}: o, o and space say which." if sentence else ""


def why_not(plan: Plan, event: PowderTaken) -> str:
    """Say why a bag cannot go into a plan, such as vinegar essence for vinegar; empty if it can."""
    try:
        for path, value in powder_rows(plan, event.place, event.entry).items():
            check_change(plan, path, value)
    except ValueError as reason:
        return str(reason)
    return ""


def taken_into(plan: Plan, event: PowderTaken) -> Plan:
    """Give the plan with a bag in it."""
    for path, value in powder_rows(plan, event.place, event.entry).items():
        plan = set_value(plan, path, value)
    return plan


def _settable(plan: Plan, event: PowderTaken, name: str) -> bool:
    return f"shelf.{event.place}.{name}" in powder_rows(plan, event.place, event.entry)
