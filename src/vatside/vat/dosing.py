"""Amounts for this vat: a litre, to a pH, thinned, of stock, or to warm it; how each is weighed and dissolved."""

from __future__ import annotations

from math import ceil, log

from attrs import frozen

from vatside.catalogue.findings import Remedy, additions
from vatside.catalogue.values import Addition
from vatside.chemistry import heat
from vatside.chemistry.adjust import acid_for_pH, alkali_grams, bicarbonate_for_pH
from vatside.chemistry.bath import Bath, together
from vatside.chemistry.buffer import MOST
from vatside.chemistry.errors import CannotReach
from vatside.chemistry.liquor import solve
from vatside.chemistry.reducers import REDUCERS
from vatside.chemistry.roots import falling_root
from vatside.chemistry.substances import BAKING_SODA, reducer_per_gram, saturates
from vatside.chemistry.tap import tap_bath
from vatside.chemistry.water import enthalpy
from vatside.plan.measures import Powder, celsius, delicate_lot, fibre_of, method_of, powder, reducer_of
from vatside.plan.plan import Plan
from vatside.recipe.baths import VINEGAR, Dose, amount_text
from vatside.recipe.cooling import KETTLE_C
from vatside.recipe.sizing import size_of
from vatside.units import Kind, show_minutes, show_volume, to_base
from vatside.vat.account import Account
from vatside.vat.spent import vinegar_ml

BRIM_SHARE = 0.97
"""A tub is not filled higher than this: common practice, no source."""


@frozen
class Warming:
    """What brings the vat up to a temperature: hot water, or heat from outside."""

    celsius: float
    hot_l: float
    """Of kettle water."""
    fits: bool
    """The tub takes it; else as much is taken out first."""
    strength: float
    """What is left of the strength with it in, as a share."""
    hob_min: float
    """Minutes on the hob with all its heat going in; a water bath takes longer."""
    gas: str = ""
    """What comes off the vat, so that no flame or hob stands near it; empty: nothing."""

    @property
    def text(self) -> str:
        """Both ways, and what the water costs."""
        return f"{self.by_kettle}, or {self.on_the_hob}."

    @property
    def by_kettle(self) -> str:
        """The hot water, and what it costs."""
        kept = f"(it keeps {100 * self.strength:.0f} % of its strength)"
        if not self.fits:
            return f"Take {show_volume(self.hot_l)} out, put as much kettle water in {kept}"
        return f"{show_volume(self.hot_l)} of kettle water {kept}"

    @property
    def on_the_hob(self) -> str:
        """The heat from outside, which adds nothing."""
        if self.gas:
            return f"stand the tub in hot water from the kettle, no hob or flame near: {self.gas} comes off"
        return f"{show_minutes(self.hob_min)} at the least on the hob, in a water bath"


LEAST_WARMING_K = 0.5
"""Nearer than this is there: a kitchen thermometer is off by a degree (common practice, no source)."""


def warming(account: Account, plan: Plan, target_C: float) -> Warming | None:
    """Say what brings a vat to a temperature; None if it is there already. Raises `CannotReach` near the boil."""
    now, litres = account.celsius, account.litres
    if target_C - now < LEAST_WARMING_K:
        return None
    gas = reducer_of(plan).breathes
    hot = heat.hot_water_to_add(litres, now, target_C, KETTLE_C)
    minutes = heat.heating_minutes(litres, now, target_C, to_base(plan.water.hob, Kind.POWER))
    if hot <= free_litres(account, plan):
        return Warming(target_C, hot, True, litres / (litres + hot), minutes, gas)
    exchanged = heat.hot_cold_split(litres, target_C, KETTLE_C, now).hot_l
    return Warming(target_C, exchanged, False, 1 - exchanged / litres, minutes, gas)


def free_litres(account: Account, plan: Plan) -> float:
    """Give the room left in the tub without fibre in it, L."""
    return size_of(plan).tub * BRIM_SHARE - account.litres


SAMPLE_L = 0.5
"""A correction is tried on half a litre first: common practice, no source."""
WEIGHABLE_G = 1.0
"""A kitchen scale weighs this and more: common practice, no source."""
GUESS_BELOW = 0.05
"""A vat short of less than this share of its indigo is not short by the account."""
MOST_THINNING = 30.0
"""More than this many times the liquor is no thinning any more."""


def flat(plan: Plan, remedy: Remedy, litres: float) -> Dose | None:
    """Give what a remedy's amount a litre comes to, by the purity on the shelf; None if it has none."""
    if remedy.per_litre is None:
        return None
    what, fact = powder(plan, remedy.material), remedy.per_litre
    of = litres / what.purity
    return Dose(what, fact.value * of, (fact.low or 0.0) * of, (fact.high or 0.0) * of)


