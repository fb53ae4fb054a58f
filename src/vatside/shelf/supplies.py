"""What a plan needs and what there is: of which bag, for how many more days, what to buy, and what the house gives.

Everything is grams as weighed: of the bag that the plan weighs from, gram for gram. Only another lot that would have
to stand in for it counts by what is active in it; the plan itself turns purity into grams. The house gives water out of
the taps, energy that warms it, and work of hands.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import datetime
from math import floor, inf

from attrs import frozen

from vatside.catalogue.load import materials
from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.heat import water_mass
from vatside.chemistry.water import enthalpy
from vatside.dayline.day_steps import steps
from vatside.dayline.step_uses import all_uses
from vatside.log.events.day import PowderTaken
from vatside.log.fold import State
from vatside.log.state import happened
from vatside.plan.batches import Batch, batches, baths
from vatside.plan.measures import ROLES, celsius, method_of, powder, shelf_entry, total_grams
from vatside.plan.plan import Plan, ShelfEntry
from vatside.plan.sheet import Sheet
from vatside.recipe.kept import in_tub
from vatside.shelf.shelf import Owned, Shelf
from vatside.units import Amount, show_count

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
    material = known.get(owned.item.material)
    return material is not None and bool(material.species) and material.species == known[wanted].species


def how_many_more(plan: Plan, shelf: Shelf, taken: Taken | None = None) -> HowMany:
    """Say for how many more days like this one the shelf lasts, and what runs out first."""
    all_needs = needs(plan, shelf, taken)
    known = [need for need in all_needs if need.known]
    unknown = tuple(need.name for need in all_needs if not need.known)
    first = min(known, key=lambda need: need.times, default=None)
    if first is None:
        return HowMany(0, 0, 0, 0.0, "", unknown)
    times = first.times + ROUNDING
    a_day = sum(lot.pieces for lot in plan.lots)
    days, pieces = floor(times), floor(times * a_day)
    return HowMany(days, pieces - days * a_day, pieces, first.times * total_grams(plan), first.name, unknown)


@frozen
class ToBuy:
    """One line of a shopping list."""

    material: str
    name: str
    grams: float
    """At least, as weighed at the plan's purity."""


def shopping_list(plan: Plan, shelf: Shelf, days: int = 1, taken: Taken | None = None) -> tuple[ToBuy, ...]:
    """Give what must be bought for so many days like this one."""
    all_needs = needs(plan, shelf, taken)
    lines = (ToBuy(need.material, need.name, need.grams * days - need.have) for need in all_needs)
    return tuple(line for line in lines if line.grams >= LEAST_G)


KJ_PER_KWH = 3600.0
ONCE = ("sour", "rinse after the sour", "wash")
"""Baths of the finish that every fibre has once; the rinses have figures of their own. See `finish_steps.toml`."""


def work_minutes(plan: Plan, sheet: Sheet) -> float:
    """Minutes of hands-on work of the day's steps."""
    return sum(step.work_min for step in steps(plan, sheet))


def water_litres(plan: Plan, sheet: Sheet) -> float:
    """Litres that come out of the taps, from the wetting out to the last rinse."""

    def value(figure: str) -> float:
        return sheet.value(figure, 0.0)  # fibre that goes through no bath has no pot

    scour = sum(
        value(bath.id("soak_water")) + value(bath.id("baths")) * value(bath.id("load_water"))
        + value(bath.id("rinse_water"))
        for bath in baths(plan)
    )  # fmt: skip
    finish = sum(
        value(batch.id("water")) * (value(batch.id("rinses")) + len(ONCE) + value(batch.id("last_rinses")))
        for batch in batches(plan)
    )
    return scour + value("stock.water") + value("stock.bath") + value("vat.water") + finish


def energy_kwh(plan: Plan, sheet: Sheet) -> float:
    """Energy that warms the day's water from the cold tap, kWh, without losses [Popiel1998] [Kell1975].

    Every scour bath to its hold, the first rinse of a load to its own temperature, stock, warm bath and vat, what
    stays of a kept vat from as warm as it stands, and the warm baths of the finish; every other rinse is taken to be
    as cold as it runs or to have stood in the room.
    """
    cold = celsius(plan.water.cold)

    def value(figure: str) -> float:
        return sheet.value(figure, 0.0)  # fibre that goes through no bath has no pot, a vat made anew nothing kept

    warm = [(value("stock.water"), value("stock.start")), (value("vat.water"), value("vat.temperature"))]
    warm.append((value("stock.bath"), value("stock.bath_temperature")))
    for bath in baths(plan):
        pot = value(bath.id("load_water"))
        warm.append((pot * value(bath.id("baths")), value(bath.id("hold_temperature"))))
        warm.append((pot * value(bath.id("loads")), value(bath.id("rinse_temperature"))))
    for batch in batches(plan):
        warm += [(value(batch.id("water")), to) for to in _warm_baths(plan, sheet, batch)]
    stays = _kwh(value("vat.kept") - value("vat.surplus"), in_tub(plan).celsius, value("vat.temperature"))
    return stays + sum(_kwh(litres, cold, to) for litres, to in warm)


def _warm_baths(plan: Plan, sheet: Sheet, batch: Batch) -> Iterator[float]:
    """Temperatures (°C) of the baths of the finish that are warmer than the room.

    Protein and silk are rinsed a safe step above the room before the wash, and from it down by safe steps; plant
    fibres are rinsed once as hot as the wash water ran, and then cold. See the words of `dayline/dye_steps.py`.
    """
    value, room, step = sheet.value, celsius(plan.water.room), batch.fibre.step.value
    wash, last = value(batch.id("wash")), round(value(batch.id("last_rinses")))
    yield wash
    if not batch.gentle:
        yield from [value(batch.id("wash_start"))] * min(last, 1)
        return
    falling = (wash - step * number for number in range(1, last + 1))
    first = [value(batch.id("rinse_temperature"))] if round(value(batch.id("rinses"))) else []
    yield from (to for to in (*first, *falling) if to > room)


def _kwh(litres: float, from_C: float, to_C: float) -> float:
    try:
        heat = water_mass(litres, from_C) * (enthalpy(to_C) - enthalpy(from_C))
    except OutOfRange:
        return 0.0
    return max(heat, 0.0) / KJ_PER_KWH
