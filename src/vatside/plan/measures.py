"""The plan's amounts as plain floats in the units of the arithmetic; its tap water, the fibre that alkali harms.

Tap water is as the dyer knows it, or a stated guess with the ends between which it may lie.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from math import pi

from attrs import frozen

from vatside.catalogue.load import fibres, materials, methods, usual_method
from vatside.catalogue.values import Fibre, Material, Method, Scour, Window
from vatside.chemistry.buffer import RULES
from vatside.chemistry.reducers import REDUCERS, Reducer
from vatside.chemistry.substances import ALKALIS, Alkali
from vatside.chemistry.tap import ALKALINITY_ENDS, CLASSES, UNKNOWN, Tap, TapWater, of_calcium_carbonate, softened
from vatside.plan.blend import Parts, blended, mixed, scour_for
from vatside.plan.plan import Condition, Lot, Plan, ShelfEntry, TapKind, Tub, TubShape
from vatside.units import Amount, Kind, Spoons, is_spoon, spoon_millilitres, teaspoons, to_base

ROLES = ("indigo", "alkali", "reducer")
"""The places of a method that a powder of the shelf fills."""
BY_VOLUME = ("vinegar",)
"""What is measured out by volume."""
POURED = (*BY_VOLUME, "detergent")
"""What may be bought by volume."""


def method_of(plan: Plan) -> Method:
    """Give the plan's method; the usual one if a plan of elsewhere names one that is not known here."""
    return methods().get(plan.method) or methods()[usual_method()]


def parts_of(lot: Lot) -> Parts:
    """Give what a lot is made of: fibre ids with the share of each; the first fibre for one that is not known."""
    known = fibres()
    if not lot.second and lot.fibre in known:
        return ((lot.fibre, 1.0),)
    first = lot.fibre if lot.fibre in known else next(iter(known))
    second = share(lot.second_share) if lot.second in known and lot.second != first else 0.0
    return ((first, 1 - second), (lot.second, second)) if 0 < second < 1 else ((first, 1.0),)


def fibre_of(lot: Lot) -> Fibre:
    """Give the lot's fibre, a blend as one: see `blend.blended`."""
    return blended(parts_of(lot))


def fibre_key(lot: Lot) -> str:
    """Name what a lot is made of in ids: blends of the same fibres are treated alike, whatever their shares."""
    return "-".join(sorted(key for key, _ in parts_of(lot)))


def fibre_words(lot: Lot) -> str:
    """Name what a lot is made of, with the shares of a blend: `cotton-linen 55/45`."""
    parts = parts_of(lot)
    shares = "/".join(f"{100 * share:.3g}" for _, share in parts)
    return f"{fibre_of(lot).name} {shares}" if len(parts) > 1 else fibre_of(lot).name


def plant_after(plan: Plan) -> Fibre | None:
    """Give the plant fibre that follows wool, hair or silk in one vat; None for a plan without both."""
    groups = {fibre_of(lot).group: fibre_of(lot) for lot in plan.lots}
    plant = groups.pop("cellulose", None)
    return plant if groups else None


def scour_key(lot: Lot) -> str:
    """Name the scour bath a lot goes into: lots of one key share it."""
    ending = {Condition.READY: "-ready", Condition.RINSED: "-rinsed"}.get(lot.condition, "")
    return fibre_key(lot) + ("-greasy" if is_greasy(lot) else ending)


def is_greasy(lot: Lot) -> bool:
    """Tell a lot whose grease or gum takes a scour of its own; cotton's wax does not."""
    fibre = fibre_of(lot)
    return lot.condition is Condition.GREASY and fibre.scour_greasy != fibre.scour


def scour_of(lot: Lot) -> Scour:
    """Give the scouring recipe for a lot's fibre and condition."""
    return scour_for(parts_of(lot), lot.condition)


def lot_grams(plan: Plan, lot: Lot) -> float:
    """Air-dry mass of a lot, g."""
    return to_base(lot.mass, Kind.MASS, plan.spoons)


def clean_grams(plan: Plan, lot: Lot) -> float:
    """Air-dry mass of a lot as it comes to the vat, g: what the scour takes off is gone."""
    return lot_grams(plan, lot) * (1 - scour_of(lot).loss.value / 100)