@frozen
class Reviving:
    """Reducer for a vat that has turned blue, or partly so."""

    dose: Dose
    dye_g: float
    """Of it, as weighed, for the dye that is blue again."""


def reviving(account: Account, plan: Plan, remedy: Remedy) -> Reviving | None:
    """Work out the reducer that turns the blue dye back, and sharpens the water as when the vat was made [Reactions].

    So much of the dye is blue as the finding says, or the account; None for a remedy that is about no dye.
    """
    what = powder(plan, remedy.material)
    if remedy.oxidised is None or what.material.species not in REDUCERS:
        return None
    blue = max(remedy.oxidised.value * account.indigotin_g, account.unreduced_g)
    dye = reducer_per_gram(what.material.species) * blue / what.purity
    return Reviving(Dose(what, dye + _sharpener(plan, account.litres).grams), dye)


def ice_kg(account: Account, target_C: float) -> float:
    """Give the ice that brings a vat down to a temperature (degrees C), melted and as warm as that in the end.

    334 kJ melt a kilogram, from memory; nothing is lost to the room. 0 for a vat that is cooler.
    """
    kilojoules = account.bath.water_kg * (enthalpy(account.celsius) - enthalpy(target_C))
    return max(kilojoules, 0.0) / (MELTING + enthalpy(target_C))


MELTING = 334.0
"""Heat that melts ice, kJ/kg: from memory."""


def to_pH(bath: Bath, target_pH: float, what: Powder) -> Dose:
    """Give the alkali or acid that brings a bath to a pH at its own temperature; 0 if it is there.

    Baking soda lowers it, to where it stands by itself at the most. Raises `CannotReach`, `Dangerous` (acid into a
    living vat below pH 9) or `OutOfRange`.
    """
    species = what.material.species
    if species == BAKING_SODA:
        return Dose(what, bicarbonate_for_pH(bath, target_pH, MOST * bath.water_kg) / what.purity)
    if species == VINEGAR:
        return Dose(what, vinegar_ml(acid_for_pH(bath, target_pH, "vinegar"), what.purity) * what.material.bulk.value)
    if species == "citric acid":
        return Dose(what, acid_for_pH(bath, target_pH, "citric acid") / what.purity)
    return Dose(what, alkali_grams(bath, target_pH, species) / what.purity)


MUCH_THINNED = 0.5
"""A vat that keeps less than this share of its strength is as good as a new one: a judgement of our own."""
STEP_KEEPS = 2 / 3
"""Share of the strength that one step of thinning leaves at the least: a judgement of our own."""


@frozen
class Thinning:
    """Sharpened water that brings a vat down to a pH, or one step of the way."""

    litres: float
    """Of sharpened water to add, if the tub has room for it."""
    exchanged: float
    """Litres to take out and replace, if it has not; 0 if it has."""
    reducer: Dose
    """What sharpens that much water."""
    strength: float
    """Share of the strength that is left."""
    pH: float  # noqa: N815  (chemistry's own symbol)
    """At the vat's own temperature, once it is in."""


def thinning(account: Account, plan: Plan, target_pH: float) -> Thinning | None:
    """Work out the water that brings a vat down to a pH at its own temperature; None if it is there.

    Raises `CannotReach` where even much water does not, `OutOfRange` as the liquor.
    """
    bath, litres = account.bath, account.litres
    if solve(bath).pH <= target_pH:
        return None

    def thinned(water: float) -> float:
        return solve(together(bath, tap_bath(water, bath.temperature_C, account.tap))).pH if water else solve(bath).pH

    most = MOST_THINNING * litres
    if thinned(most) > target_pH:
        raise CannotReach(
            f"Thinning does not bring this vat down to pH {target_pH:g}: dye cotton or linen in it, "
            "and make a new one with less alkali."
        )
    water = falling_root(lambda water: thinned(water) - target_pH, 0.0, most, litres, -0.4 / litres, 1e-4 * litres)
    return _thinned(account, plan, litres / (litres + water))


def step(thinned: Thinning, account: Account, plan: Plan) -> Thinning:
    """Give what of a thinning is done at once: all of it, or as much as takes a third of the strength."""
    return thinned if thinned.strength >= STEP_KEEPS else _thinned(account, plan, STEP_KEEPS)


def steps_of(thinned: Thinning) -> int:
    """Count the steps that a thinning takes."""
    return max(ceil(log(thinned.strength) / log(STEP_KEEPS) - 1e-6), 1)


