"""What each kind of remedy comes to for one vat: amounts, how they go in, what they cost."""

from __future__ import annotations

from collections.abc import Callable

from attrs import evolve

from vatside.catalogue.findings import Remedy, rows
from vatside.chemistry.buffer import MOST, RULES
from vatside.chemistry.errors import CannotReach, OutOfRange
from vatside.chemistry.liquor import solve
from vatside.chemistry.substances import ALKALIS, HYDROXIDE, SODA_ASH, heats, naoh_equivalent, saturates
from vatside.plan.measures import SODA, Powder, celsius, powder, species_of
from vatside.recipe.baths import VINEGAR, Dose, amount_text, named_amount
from vatside.recipe.vat_alkali import ABOVE_LOW
from vatside.recipe.vat_needs import Setting
from vatside.units import show_mass, show_temperature, show_volume
from vatside.vat import interlocks, warmth
from vatside.vat.account import Account
from vatside.vat.dosing import (
    MUCH_THINNED,
    SAMPLE_L,
    Feed,
    Reviving,
    Thinning,
    dissolving_litres,
    feed,
    filled,
    flat,
    free_litres,
    how_text,
    reviving,
    sample_text,
    step,
    steps_of,
    thinning,
    to_pH,
)
from vatside.vat.interlocks import NO_WAIT, Block, Care, Correction, Vat, nothing
from vatside.vat.reading import PHBy
from vatside.vat.spent import no_acid

MANY_TIMES = 2.0
"""Where the worked-out amount and the table's differ by more than this, it is said."""
LEAST_G = 0.01
"""Less than this is nothing."""


def _told(remedy: Remedy, dose: Dose, vat: Vat) -> str:
    """Give the amount, and of what where the order itself does not name it."""
    return amount_text(vat.plan, dose) if "{amount} of " in remedy.text else named_amount(vat.plan, dose)


def _leave(plain: Correction, _remedy: Remedy, _vat: Vat) -> Correction:
    return plain


def _add(plain: Correction, remedy: Remedy, vat: Vat) -> Correction:
    dose = flat(vat.plan, remedy, vat.account.litres)
    if dose is None:
        return plain
    revival = reviving(vat.account, vat.plan, remedy)
    if revival is not None and revival.dose.grams > dose.grams:
        return _revive(plain, remedy, vat, revival)
    dose = _into_window(plain.finding, dose, vat)
    source = remedy.per_litre.source if remedy.per_litre else plain.source
    amount = _told(remedy, dose, vat)
    beside = " ".join(filter(None, (_range(dose), _unsure(dose.powder))))
    return evolve(with_dose(plain, dose, vat), text=filled(remedy, amount), beside=beside, source=source)


def _into_window(finding: str, dose: Dose, vat: Vat) -> Dose:
    """Give lime besides as much as brings the vat into its window: acid, and iron in hard water, take it first."""
    if finding != SHORT_OF_ALKALI or not saturates(dose.powder.material.species):
        return dose
    taken = to_pH(vat.account.bath, vat.setting.window.low, dose.powder)
    return evolve(dose, grams=dose.grams + taken.grams)


SHORT_OF_ALKALI = "short-of-alkali"


def _revive(plain: Correction, remedy: Remedy, vat: Vat, revival: Reviving) -> Correction:
    amount, air = _told(remedy, revival.dose, vat), revival.dose.grams - revival.dye_g
    beside = f"{show_mass(revival.dye_g)} for the dye that is blue again, {show_mass(air)} for the air to come."
    given, beside = with_dose(plain, revival.dose, vat), f"{beside} {_unsure(revival.dose.powder)}".strip()
    return evolve(given, text=filled(remedy, amount), beside=beside, source="Reactions")


HARDLY_KNOWN = 2.0
"""A powder of which the strongest holds more than this many times what the weakest does. Ours."""


