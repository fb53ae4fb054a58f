"""What a plan needs and what the shelf has: how many more such days, and what to buy.

Everything is grams as weighed: of the bag that the plan weighs from, gram for gram. Only another lot that would have
to stand in for it counts by what is active in it; the plan itself turns purity into grams.
"""

from __future__ import annotations

from math import floor, inf

from attrs import frozen

from vatside.catalogue.load import materials
from vatside.dayline.step_uses import all_uses
from vatside.plan.measures import powder, total_grams
from vatside.plan.plan import Plan
from vatside.shelf.shelf import Owned, Shelf
from vatside.shelf.which_bag import Taken, source
from vatside.units import show_count

ROUNDING = 1e-6
"""Share of a day that a sum of floats may be off."""
LEAST_G = 0.01
"""Nobody goes shopping for less, g. Ours."""


@frozen
class Need:
    """What one day takes of one powder or liquid, and what there is of it."""

    material: str
    name: str
    grams: float
    """The day takes, as weighed at the plan's purity."""
    have: float
    """On the shelf, g of the bag that the plan weighs from; other lots by what is active in them."""
    known: bool
    """The shelf has, or had, such a thing at all."""
    purity: float
    """Share of the active substance by the plan."""
    bag: Owned | None = None
    """What the plan weighs from; None if there is nothing, or nobody can tell which."""
    others: tuple[Owned, ...] = ()
    """Other lots in what there is, that hold more or less of what is active than the plan counts on."""

    def counts_as(self, owned: Owned) -> float:
        """Grams as the plan weighs that another lot stands in for."""
        return owned.active / self.purity

    @property
    def times(self) -> float:
        """For how many such days it lasts; without end if the day takes none."""
        return self.have / self.grams if self.grams > 0 else inf

    @property
    def short(self) -> float:
        """What is missing for one day, g."""
        return max(self.grams - self.have, 0.0)


@frozen
class HowMany:
    """For how much more of the same the shelf lasts."""

    days: int
    """Whole days like this one."""
    over: int
    """Pieces (skeins, cloths) of this day's size beyond those of the whole days."""
    pieces: int
    """Pieces in all."""
    fibre_g: float
    """Dry fibre."""
    limit: str
    """What runs out first; empty if nothing that is needed stands on the shelf."""
    unknown: tuple[str, ...]
    """What the day takes and the shelf has never had; left out of the count."""

    @property
    def words(self) -> str:
        """Say the days and pieces so that they add up: `8 days like this and 2 pieces over, 42 pieces in all`."""
        if not self.days:
            return f"less than a day like this, {show_count(self.over, 'piece') if self.over else 'not one piece'}"
        over = f" and {show_count(self.over, 'piece')} over" if self.over else ""
        return f"{show_count(self.days, 'day')} like this{over}, {show_count(self.pieces, 'piece')} in all"


def needs(plan: Plan, shelf: Shelf, taken: Taken | None = None) -> tuple[Need, ...]:
    """Give what one day takes of everything, beside what there is."""
    sums: dict[str, float] = {}
    for use in all_uses(plan):
        sums[use.material] = sums.get(use.material, 0.0) + use.grams
    return tuple(need_of(plan, shelf, taken, material, grams) for material, grams in sums.items() if grams > 0)


def need_of(plan: Plan, shelf: Shelf, taken: Taken | None, material: str, grams: float) -> Need:
    """Put so many grams of a material beside what there is of it."""
    mine = [owned for owned in shelf.owned if serves(owned, material)]
    bag = source(shelf, plan, material, taken)
    others = tuple(owned for owned in mine if owned is not bag and not owned.finished and owned.left > 0)
    purity = powder(plan, material).purity
    have = sum(owned.active for owned in others) / purity + (bag.left if bag is not None else 0.0)
    unlike = tuple(owned for owned in others if abs(owned.purity / purity - 1) > ROUNDING)
    return Need(material, materials()[material].name, grams, have, bool(mine), purity, bag, unlike)


def serves(owned: Owned, wanted: str) -> bool:
    """Tell whether an item can stand in for a material: it is that, or brings the same active substance."""
    known = materials()
    if owned.item.material == wanted:
        return True
    found = known.get(owned.item.material)
    return found is not None and bool(found.species) and found.species == known[wanted].species


def how_many_more(plan: Plan, shelf: Shelf, taken: Taken | None = None) -> HowMany:
    """Say for how many more days like this one the shelf lasts, and what runs out first."""
    found = needs(plan, shelf, taken)
    known = [need for need in found if need.known]
    unknown = tuple(need.name for need in found if not need.known)
    first = min(known, key=lambda need: need.times, default=None)
    if first is None:
        return HowMany(0, 0, 0, 0.0, "", unknown)
    times = first.times + ROUNDING
    each = sum(lot.pieces for lot in plan.lots)
    days, pieces = floor(times), floor(times * each)
    return HowMany(days, pieces - days * each, pieces, first.times * total_grams(plan), first.name, unknown)


@frozen
class ToBuy:
    """One line of a shopping list."""

    material: str
    name: str
    grams: float
    """At least, as weighed at the plan's purity."""
    have: float


def shopping_list(plan: Plan, shelf: Shelf, days: int = 1, taken: Taken | None = None) -> tuple[ToBuy, ...]:
    """Give what must be bought for so many days like this one."""
    found = needs(plan, shelf, taken)
    lines = (ToBuy(need.material, need.name, need.grams * days - need.have, need.have) for need in found)
    return tuple(line for line in lines if line.grams >= LEAST_G)
