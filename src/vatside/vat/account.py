"""The account of a vat: what the tool believes is in the liquor, and how each thing done to it changes that.

It counts powders by their purity and lets the reducer do what it can; powder that works slowly is not in it. What time
does to it is `aged`'s. A reading of the pH puts the account right: see `trust`.
"""

from __future__ import annotations

from functools import lru_cache

from attrs import evolve, frozen

from vatside.chemistry.ageing import saturation
from vatside.chemistry.bath import (
    Bath,
    add_grams,
    aerate,
    at_temperature,
    changed,
    gives_off_sulfur_dioxide,
    not_begun,
    part,
    reduce,
    together,
)
from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.heat import water_mass, water_volume
from vatside.chemistry.life import makes_acid
from vatside.chemistry.liquor import at_25, solve
from vatside.chemistry.substances import ALKALIS, LIME, LYE, REDUCERS, moles, substance, whole_percents
from vatside.chemistry.tap import PURE, TapWater, tap_bath
from vatside.plan.measures import likely, powder, reducer_of, species_of
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.recipe import baths

LEAST_PART = 1e-6
"""Less than this share of a bath is none of it."""


@frozen
class Account:
    """What is in the vat, as far as the tool knows, and what is left of the stock."""

    bath: Bath
    alkali: str
    """The substance the vat's alkali is."""
    stock: Bath | None = None
    """Left in the jar."""
    tap: TapWater = PURE
    """What water that goes in brings along."""
    trusted_g: float = 0.0
    """Alkali, as grams of lye, that readings taken as true have put in (or, below zero, taken out)."""
    unsure_g: tuple[float, float] = (0.0, 0.0)
    """Lye (g) that it may hold less and more, by how far off the latest of those readings may be."""
    chalk_g: float = 0.0
    """Lye (g) that it holds besides if chalk lay at the bottom then: what is chalk takes up no alkali any more."""
    less_g: float = 0.0
    """Reducer that may have gone beyond what likely went with the time, pure g."""
    more_g: float = 0.0
    """Reducer that may be left beyond what is likely, pure g."""
    asleep: bool = False
    """It is to be brought to life, and nobody saw it live yet; what its dye will be then is in the bath."""

    @property
    def liquor(self) -> Bath:
        """What stands in the tub now: of a vat that is asleep the dye is blue."""
        return not_begun(self.bath) if self.asleep else self.bath

    @property
    def litres(self) -> float:
        """Volume of the liquor at its temperature, L."""
        return water_volume(self.bath.water_kg, self.bath.temperature_C)

    @property
    def celsius(self) -> float:
        """Temperature, degrees C."""
        return self.bath.temperature_C

    @property
    def indigotin_g(self) -> float:
        """Indigotin in the vat, reduced or not, g."""
        return (self.bath.indigotin + self.bath.leuco) * substance("indigotin").molar_mass

    @property
    def unreduced_g(self) -> float:
        """Of it still blue, g."""
        return self.liquor.indigotin * substance("indigotin").molar_mass

    @property
    def reduced_g(self) -> float:
        """Of it reduced, or to be once the vat lives, g: what pieces can take."""
        return self.bath.leuco * substance("indigotin").molar_mass

    @property
    def strength(self) -> float:
        """Indigotin, g/L."""
        return self.indigotin_g / self.litres

    @property
    def is_alive(self) -> bool:
        """Tell whether acid would, or may, drive sulphur dioxide out of it."""
        return gives_off_sulfur_dioxide(self.bath) or (self.more_g > 0 and not makes_acid(self.bath))

    @property
    def stock_strength(self) -> float:
        """Indigotin in what is left of the stock, g/L; 0 if nothing is left."""
        if self.stock is None:
            return 0.0
        grams = (self.stock.indigotin + self.stock.leuco) * substance("indigotin").molar_mass
        return grams / self.stock_litres

    @property
    def stock_litres(self) -> float:
        """Left in the jar, L."""
        return 0.0 if self.stock is None else water_volume(self.stock.water_kg, self.stock.temperature_C)


def planned_account(plan: Plan, sheet: Sheet) -> Account:
    """Give the account of the vat that the plan makes, just after its stock went in. Raises `OutOfRange`."""
    values, alkali = sheet.value, species_of(plan, "alkali")
    asleep = plan.kept is None and reducer_of(plan).breeds
    return Account(baths.vat_bath(plan, values), alkali, _left(plan, values), likely(plan), asleep=asleep)