def _unsure(what: Powder) -> str:
    """Say that nobody knows how strong a powder is, where it goes by the catalogue; empty of one that is known."""
    usual = what.material.purity
    low, high = usual.low or usual.value, usual.high or usual.value
    if what.purity != usual.value / 100 or high <= HARDLY_KNOWN * low:
        return ""
    name = what.material.short.lower()
    return f"Of {name} {low:g} to {high:g} % works, and how much of yours is not known: go by what you read after it."


def _range(dose: Dose) -> str:
    if not dose.high or dose.high == dose.low:
        return ""
    return f"Usual is {show_mass(dose.low)} to {show_mass(dose.high)} for this vat."


def with_dose(plain: Correction, dose: Dose, vat: Vat) -> Correction:
    """Write down a dose: what, how much, how it goes in, the try-out, what to mind."""
    return evolve(
        plain,
        material=dose.powder.id,
        grams=dose.grams,
        how=how_text(dose),
        sample=sample_text(vat.plan, dose, vat.account.litres) if dose.grams else "",
        cautions=dose.powder.material.cautions,
        water_l=_thinned_with(dose, vat),
        guard=_lye_guard(dose, vat) or plain.guard,
    )


def _lye_guard(dose: Dose, vat: Vat) -> Block | Care | None:
    if not heats(dose.powder.material.species) or not dose.grams:
        return None
    pure = dose.grams * dose.powder.purity
    return interlocks.lye(pure, max(dissolving_litres(dose), 0.05), celsius(vat.plan.water.cold))


def _to_window(plain: Correction, remedy: Remedy, vat: Vat) -> Correction:
    """Work the alkali or acid out by the liquor, to the pH that the most delicate fibre likes best."""
    what, window = powder(vat.plan, _gentle(remedy.material, vat.setting)), vat.setting.window
    sour = what.material.role == "acid"
    barred = no_acid(vat.plan) if sour else None
    if barred is not None:
        return nothing(plain, f"No {what.material.short.lower()}: {barred.why}")
    guard = _without_thinning(interlocks.acid(vat.account, window.target), vat) if sour else None
    if isinstance(guard, Block) and guard.final:
        return evolve(plain, guard=guard, text=f"No {what.material.short.lower()}: {guard.why}")
    if sour and _over_lime(vat.account):
        return nothing(plain, f"No {what.material.short.lower()}: the lime at the bottom would eat it first.")
    target, dose = window.target, to_pH(vat.account.bath, window.target, what)
    if _is_salt(dose, vat):
        target = window.low + ABOVE_LOW
        dose = to_pH(vat.account.bath, target, what)
    if _is_salt(dose, vat):
        return _too_salt(plain, dose, target)
    if dose.grams < LEAST_G:
        return nothing(plain, f"No {what.material.short.lower()}: by the pH it is at {target:g} already.")
    words = filled(remedy, f"{named_amount(vat.plan, dose)} (to pH {target:.3g}, for {vat.setting.fibre})")
    words = f"If nothing else is left: {words[0].lower()}{words[1:]}" if isinstance(guard, Block) else words
    beside = _beside_table(plain.finding, dose, vat)
    return with_dose(evolve(plain, text=words, source="Reactions", beside=beside, guard=guard), dose, vat)


def _is_salt(dose: Dose, vat: Vat) -> bool:
    """Tell soda ash beyond which a vat is salt water more than a dye bath."""
    species = dose.powder.material.species
    if species not in HYDROXIDE or not ALKALIS[species].is_carbonate:
        return False
    as_ash = dose.grams * dose.powder.purity * naoh_equivalent(species) / naoh_equivalent(SODA_ASH)
    return as_ash > MOST * vat.account.bath.water_kg


def _too_salt(plain: Correction, dose: Dose, target: float) -> Correction:
    name = dose.powder.material.short.lower()
    text = (
        f"No {name} any more: so much of its soda is bound that pH {target:.3g} would take {show_mass(dose.grams)} of "
        "it, salt water more than a vat. Make a new one"
    )
    return evolve(plain, does="by hand", text=text, wait=NO_WAIT, wait_label="")


