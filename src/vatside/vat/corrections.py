"""What to do about a finding: amounts, how, a try-out, the wait, what forbids it."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from vatside.catalogue.findings import CONFIRM, Remedy, rows
from vatside.catalogue.values import Fact
from vatside.chemistry.bath import add_grams, reduce
from vatside.chemistry.buffer import RULES
from vatside.chemistry.errors import CannotReach, Dangerous, OutOfRange
from vatside.chemistry.life import turned_sour
from vatside.chemistry.liquor import solve
from vatside.chemistry.reducers import REDUCERS, as_usual, hydroxide_of
from vatside.chemistry.substances import ALKALIS, LYE, naoh_equivalent, saturates, substance
from vatside.plan.measures import BUFFERS, Powder, powder
from vatside.recipe.baths import Dose, named_amount
from vatside.recipe.vat_alkali import ABOVE_LOW
from vatside.recipe.vat_needs import Setting, at_warmth
from vatside.units import show_temperature
from vatside.vat.account import Account, free_alkali_g, warmed
from vatside.vat.diagnosis import Finding, remedies
from vatside.vat.dosing import MUCH_THINNED, thinning, to_pH
from vatside.vat.interlocks import NO_WAIT, NOTHING, Block, Correction, Vat, nothing
from vatside.vat.reading import CELSIUS_ERROR, PHBy
from vatside.vat.remedies import DEEDS, with_dose, with_room
from vatside.vat.trust import as_seen, compare, trust

WITH_IT = "-with-it"
"""Ends the name of a way that goes with the reducer before it."""


def holds_by_soda(plain: Setting) -> bool:
    """Tell a vat for wool, hair or silk, which soda ash and baking soda hold in its window."""
    return ALKALIS[plain.alkali].gentle and plain.group in RULES


def its_alkali(correction: Correction, vat: Vat) -> Iterator[Correction]:
    """Give the alkali that goes in with the reducer of a correction; nothing where none is fed.

    All the hydroxide that the reducer takes until it is spent [Reactions], in a lime vat only where its lime is all but
    gone; for wool and silk as much soda ash and baking soda as it was made with for each gram of reducer, so that it
    ends where it ended before [Buffered]. Bran brings its soda only where its acid takes the vat below its window.
    """
    if correction.does == NOTHING or not correction.grams:
        return
    reducer = powder(vat.plan, correction.material)
    pure = correction.grams * reducer.purity
    if correction.does != "add" or not _is_counted(reducer, limes=saturates(vat.setting.alkali)):
        return
    for what, grams in _amounts(reducer.material.species, pure, vat):
        yield _with_it(correction, Dose(what, grams / what.purity), vat)


FREE_SHARE = 0.5
"""A lime vat gives its reducer up to this share of its free lime, which is 0.3 of pH. Ours."""
LIME_AGAIN = 1.0
"""What a lime vat short of lime is given, g/L: common practice, no source. Too much of it only lies there."""


def _is_counted(reducer: Powder, *, limes: bool) -> bool:
    """Tell a reducer whose reaction is known, so that its alkali can be worked out; too much does no harm in lime."""
    if reducer.material.role != "reducer":
        return False
    kind = REDUCERS[reducer.material.species]
    return limes or kind.sours or not kind.assumed


def _amounts(species: str, pure: float, vat: Vat) -> Iterator[tuple[Powder, float]]:
    """Give each powder with its pure grams."""
    if REDUCERS[species].sours and not saturates(vat.setting.alkali):
        yield from _for_its_acid(species, pure, vat)
        return
    if holds_by_soda(vat.setting):
        rule, counts = RULES[vat.setting.group], as_usual(species, pure)
        for key, share in zip(BUFFERS, (rule.soda_reducer, rule.baking_reducer), strict=True):
            yield powder(vat.plan, key), share * counts
        return
    alkali, account = powder(vat.plan, "alkali"), vat.account
    lye = hydroxide_of(species, pure) * substance(LYE).molar_mass
    grams = lye / naoh_equivalent(alkali.material.species)
    if not saturates(vat.setting.alkali):
        yield alkali, grams
    elif lye > FREE_SHARE * free_alkali_g(account):
        yield alkali, grams + LIME_AGAIN * account.litres


LEFT_A_DAY = 0.79
"""Share of bran that a day leaves in a warm vat: half of it goes in three days, a guess as in `reducers`."""


def _for_its_acid(species: str, pure: float, vat: Vat) -> Iterator[tuple[Powder, float]]:
    """Give the alkali that leaves a vat within its window once what is fed has turned to acid; none where it is.

    A day's share of what was there turns with it.
    """
    alkali, low, bath = powder(vat.plan, "alkali"), vat.setting.window.low, vat.account.bath
    fed, total = reduce(add_grams(bath, species, pure)), REDUCERS[species].total
    sour = turned_sour(fed, max(1 - LEFT_A_DAY * getattr(bath, total) / getattr(fed, total), 0.0))
    try:
        if solve(sour).pH < low:
            yield alkali, alkali.purity * to_pH(sour, low + ABOVE_LOW, alkali).grams
    except (CannotReach, OutOfRange):
        return


def _takes(dose: Dose) -> str:
    return "takes lime, and hardly any is left" if saturates(dose.powder.material.species) else "turns to acid"


def _with_it(correction: Correction, dose: Dose, vat: Vat) -> Correction:
    plain = Correction(
        correction.finding, f"{dose.powder.id}{WITH_IT}", "add",
        f"First {named_amount(vat.plan, dose)}: the reducer {_takes(dose)}", NO_WAIT, "",
        "Buffered" if holds_by_soda(vat.setting) else "Reactions",
    )  # fmt: skip
    return evolve(with_dose(plain, dose, vat), sample="")


TEXT = "Read the pH once more before anything goes in"
HOW = {
    PHBy.METER: "Cool a small sample in a closed jar to about 25 °C. Try the meter in fresh buffer of pH 10 and rinse "
    "it; write down how warm the sample is. A strip beside it shows a slip.",
    PHBy.STRIP: "Cool a small sample in a closed jar. Blot a clear drop on a second, fresh strip and look at its back; "
    "a meter tried in fresh buffer is better.",
}
"""Common practice, no source."""
COOLING = Fact(10, "practice", low=5, high=15)
"""Minutes until a jar of hot liquor stands near room temperature in cold water: common practice, no source."""


def confirmation(finding: Finding, vat: Vat, read: Account) -> tuple[Correction, ...]:
    """Give what comes before any other way to put a pH right: nothing, or reading it once more.

    `read` is the account with the pH read taken as true. Asked for where the account says otherwise, or where putting
    it right would cost more than half of the vat; not where it was read twice already.
    """
    if vat.confirmed or vat.reading.pH is None or finding.axis != "pH":
        return ()
    why = _disagrees(vat) or _costs_much(vat, read)
    if not why:
        return ()
    how = HOW[vat.reading.pH_by]
    return (Correction("", CONFIRM, CONFIRM, TEXT, COOLING, "pH sample cooling", "practice", how=how, beside=why),)


def _disagrees(vat: Vat) -> str:
    try:
        comparison = compare(vat.account, vat.reading)
    except ValueError:
        return ""
    return "" if comparison is None or comparison.agrees else comparison.text


def _is_doubted(vat: Vat) -> bool:
    """Tell a pH read once that the account speaks against: what is left of the lime does not follow from it."""
    return saturates(vat.setting.alkali) and not vat.confirmed and bool(_disagrees(vat))


def _costs_much(vat: Vat, read: Account) -> str:
    if ALKALIS[vat.setting.alkali].gentle and _by_baking_soda(vat, read):  # it costs no dye
        return ""
    words = "To bring that down would cost more than half of the vat: be sure of it first."
    try:
        thinned = thinning(read, vat.plan, vat.setting.window.high)
    except CannotReach:
        return words
    except OutOfRange:
        return ""
    return words if thinned is not None and thinned.strength < MUCH_THINNED else ""


def _by_baking_soda(vat: Vat, read: Account) -> bool:
    try:
        return to_pH(read.bath, vat.setting.window.target, powder(vat.plan, BUFFERS[-1])) is not None
    except (CannotReach, OutOfRange):
        return False


__all__ = ["Correction", "Vat", "as_read", "corrections"]


def corrections(finding: Finding, vat: Vat) -> tuple[Correction, ...]:
    """Give what can be done about a finding, the first choice in front; never raises for an odd vat.

    A pH that was read is taken as true for the amounts; the account supplies what buffers it. A pH that is in doubt is
    read once more before anything else, and no lime goes in for it. What comes to nothing is left out, unless all the
    rest is forbidden.
    """
    read, again = as_read(vat), _reading_again(finding, vat.setting)
    vat = evolve(vat, setting=at_warmth(vat.setting, read.celsius))
    first = () if again else confirmation(finding, vat, read)
    held = evolve(vat, account=warmed(vat.account, read.celsius) if _is_doubted(vat) else read)
    vat = evolve(vat, account=read)
    ways = [_one(finding, remedy, vat) for remedy in remedies(finding, vat.setting)]
    offered = [with_room(evolve(way, along=tuple(its_alkali(way, held))), vat) for way in ways]
    useful = tuple(item for item in offered if item.does != NOTHING)
    if vat.confirmed:
        useful = tuple(item for item in useful if item.remedy not in again) or useful
    forbidden = all(isinstance(item.guard, Block) for item in useful)
    return (*first, *(offered if forbidden else useful))


def _reading_again(finding: Finding, setting: Setting) -> set[str]:
    """Name the ways that read the pH again themselves, as one does of lime: no confirmation comes before them."""
    return {one.id for one in remedies(finding, setting) if finding.axis == "pH" and one.does == "by hand"}


def as_read(vat: Vat) -> Account:
    """Give the account with the temperature and the pH that were read."""
    reading, account = vat.reading, as_seen(vat.account, vat.reading)
    try:
        if reading.celsius is not None:
            account = warmed(account, reading.celsius)
        if reading.pH is not None:
            account = trust(account, reading.pH, reading.sample_in(account.celsius))
    except ValueError:
        return account
    return account


def _one(finding: Finding, remedy: Remedy, vat: Vat) -> Correction:
    warm = min(remedy.warm, vat.setting.warmest)
    remedy = evolve(remedy, warm=warm, text=remedy.text.replace("{warm}", show_temperature(warm)))
    source = remedy.source or rows()[finding.id].source
    plain = Correction(
        finding.id, remedy.id, remedy.does, remedy.text, remedy.wait, remedy.wait_label, source,
        first=_warm_first(remedy, vat),
    )  # fmt: skip
    plain = evolve(plain, celsius=warm) if plain.first else plain
    try:
        return DEEDS[remedy.does](plain, remedy, vat)
    except (CannotReach, Dangerous, OutOfRange) as error:
        return nothing(plain, str(error))


def _warm_first(remedy: Remedy, vat: Vat) -> str:
    if vat.account.celsius > remedy.warm - CELSIUS_ERROR:
        return ""
    return f"Warm the vat to {show_temperature(remedy.warm)} first: below that it does little."