def fibre_of_all(plan: Plan, lots: Sequence[Lot]) -> Fibre:
    """Give what lots of one `fibre_key` are made of together: blends of several shares go into one bath."""
    return blended(mixed(*((parts_of(lot), lot_grams(plan, lot)) for lot in lots)))


def total_grams(plan: Plan) -> float:
    """Air-dry mass of all lots as they come to the vat, g."""
    return sum(clean_grams(plan, lot) for lot in plan.lots)


def held(plan: Plan, figure: str, kind: Kind) -> float | None:
    """Give what the dyer holds a figure at, in the base unit of its kind; None if it follows the plan."""
    for pin in plan.pins:
        if pin.figure == figure:
            return to_base(pin.amount, kind, plan.spoons)
    return None


def litres(plan: Plan, amount: Amount) -> float:
    """Turn a volume of the plan into litres."""
    return to_base(amount, Kind.VOLUME, plan.spoons)


def celsius(amount: Amount) -> float:
    """Turn a temperature into degrees C."""
    return to_base(amount, Kind.TEMPERATURE)


def share(amount: Amount) -> float:
    """Turn a percentage into a share of one."""
    return to_base(amount, Kind.PERCENT) / 100


def brim_litres(plan: Plan, tub: Tub) -> float:
    """Volume of a tub to the brim, L, from litres or from inside measures.

    An oval tub is taken as an ellipse, which a real one exceeds by a few per cent.
    """
    if tub.shape is TubShape.LITRES:
        return litres(plan, tub.volume)
    length, width, height = (to_base(size, Kind.LENGTH) for size in (tub.length, tub.width, tub.height))
    floors = {
        TubShape.ROUND: pi / 4 * length**2,
        TubShape.OVAL: pi / 4 * length * width,
        TubShape.BOX: length * width,
    }
    return floors[tub.shape] * height / 1000


@frozen
class Powder:
    """A powder or liquid of the plan, ready for the arithmetic."""

    id: str
    material: Material
    purity: float
    """Share of the active substance."""
    grams_per_teaspoon: float
    spread: float
    """How unsure a spoon of it is, as a share."""
    weighed: bool
    """The dyer weighed her own spoons."""

    def grams(self, amount: Amount, spoons: Spoons) -> float:
        """Grams of the powder in a mass or in level spoons."""
        if is_spoon(amount):
            return teaspoons(amount, spoons) * self.grams_per_teaspoon
        return to_base(amount, Kind.MASS)

    def teaspoons(self, grams: float) -> float:
        """Level teaspoons that hold so many grams."""
        return grams / self.grams_per_teaspoon


WEIGHED_SPREAD = 0.05
"""Level spoons of one powder, ten weighed once: common practice, no source."""


def powder(plan: Plan, key: str) -> Powder:
    """Give the powder that fills a role of the method (`indigo`, `alkali`, `reducer`) or a material by id."""
    return _as_it_stands(_material(plan, key), plan.shelf, plan.spoons)


def species_of(plan: Plan, role: str) -> str:
    """Give the substance of the powder that fills a role of the method, or of a material by id."""
    return powder(plan, role).material.species


def alkali_of(plan: Plan) -> Alkali:
    """Give what the method's alkali does."""
    return ALKALIS[species_of(plan, "alkali")]


def reducer_of(plan: Plan) -> Reducer:
    """Give what the method's reducer does."""
    return REDUCERS[species_of(plan, "reducer")]


@lru_cache(maxsize=64)
def _as_it_stands(wanted: str, shelf: tuple[ShelfEntry, ...], spoons: Spoons) -> Powder:
    """Remembered: a sheet asks for each of its powders dozens of times."""
    entry = _entry(wanted, shelf)
    material = materials()[entry.material]
    if entry.spoon_mass is None:
        per_spoon = material.bulk.value * spoon_millilitres("tsp", spoons)
        return Powder(entry.material, material, share(entry.purity), per_spoon, material.bulk.spread, False)
    per_spoon = to_base(entry.spoon_mass, Kind.MASS)
    return Powder(entry.material, material, share(entry.purity), per_spoon, WEIGHED_SPREAD, True)


def shelf_entry(plan: Plan, key: str) -> ShelfEntry:
    """Find the entry for a role or a material; the catalogue's usual one if the shelf has none."""
    return _entry(_material(plan, key), plan.shelf)


