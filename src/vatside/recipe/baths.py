"""The stock and the vat of a plan as baths of the chemistry; an amount for them as it is weighed and read out."""

from __future__ import annotations

from collections.abc import Callable
from math import ceil

from attrs import evolve, frozen

from vatside.chemistry.adjust import metals_over_acids
from vatside.chemistry.ageing import saturation
from vatside.chemistry.bath import Bath, add_grams, at_temperature, part, reduce, together, water_bath
from vatside.chemistry.substances import BAKING_SODA, LYE, moles, naoh_equivalent, substance
from vatside.chemistry.tap import PURE, TapWater, fill, tap_bath
from vatside.plan.figure_text import SPOON_STEPS, in_spoons
from vatside.plan.measures import BUFFERS, Powder, celsius, likely, powder, species_of
from vatside.plan.plan import Measure, Plan
from vatside.recipe.kept import BROUGHT, in_jar, in_tub
from vatside.units import Amount, show_mass, show_volume, spoonfuls

Values = Callable[[str], float]
"""A figure's value by its id."""

LEAST_LITRES = 0.01
"""A jar or a tub holds at least this much, so that every plan has a liquor."""


def stock_bath(plan: Plan, value: Values, alkali_g: float | None = None, tap: TapWater | None = None) -> Bath:
    """Give the finished stock; `alkali_g` (grams as weighed) takes the place of the sheet's alkali, `tap` of its water.

    The powders are counted by their purity; the reducer first uses up the oxygen of its water [BensonKrause1984], then
    reduces the indigotin as far as it goes [Reactions]. Raises `OutOfRange` for temperatures of no water.
    """
    litres = max(value("stock.water"), LEAST_LITRES)
    bath = tap_bath(litres, value("stock.start"), tap or likely(plan))
    bath = put_in(bath, powder(plan, "alkali"), value("stock.alkali") if alkali_g is None else alkali_g)
    bath = put_dye_in(bath, powder(plan, "indigo"), value("stock.indigotin"))
    bath = put_in(bath, powder(plan, "reducer"), value("stock.reducer"))
    return reduce(bath, litres * saturation(bath.temperature_C))


def vat_bath(plan: Plan, value: Values, *, alkali: bool = True, tap: TapWater | None = None) -> Bath:
    """Give the vat with the stock in it; with `alkali` off, as it would be if no new alkali had gone in anywhere.

    The water, or the kept vat topped up with it, with what sharpens it, then what another vat left of its stock and
    the new one poured in, at the vat's temperature. `tap` takes the place of the plan's likeliest water. Raises
    `OutOfRange`.
    """
    warm = value("vat.temperature")
    bath = _before_sharpening(plan, value, warm, tap or likely(plan))
    if alkali:
        bath = put_in(bath, powder(plan, "alkali"), value("vat.alkali"))
        for buffer in BUFFERS:
            bath = put_in(bath, powder(plan, buffer), _if_any(value, f"vat.{buffer}"))
    bath = put_in(bath, powder(plan, "reducer"), value("vat.reducer"))
    bath = reduce(bath, 1000 * value("vat.oxygen"))
    of_jar = jar_share(plan, value)
    if of_jar > 0:
        bath = together(bath, part(jar_bath(plan), of_jar))
    share = stock_share(value)
    if share > 0:
        stock = stock_bath(plan, value, None if alkali else 0.0, tap)
        bath = together(bath, part(stock, share))
    return at_temperature(reduce(bath), warm)


def _if_any(value: Values, figure: str) -> float:
    """Give a figure's value; nothing where the plan has no such figure."""
    try:
        return value(figure)
    except KeyError:
        return 0.0


def _before_sharpening(plan: Plan, value: Values, warm: float, tap: TapWater) -> Bath:
    """Give what is in the tub before powder or stock goes in."""
    water = tap_bath(max(value("vat.water"), LEAST_LITRES), warm, tap)
    there = in_tub(plan)
    stays = there.litres - value("vat.surplus") if plan.kept else 0.0
    if stays <= LEAST_LITRES:
        return water
    old = at_temperature(part(kept_bath(plan, tap), stays / there.litres), warm)
    return together(old, water) if value("vat.water") > LEAST_LITRES else old


def kept_bath(plan: Plan, tap: TapWater | None = None) -> Bath:
    """Give what stands in the tub by a plan that has a kept vat, before anything is done to it. Raises `OutOfRange`."""
    there = in_tub(plan)
    bath = standing_bath(
        there.litres, there.celsius, there.indigotin_g, species_of(plan, "alkali"), there.alkali_g,
        tap=tap or likely(plan), carbonate_g=there.carbonate_g, salts_g=there.salts_g, oxidised_g=there.oxidised_g,
    )  # fmt: skip
    return add_grams(bath, species_of(plan, "reducer"), there.reducer_g)


def jar_bath(plan: Plan) -> Bath:
    """Give what stands in the jar by a plan that has a kept stock, as cool as the room. Raises `OutOfRange`."""
    there, room, alkali = in_jar(plan), celsius(plan.water.room), species_of(plan, "alkali")
    bath = standing_bath(there.litres, room, there.indigotin_g, alkali, there.alkali_g, tap=likely(plan))
    return add_grams(bath, species_of(plan, "reducer"), there.reducer_g)


def jar_share(plan: Plan, value: Values) -> float:
    """Give the share of the kept stock that goes into the vat, 0 to 1."""
    return in_jar(plan).share(value(BROUGHT)) if plan.stock_kept else 0.0