THINS_VINEGAR = 10.0
"""Times as much water that vinegar is thinned with: common practice, no source."""
COUNTS = 0.02
"""Water that is less than this share of the vat is nothing in it: a judgement of our own."""


def _thinned_with(dose: Dose, vat: Vat) -> float:
    """Give the water that goes in with a dose, L; 0 where it is too little to count."""
    water = THINS_VINEGAR * dose.millilitres / 1000 if dose.is_liquid else dissolving_litres(dose)
    return water if water > COUNTS * vat.account.litres else 0.0


def with_room(way: Correction, vat: Vat) -> Correction:
    """Take as much liquor out first as the tub has no room for, brim left; what goes in before it counts as well."""
    what = powder(vat.plan, way.material) if way.material else None
    liquid = way.grams / what.material.bulk.value / 1000 if what and what.material.species == VINEGAR else 0.0
    stock = way.litres if way.does == "stock" else 0.0
    poured = sum(one.water_l for one in (*way.along, way)) + liquid + stock
    short = poured - max(free_litres(vat.account, vat.plan), 0.0)
    if poured <= 0 or short <= LEAST_ROOM_L:
        return way
    if short > vat.account.litres / 3:
        return nothing(evolve(way, along=()), f"{way.text}: the tub has no room for what it is thinned with.")
    out = min(round(short + 0.05, 1), vat.account.litres)
    first, *rest = *way.along, way
    first = evolve(first, out_l=out, text=f"Take {show_volume(out)} out first (the tub has no room). {first.text}")
    return evolve(way, along=(first, *rest[:-1])) if rest else first


LEAST_ROOM_L = 0.05
"""Less than this more or less is nothing in a tub: common practice, no source."""


def _without_thinning(guard: Block | Care | None, vat: Vat) -> Block | Care | None:
    """Advise no thinning where thinning does not do it."""
    if not isinstance(guard, Block) or guard.final:
        return guard
    try:
        thinning(vat.account, vat.plan, vat.setting.window.high)
    except (CannotReach, OutOfRange):
        return evolve(guard, instead="Keep it for cotton or linen, and make a new one with less alkali.")
    return guard


def _gentle(material: str, plain: Setting) -> str:
    """Give soda ash for the alkali of a vat for wool or silk: lye alone cannot hold it [Buffered]."""
    lye = material == "alkali" and ALKALIS[plain.alkali].gentle
    return SODA if lye and plain.group in RULES else material


def _beside_table(finding: str, dose: Dose, vat: Vat) -> str:
    """Say the table's flat amount beside the worked-out one, and how far a strip can be trusted for it."""
    words = []
    for remedy in rows()[finding].remedies:
        same = remedy.material and species_of(vat.plan, remedy.material) == dose.powder.material.species
        table = flat(vat.plan, remedy, vat.account.litres) if remedy.does == "add" and same else None
        if table:
            words.append(f"The table's flat amount is {amount_text(vat.plan, table)}.")
            if dose.grams > MANY_TIMES * table.grams:
                return " ".join((*words, "Give that first and read again."))
            break
    if vat.reading.pH is not None and vat.reading.pH_by is PHBy.STRIP:
        words.append("Worked out from a strip: give half, wait, read again.")
    return " ".join(words)


def _over_lime(account: Account) -> bool:
    """Tell whether lime lies at the bottom: water or acid only dissolves more of it."""
    return solve(account.bath).undissolved_lime_g > LEAST_LIME_G


LEAST_LIME_G = 0.05
"""Less lime than this prints as none. Ours."""