def _left(plan: Plan, values: baths.Values) -> Bath | None:
    """What stays in the jars, of the kept stock and of the new one together."""
    of_jar = 1 - baths.jar_share(plan, values) if plan.stock_kept else 0.0
    new = 1 - baths.stock_share(values) if values("stock.water") else 0.0
    kept = part(baths.jar_bath(plan), of_jar) if of_jar > LEAST_PART else None
    made_ = part(baths.stock_bath(plan, values), new) if new > LEAST_PART else None
    return together(kept, made_) if kept and made_ else kept or made_


def carried_on(litres: float, t_C: float, indigotin_g: float, alkali: str, alkali_g: float) -> Account:
    """Give the account of a vat kept from another day, see `standing_bath`. Raises `OutOfRange`."""
    return Account(baths.standing_bath(litres, t_C, indigotin_g, alkali, alkali_g), alkali)


def kept_account(plan: Plan) -> Account:
    """Give the account of the kept vat of a plan as it stands, before it is topped up. Raises `OutOfRange`."""
    return Account(baths.kept_bath(plan), species_of(plan, "alkali"), tap=likely(plan))


def warmed(account: Account, t_C: float) -> Account:
    """Give the account after the vat was warmed or cooled (degrees C, 0 to 100). Raises `OutOfRange`."""
    return evolve(account, bath=at_temperature(account.bath, t_C))


def with_powder(account: Account, plan: Plan, material: str, grams: float) -> Account:
    """Give the account after grams of a material, as weighed, went in; the shelf says its purity.

    Raises `OutOfRange` below zero.
    """
    if grams < 0:
        raise OutOfRange(f"The amount that went in cannot be {grams:g} g.")
    return evolve(account, bath=reduce(baths.put_in(account.bath, powder(plan, material), grams)))


def with_pure(account: Account, substance_name: str, grams: float) -> Account:
    """Give the account after grams of a pure substance went in. Raises `OutOfRange` for one that is not known."""
    return evolve(account, bath=reduce(add_grams(account.bath, substance_name, grams)))


def at_volume(account: Account, litres: float) -> Account:
    """Give the account with its liquor measured as so many litres: what is dissolved stays. Raises `OutOfRange`."""
    water = water_mass(litres, account.celsius)
    return evolve(account, bath=evolve(account.bath, water_kg=water))


def reducer_g(account: Account, name: str) -> float:
    """Give what is likely left of a reducer (a substance), pure g; none of one that is not known."""
    return getattr(account.bath, REDUCERS[name].total) * substance(name).molar_mass if name in REDUCERS else 0.0


def spent(account: Account) -> Account:
    """Give the account after it was stirred in the air until nothing reduces any more."""
    return evolve(account, bath=aerate(account.liquor), less_g=0.0, more_g=0.0, asleep=False)


def all_reduced(account: Account, name: str, least_g: float) -> Account:
    """Give the account with all its dye reduced, as it was seen, and its reducer alive.

    Of that there is no less than `least_g` (pure): what such a vat was sharpened with; how much of it nobody saw.
    """
    account = evolve(account, asleep=False)
    bath, there = account.bath, reducer_g(account, name)
    bath = evolve(bath, leuco=bath.leuco + bath.indigotin, indigotin=0.0)
    if name not in REDUCERS or there >= least_g:
        return evolve(account, bath=bath)
    kind, more = REDUCERS[name], moles(name, least_g - there)
    salts = (("sodium", count * more) for total, count in kind.pure.gives if total == "sodium")
    bath = changed(bath, ((kind.total, more), *salts))  # with its own sodium: it changes no pH that was read
    return evolve(account, bath=bath, less_g=least_g, more_g=max(account.more_g, least_g))


def all_blue(account: Account, name: str) -> Account:
    """Give the account with all its dye blue, as it was seen: the reducer, if one is known to do so, is spent.

    The air that spent the last of it has taken its sulfite on to sulfate [Reactions].
    """
    bath = account.bath
    bath = evolve(bath, leuco=0.0, indigotin=bath.indigotin + bath.leuco)
    bath = evolve(bath, sulfite=0.0, sulfate=bath.sulfate + bath.sulfite)
    if name not in REDUCERS or REDUCERS[name].assumed:
        return evolve(account, bath=bath)
    kind = REDUCERS[name]
    gone = getattr(bath, kind.total)
    bath = changed(bath, ((kind.total, -gone), *((made_, count * gone) for made_, count in kind.becomes("sulfate"))))
    return evolve(account, bath=bath, less_g=0.0, more_g=0.0)


def free_alkali_g(account: Account) -> float:
    """Give the alkali that nothing has bound yet, as grams of lye; below zero where acid is over [Reactions].

    Counted by charge: the dye in its single ion, sulphite and sulphate bound, a carbonate gives one hydroxide.
    """
    return -baths.lye_held(account.liquor)