def standing_bath(
    litres: float,
    t_C: float,
    indigotin_g: float,
    alkali: str,
    alkali_g: float,
    *,
    tap: TapWater = PURE,
    carbonate_g: float | None = None,
    salts_g: float = 0.0,
    oxidised_g: float = 0.0,
) -> Bath:
    """Give a vat, or a stock, kept from another day: so much alkali (g of lye) free, and its indigo reduced.

    All of it but what is oxidised (g). `alkali` is a substance of `vatside.chemistry.substances.HYDROXIDE`, and
    counts as in `free_alkali_g`: a carbonate gives one hydroxide, so below zero stands for carbonic acid, down to
    where nothing is left to turn sour. Carbonate (g, as baking soda) is what the tap brought where None; salts (g,
    as sodium sulfate) are what spent reducer left. Hardness is the tap's. Raises `OutOfRange`.
    """
    bath = add_grams(fill(water_bath(litres, t_C), tap, litres), "sodium sulfate", salts_g)
    carbonate = bath.carbonate if carbonate_g is None else moles(BAKING_SODA, carbonate_g)
    soda = max(carbonate - bath.carbonate, 0.0)
    blue = moles("indigotin", min(oxidised_g, indigotin_g))
    leuco = moles("indigotin", indigotin_g) - blue
    bath = evolve(bath, carbonate=carbonate, sodium=bath.sodium + soda, leuco=leuco, indigotin=blue)
    lacks = alkali_g + lye_held(bath)
    return add_grams(bath, alkali, max(lacks, 0.0) / naoh_equivalent(alkali))


def lye_held(bath: Bath) -> float:
    """Give the lye (g) that the acids of a bath bind beyond what metals it holds; below zero where they hold more.

    A carbonate counts as bicarbonate; see `vatside.chemistry.adjust.metals_over_acids`.
    """
    return (bath.carbonate - metals_over_acids(bath)) * substance(LYE).molar_mass


MONO_NAOH_PER_G = substance(LYE).molar_mass / substance("indigotin").molar_mass
"""Lye that holds a gram of reduced indigotin in its single ion, g [Reactions]."""


def put_dye_in(bath: Bath, what: Powder, indigotin_g: float) -> Bath:
    """Put a pigment into a bath by its indigotin (g); what of it is reduced already is leuco-indigo."""
    reduced = what.material.reduced.value / 100 if what.material.reduced else 0.0
    bath = add_grams(bath, "indigotin", (1 - reduced) * indigotin_g)
    return evolve(bath, leuco=bath.leuco + moles("indigotin", reduced * indigotin_g))


def stock_share(value: Values) -> float:
    """Give the share of the stock that goes into the vat, 0 to 1."""
    return min(value("vat.stock") / max(value("stock.water"), LEAST_LITRES), 1.0)


def put_in(bath: Bath, what: Powder, grams: float) -> Bath:
    """Put grams of a powder or liquid, as weighed, into a bath; vinegar counts by volume and brings its water."""
    pure = max(grams, 0.0) * what.purity
    if what.material.species != VINEGAR:
        return add_grams(bath, what.material.species, pure)
    pure /= what.material.bulk.value
    sour = add_grams(bath, VINEGAR, pure)
    return evolve(sour, water_kg=bath.water_kg + max(grams - pure, 0.0) / 1000)


VINEGAR = "acetic acid"
"""What vinegar holds; its strength is grams in 100 mL, not in 100 g."""


@frozen
class Dose:
    """An amount of one powder or liquid, as weighed."""

    powder: Powder
    grams: float
    low: float = 0.0
    """The least that is usually given, g; 0 where only one amount is known."""
    high: float = 0.0

    @property
    def millilitres(self) -> float:
        """Volume of a liquid, mL."""
        return self.grams / self.powder.material.bulk.value

    @property
    def is_liquid(self) -> bool:
        """Tell a liquid from a powder: only vinegar is one."""
        return self.powder.material.species == VINEGAR


def amount_text(plan: Plan, dose: Dose) -> str:
    """Print a dose in the plan's way first, the other way behind it; liquids by volume."""
    if dose.is_liquid:
        return show_volume(dose.millilitres / 1000)
    spoon = in_spoons(dose.grams, dose.powder.teaspoons(dose.grams), plan).text
    mass = show_mass(dose.grams)
    return f"{spoon} ({mass})" if plan.measure is Measure.SPOONS else f"{mass} ({spoon})"


def named_amount(plan: Plan, dose: Dose) -> str:
    """Print a dose with the name of its powder: `3.0 g (1/2 tsp) of lye`."""
    return f"{amount_text(plan, dose)} of {dose.powder.material.short.lower()}"


def as_measured(plan: Plan, what: Powder, grams: float, least: float = 0.0) -> Amount:
    """Give the amount that the plan's scale or spoons can measure: the nearest to `grams` that is not below `least`.

    It is printed as it is: `amount_text` of it says neither more nor less.
    """
    grams = max(grams, least)
    if plan.measure is Measure.SCALE:
        step = 0.01 if grams < 0.095 else 0.1 if grams < 99.95 else 1 if grams < 999.5 else 10
        steps = max(round(grams / step), ceil(round(least / step, 6)))
        return Amount(round(steps * step, 2), "g")
    wanted, enough = what.teaspoons(grams), what.teaspoons(least) * (1 - 1e-9)
    rounded = (spoonfuls(wanted + more, plan.spoons).teaspoons for more in SPOON_STEPS)
    return Amount(next(spoons for spoons in rounded if spoons >= enough), "tsp")