def _material(plan: Plan, key: str) -> str:
    material: str = getattr(method_of(plan), key) if key in ROLES else key
    return material


def _entry(wanted: str, shelf: tuple[ShelfEntry, ...]) -> ShelfEntry:
    return next((entry for entry in shelf if _serves(entry.material, wanted)), None) or usual_entry(wanted)


def usual_entry(material_id: str) -> ShelfEntry:
    """Give a material as it is usually sold, by spoons that nobody has weighed."""
    return ShelfEntry(material_id, Amount(materials()[material_id].purity.value, "%"), None)


def _serves(material_id: str, wanted: str) -> bool:
    """Two materials serve each other if they bring the same active substance."""
    if material_id == wanted:
        return True
    known = materials()
    return material_id in known and bool(known[wanted].species) and known[material_id].species == known[wanted].species


def by_jug(plan: Plan) -> bool:
    """Tell whether the alkali is lye, which is dissolved in cold water in a jug of its own."""
    return alkali_of(plan).heats


def is_paced(plan: Plan) -> bool:
    """Tell a reducer whose work is paced by warmth, so that its stock rests longer where it is cooler [Vuorema2008]."""
    return bool(reducer_of(plan).heat)


def has_warm_bath(plan: Plan) -> bool:
    """Tell whether the method keeps its stock warm in a bath."""
    return method_of(plan).stock.warm_bath.value > 0


def tap_of(plan: Plan) -> Tap:
    """Give what is known of the plan's tap water: a report or a strip goes before the word for it."""
    water = plan.water
    if water.hardness is not None:
        return _measured(plan)
    if water.tap is TapKind.SOFTENED:
        return Tap(softened(UNKNOWN.likely), tuple(softened(end) for end in UNKNOWN.ends))
    if water.tap is TapKind.UNKNOWN:
        return UNKNOWN
    return Tap(CLASSES["pure" if water.tap is TapKind.PURE else water.tap.value])


def is_known(plan: Plan) -> bool:
    """Tell whether the dyer has said how hard her water is, by number or by word."""
    return plan.water.hardness is not None or plan.water.tap is not TapKind.UNKNOWN


def _measured(plan: Plan) -> Tap:
    hardness = to_base(plan.water.hardness, Kind.HARDNESS) if plan.water.hardness else 0.0
    if plan.water.alkalinity is not None:
        return Tap(of_calcium_carbonate(hardness, to_base(plan.water.alkalinity, Kind.ALKALINITY)))
    ends = tuple(of_calcium_carbonate(hardness, share * hardness) for share in ALKALINITY_ENDS)
    return Tap(of_calcium_carbonate(hardness), ends if hardness else ())


def likely(plan: Plan) -> TapWater:
    """Give the water to reckon with where one is wanted."""
    return tap_of(plan).likely


def delicate_lot(plan: Plan) -> Lot | None:
    """Give the lot whose fibre alkali harms first; None for a plan without lots."""
    return min(plan.lots, key=lambda lot: _delicacy(fibre_of(lot)), default=None)


def window_of(plan: Plan, fibre: Fibre) -> Window:
    """Give the pH between which a fibre is dyed in the plan's kind of vat, at its temperature."""
    return method_of(plan).vat.windows.get(fibre.group, fibre.window)


def _delicacy(fibre: Fibre) -> tuple[float, float]:
    return fibre.window.block, fibre.window.high


def suits_lime(plan: Plan, group: str) -> bool:
    """Tell a vat that lime holds above its fibre's window without harm: cellulose is dyed in lime all the same."""
    return group == "cellulose" and alkali_of(plan).saturates


SODA, BUFFERS = "soda-ash", ("soda-ash", "baking-soda")
"""Materials that hold a vat for wool or silk."""
BUFFERED = tuple(f"vat.{name}" for name in BUFFERS)
"""Figures of what holds a vat for wool or silk."""


def is_buffered(plan: Plan) -> bool:
    """Tell a vat for wool, hair or silk that soda ash and baking soda hold in the place of its alkali."""
    lot = delicate_lot(plan)
    if lot is None or fibre_of(lot).group not in RULES:
        return False
    return alkali_of(plan).gentle and reducer_of(plan).in_soda is not None