def with_water(account: Account, litres: float, t_C: float) -> Account:
    """Give the account after tap water (L at t_C) went in, with the air that it holds [BensonKrause1984]."""
    if litres <= 0:
        return account
    mixed = together(account.bath, tap_bath(litres, t_C, account.tap))
    return evolve(account, bath=reduce(mixed, litres * saturation(t_C)))


def with_stock(account: Account, litres: float) -> Account:
    """Give the account after stock was brought in. Raises `OutOfRange` for more than is left in the jar."""
    if litres <= 0:
        return account
    if account.stock is None or litres > account.stock_litres * 1.001:
        raise OutOfRange(f"There are {account.stock_litres:.2f} L of stock left, not {litres:.2f} L.")
    share = min(litres / account.stock_litres, 1.0)
    vat = reduce(together(account.bath, part(account.stock, share)))
    left = part(account.stock, 1 - share) if 1 - share > LEAST_PART else None
    return evolve(account, bath=vat, stock=left)


def without(account: Account, litres: float) -> Account:
    """Give the account after liquor was taken out, by jug or in fibre. Raises `OutOfRange` if that is all of it.

    Lime that lies at the bottom stays there: what is taken is the clear above it, and fibre hangs above it too.
    """
    if litres <= 0:
        return account
    return evolve(account, bath=parted(account, litres / account.litres)[0])


def parted(account: Account, share: float) -> tuple[Bath, Bath]:
    """Give what stays of the liquor, and the clear share (above 0, below 1) of it that leaves, without its lime."""
    stays, leaves = part(account.bath, 1 - share), part(account.bath, share)
    lies = share * _lying(account) / substance(LIME).molar_mass
    return changed(stays, (("calcium", lies),)), changed(leaves, (("calcium", -lies),))


def _lying(account: Account) -> float:
    """Give the lime that has not dissolved, g; nothing where that cannot be told."""
    if not ALKALIS[account.alkali].saturates:
        return 0.0
    try:
        return solve(account.bath).undissolved_lime_g
    except OutOfRange:
        return 0.0


def aired(account: Account, oxygen_mg: float) -> Account:
    """Give the account after oxygen (mg) came in from the air. Raises `OutOfRange` below zero."""
    return evolve(account, bath=reduce(account.bath, oxygen_mg))


def dipped(account: Account, indigotin_g: float, carried_l: float, brought_l: float, t_C: float) -> Account:
    """Give the account after fibre went through.

    It takes dye (g, no more than there is) and liquor (L) out, and brings water (L at t_C) in.
    Raises `OutOfRange` if all the liquor is carried out.
    """
    taken = min(max(indigotin_g, 0.0) / substance("indigotin").molar_mass, account.bath.leuco)
    lighter = evolve(account, bath=evolve(account.bath, leuco=account.bath.leuco - taken))
    return with_water(without(lighter, carried_l), brought_l, t_C)


@frozen
class Prediction:
    """What the account says a meter would show, at two temperatures, and how the dye stands."""

    pH: float  # noqa: N815  (chemistry's own symbol)
    """In the vat, at `celsius`."""
    celsius: float
    pH_25: float  # noqa: N815  (chemistry's own symbol)
    """Of the same clear liquor at 25 degrees C."""
    acid: int
    """Leuco-indigo as acid, hardly dissolved; whole percents, which sum to 100 [Etters]."""
    mono: int
    di: int
    undissolved_lime_g: float
    """At the bottom, of the whole vat."""

    @property
    def text(self) -> str:
        """Both pH, each with its temperature."""
        return f"pH {self.pH:.1f} at {self.celsius:.0f} °C (pH {self.pH_25:.1f} at 25 °C)"


@lru_cache(maxsize=8)
def predict(account: Account, t_C: float | None = None) -> Prediction:
    """Work out the pH of a vat at a temperature (its own by default; degrees C) and at 25. Raises `OutOfRange`.

    Remembered: the desk asks after every event.
    """
    bath = account.liquor if t_C is None else at_temperature(account.liquor, t_C)
    liquor = solve(bath)
    acid, mono, di = whole_percents(liquor.pH)
    return Prediction(liquor.pH, bath.temperature_C, at_25(bath).pH, acid, mono, di, liquor.undissolved_lime_g)


def lye_grams(account: Account, grams: float) -> Account:
    """Give the account with so many more grams of pure lye (a trusted reading), and that written down."""
    bath = add_grams(account.bath, LYE, grams)
    return evolve(account, bath=bath, trusted_g=account.trusted_g + grams)