def _thinned(account: Account, plan: Plan, kept: float) -> Thinning:
    """Thin a vat until it keeps a share of its strength: water goes in where the tub has room, else in exchange."""
    litres = account.litres
    water = litres * (1 / kept - 1)
    fits = water <= free_litres(account, plan)
    fresh = water if fits else (1 - kept) * litres
    pH = solve(together(account.bath, tap_bath(water, account.bath.temperature_C, account.tap))).pH
    return Thinning(water if fits else 0.0, 0.0 if fits else fresh, _sharpener(plan, fresh), kept, pH)


def _sharpener(plan: Plan, litres: float) -> Dose:
    what = powder(plan, "reducer")
    return Dose(what, method_of(plan).vat.reducer_per_litre.value * litres / what.purity)


@frozen
class Feed:
    """Indigo for a vat that has too little of it."""

    indigotin_g: float
    """Short of what is wanted."""
    litres: float
    """Of the stock that is left; 0 where the jar has none or only weak stock."""
    powder: Dose
    """For a new stock that brings the rest."""
    guessed: bool
    """The account sees no shortage, so half of what the vat was made with is taken."""


def feed(account: Account, plan: Plan, strength: float) -> Feed:
    """Work out the indigo that brings a vat to a strength (g/L of indigotin), stock first, new powder for the rest."""
    short = account.litres * (strength - account.strength)
    guessed = short < GUESS_BELOW * account.litres * strength
    if guessed:
        short = account.litres * strength / 2
    litres = short / (account.stock_strength - strength) if account.stock_strength > strength else 0.0
    there = min(litres, account.stock_litres)
    rest = short - there * max(account.stock_strength - strength, 0.0)
    what = powder(plan, "indigo")
    return Feed(short, there, Dose(what, max(rest, 0.0) / what.purity), guessed)


def filled(remedy: Remedy, amount: str) -> str:
    """Give the words of a remedy with its amount."""
    return remedy.text.replace("{amount}", amount)


def how_text(dose: Dose) -> str:
    """Say how a dose goes into the vat."""
    addition = additions().get(dose.powder.material.species)
    if addition is None:
        return ""
    return addition.text.replace("{water}", show_volume(_round_up(_dissolving(addition, dose))))


def dissolving_litres(dose: Dose) -> float:
    """Give the water that a dose is dissolved in, L; 0 where it goes in dry."""
    addition = additions().get(dose.powder.material.species)
    return _round_up(_dissolving(addition, dose)) if addition else 0.0


def _dissolving(addition: Addition, dose: Dose) -> float:
    wanted = dose.grams * addition.water_per_gram
    return max(wanted, addition.least_water) if addition.water_per_gram else 0.0


def _round_up(litres: float) -> float:
    """Round to whole 50 mL, upwards."""
    return -(-round(litres * 1000, 6) // 50) * 0.05


def sample_text(plan: Plan, dose: Dose, litres: float) -> str:
    """Say what to give half a litre in a jar first; what is too little to weigh goes in as a solution, or in a heap."""
    grams = dose.grams * SAMPLE_L / litres
    small, how = Dose(dose.powder, grams), additions().get(dose.powder.material.species)
    if how is not None and how.brewed:
        much = f"the brew of {amount_text(plan, small)}"
    elif how is not None and how.solid and grams < WEIGHABLE_G:
        heaps = round(WEIGHABLE_G / grams)
        if heaps > MOST_HEAPS:
            return (
                "Too little to be tried on half a litre: give the vat a third of it first, wait, look, then the rest."
            )
        much = f"one of {heaps} even heaps of 1 g, wetted" if heaps > 1 else "1 g, wetted"
    elif dose.is_liquid or grams >= WEIGHABLE_G:
        much = amount_text(plan, small)
    elif saturates(dose.powder.material.species):
        much = f"{show_volume(grams / 10)} of a milk of 1 g in 100 mL, shaken up"
    else:
        much = f"{show_volume(grams / 10)} of 1 g dissolved in 100 mL of water, fresh"
    return f"Half a litre of the vat in a jar, {_kept_as(plan)}, first: {much}."


MOST_HEAPS = 12
"""A gram is parted by eye into no more heaps: ours, no source."""
WARMER_C = 5.0
"""A vat this much above its room is a warm one: ours, no source."""


def _kept_as(plan: Plan) -> str:
    """Say how a jar with a sample stands: as warm as its vat, and never shut where gas comes off."""
    gas = reducer_of(plan).breathes
    lot = delicate_lot(plan)
    wanted = method_of(plan).vat.warmth.of(fibre_of(lot).group if lot else "cellulose").value
    warm = "warm" if wanted > celsius(plan.water.room) + WARMER_C else "at the warmth of the vat"
    return f"{warm}, a lid laid on, never tight, no flame near" if gas else f"{warm} and covered"