def _dilute(plain: Correction, remedy: Remedy, vat: Vat) -> Correction:
    if _over_lime(vat.account):
        return nothing(plain, "No thinning: the lime at the bottom dissolves and holds the vat where it stands.")
    whole = thinning(vat.account, vat.plan, vat.setting.window.high)
    if whole is None:
        return nothing(plain, "No thinning: by the pH it is in its window already.")
    first = step(whole, vat.account, vat.plan)
    litres = first.litres or first.exchanged
    return evolve(
        plain,
        text=_out_first(first, whole, show_volume(litres)) + filled(remedy, show_volume(litres)),
        litres=litres,
        exchanges=bool(first.exchanged),
        celsius=vat.account.celsius,
        material=first.reducer.powder.id,
        grams=first.reducer.grams,
        cautions=first.reducer.powder.material.cautions,
        how=f"Water at {show_temperature(vat.account.celsius)}, {named_amount(vat.plan, first.reducer)} in it, covered "
        "for 20 minutes before it goes in.",
        sample=f"Half a litre of the vat with {show_volume(SAMPLE_L * (1 / first.strength - 1))} of such water first.",
        beside=_thinned_words(first, whole, vat.setting),
        source="Reactions",
    )


def _out_first(first: Thinning, whole: Thinning, amount: str) -> str:
    """Say what comes out first; more than a third is never replaced at once."""
    if not first.exchanged:
        return ""
    why = "no more than a third at once" if first is not whole else "the tub has no room"
    return f"Take {amount} out first ({why}). "


def _thinned_words(first: Thinning, whole: Thinning, plain: Setting) -> str:
    """Say what a step brings, how many there are, and what the vat keeps of its strength."""
    left = f"{100 * whole.strength:.0f} % of its strength"
    kept = f"The vat keeps {left}."
    if first is not whole:
        kept = (
            f"That brings it to pH {first.pH:.1f}; read again before the next. "
            f"To pH {plain.window.high:g} it takes {steps_of(whole)} such steps and leaves {left}."
        )
    if whole.strength >= MUCH_THINNED or plain.group == "cellulose":
        return kept
    return f"{kept} That is as good as a new vat."


def _bring_stock(plain: Correction, remedy: Remedy, vat: Vat) -> Correction:
    account, wanted = vat.account, vat.setting.strength
    fed = feed(account, vat.plan, wanted)
    beside = _feed_words(fed, account, wanted)
    if fed.guessed and plain.finding == SHORT_OF_DYE:
        return _not_short(plain, account, wanted)
    if not fed.litres:
        new = f"Make a new stock with {named_amount(vat.plan, fed.powder)} and bring it in"
        return evolve(plain, text=new, beside=beside, cautions=fed.powder.powder.material.cautions)
    more = f" {named_amount(vat.plan, fed.powder).capitalize()} in a new stock would bring the rest."
    return evolve(
        plain,
        text=filled(remedy, show_volume(fed.litres)),
        litres=fed.litres,
        sample=f"Half a litre of the vat with {show_volume(SAMPLE_L * fed.litres / account.litres)} of stock first.",
        beside=beside + (more if fed.powder.grams > LEAST_G else ""),
    )


SHORT_OF_DYE = "used-up"


def _not_short(plain: Correction, account: Account, wanted: float) -> Correction:
    """Look for another cause where the account has all its dye."""
    text = (
        f"By the account it still holds {account.strength:.2f} of {wanted:.2f} g/L: dye is not what it lacks. Dip a "
        "well-scoured strip beside: if that is as it should be, scour the cloth better; if it is pale too, look at "
        "warmth, pH and colour of the liquor, and at the strength of the powder, before any new stock"
    )
    return evolve(plain, does="by hand", text=text, wait=NO_WAIT, wait_label="")


def _feed_words(fed: Feed, account: Account, wanted: float) -> str:
    if fed.guessed:
        return (
            f"By the account it still holds {account.strength:.2f} g/L; half of its {wanted:.2f} g/L as a first step."
        )
    return f"From {account.strength:.2f} to {wanted:.2f} g/L of indigotin."


DEEDS: dict[str, Callable[[Correction, Remedy, Vat], Correction]] = {
    "add": _add,
    "to window": _to_window,
    "dilute": _dilute,
    "stock": _bring_stock,
    "heat": warmth.heat,
    "cool": warmth.cool,
    "chill": warmth.chill,
    "by hand": _leave,
    "none": _leave,
}
"""By what a remedy does; each may raise `CannotReach`, `Dangerous` or `OutOfRange`."""
