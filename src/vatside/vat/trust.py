"""When the pH read and the pH worked out disagree: what could explain it, and letting the reading be the true one."""

from __future__ import annotations

from collections.abc import Callable

from attrs import evolve, frozen

from vatside.catalogue.load import materials
from vatside.chemistry.adjust import alkali_for_pH
from vatside.chemistry.bath import Bath, changed, not_begun, reduce
from vatside.chemistry.errors import CannotReach, OutOfRange
from vatside.chemistry.life import makes_acid, turned_sour
from vatside.chemistry.liquor import at_25, solve
from vatside.chemistry.roots import falling_root
from vatside.chemistry.substances import ALKALIS, LYE, REDUCERS, naoh_equivalent, substance
from vatside.units import show_mass
from vatside.vat.account import Account, lye_grams
from vatside.vat.reading import BLUE, PH_ERROR, REDUCED, PHBy, Reading

MODEL_ERROR = 0.1
"""How far off the worked-out pH may be for reasons of the chemistry alone, a judgement of our own."""
SODIUM_ERROR_FROM = 12.0
"""From this pH on a glass electrode reads low in sodium liquor: from memory."""
LYE_MASS = substance(LYE).molar_mass


@frozen
class Comparison:
    """A pH read beside the pH that the account gives for the same sample at the same temperature."""

    measured: float
    predicted: float
    celsius: float
    """Of the sample, for both."""
    pH_by: PHBy  # noqa: N815  (chemistry's own symbol)
    tolerance: float
    lye_g: float
    """Lye that the account would have to gain (or, below zero, lose) for both to agree."""
    explanations: tuple[str, ...]
    """What could lie behind it; empty if they agree."""
    place: str = "vat"
    """What was read: the vat, or the stock."""
    alkali: str = LYE
    """The substance that its alkali is."""

    @property
    def agrees(self) -> bool:
        """Tell whether the two lie within what reading and reckoning allow."""
        return abs(self.measured - self.predicted) <= self.tolerance

    @property
    def text(self) -> str:
        """Both numbers at one temperature, in a sentence."""
        sentence = f"Read pH {self.measured:.1f}, worked out {self.predicted:.1f}, both at {self.celsius:.0f} °C: "
        if self.agrees:
            return sentence + f"they agree within ±{self.tolerance:.1f}."
        much = abs(self.lye_g)
        if self.lye_g < 0 and ALKALIS[self.alkali].is_carbonate:
            return sentence + f"as if acid that binds {_as_alkali(much, self.alkali)} had formed in the {self.place}."
        more = "more" if self.lye_g > 0 else "less"
        return sentence + f"as if {_as_alkali(much, self.alkali, more)} were in the {self.place}."


def _as_alkali(lye_g: float, alkali: str, more: str = "of") -> str:
    """Tell grams of lye as what the dyer has in their place."""
    return f"{show_mass(lye_g / naoh_equivalent(alkali))} {more} {_called(alkali)}"


def _called(alkali: str) -> str:
    return next((what.short.lower() for what in materials().values() if what.species == alkali), alkali)


def trusted_words(account: Account) -> tuple[str, float]:
    """Give what a pH that was trusted put right, in words and in grams of the vat's own alkali, pure."""
    grams, called = account.trusted_g / naoh_equivalent(account.alkali), _called(account.alkali)
    if grams < 0 and ALKALIS[account.alkali].is_carbonate:
        return f"Acid binds {called}", -grams
    return f"{'More' if grams > 0 else 'Less'} {called}", abs(grams)


def compare(account: Account, reading: Reading, place: str = "vat") -> Comparison | None:
    """Hold a reading's pH against the account, at the temperature of its sample; None for a reading without pH.

    Raises `OutOfRange` for a liquor that the chemistry does not know.
    """
    if reading.pH is None:
        return None
    account = as_seen(account, reading)
    t_C = reading.sample_in(account.celsius)
    predicted = predicted_pH(account, t_C)
    tolerance = PH_ERROR[reading.pH_by] + MODEL_ERROR
    lye = trust(account, reading.pH, t_C).trusted_g - account.trusted_g
    raw = Comparison(reading.pH, predicted, t_C, reading.pH_by, tolerance, lye, (), place, account.alkali)
    return raw if raw.agrees else evolve(raw, explanations=tuple(_explanations(account, reading, raw)))


def as_seen(account: Account, reading: Reading) -> Account:
    """Give the account with its dye blue where bran has not reduced it yet, as the liquor's colour tells."""
    blue = account.asleep or reading.colour in BLUE
    return evolve(account, bath=not_begun(account.bath), asleep=False) if blue else account


def predicted_pH(account: Account, t_C: float) -> float:
    """Give the pH of a sample of the vat at a temperature (degrees C); a cooled sample is clear, without its lime."""
    if abs(t_C - 25) < 0.5 and account.celsius > 25:
        return at_25(account.liquor).pH
    return solve(account.liquor, t_C).pH


def trust(account: Account, pH: float, t_C: float) -> Account:
    """Give the account with its alkali set so that its pH at t_C is the one that was read.

    More is put in as lye. Less is acid: of the sugar or starch that is there, then, where soda holds the vat, of what
    else made it, for its carbonate stays; lye and lime are taken out of what went in. Sugar stays where all of it does
    not make acid enough for its lime. Where not even that reaches the pH read, the account goes as far as it can.
    Raises `OutOfRange` as `vatside.chemistry.liquor.solve`.
    """
    if account.asleep:
        trusted = trust(evolve(account, bath=account.liquor, asleep=False), pH, t_C)
        return evolve(trusted, bath=reduce(trusted.bath), asleep=True)
    if solve(account.bath, t_C).pH <= pH:
        return lye_grams(account, _more(account.bath, pH, t_C))
    bath = _less(account, pH, t_C)
    taken = _equivalents(account.bath) - _equivalents(bath)
    return evolve(account, bath=bath, trusted_g=account.trusted_g - taken * LYE_MASS)


def trust_reading(account: Account, pH: float, t_C: float, error: float) -> Account:
    """Give `trust` with the lye that it leaves unsure: by the error of the reading, and by chalk, settled or not.

    Raises `OutOfRange` as `trust`.
    """
    likely = trust(account, pH, t_C)
    bath = likely.liquor
    try:
        low, high = (trust(account, end, t_C).trusted_g for end in (pH - error, pH + error))
        chalk_g = _more(bath, pH, t_C, chalk=True) if bath.calcium and bath.carbonate else 0.0
    except OutOfRange:
        return evolve(likely, unsure_g=(0.0, 0.0), chalk_g=0.0)
    return evolve(likely, unsure_g=(likely.trusted_g - low, high - likely.trusted_g), chalk_g=chalk_g)


LEAST_TURNED = 0.05
"""Share of the dye that is told by its colour. Ours."""


def narrowed(account: Account, reading: Reading) -> Account:
    """Give the account by a reading that lies within what an earlier one left unsure, if it is the finer; never raises.

    An account that no reading was taken into stays as it was weighed, and one whose dye the reading shows otherwise.
    """
    bath = account.bath
    turned = bath.leuco if reading.colour in BLUE else bath.indigotin if reading.colour in REDUCED else 0.0
    if account.unsure_g == (0.0, 0.0) or turned > LEAST_TURNED * (bath.leuco + bath.indigotin):
        return account
    try:
        compared = compare(account, reading)
        if compared is None:
            return account
        read = trust_reading(account, compared.measured, compared.celsius, PH_ERROR[compared.pH_by])
    except ValueError:
        return account
    less, more = account.unsure_g
    within = -less <= read.trusted_g - account.trusted_g <= more
    return read if within and sum(read.unsure_g) <= less + more else account


def _more(bath: Bath, pH: float, t_C: float, *, chalk: bool = False) -> float:
    try:
        return alkali_for_pH(bath, pH, LYE, t_C, chalk=chalk)
    except CannotReach:
        return 0.0


def _equivalents(bath: Bath) -> float:
    """Alkali by charge, mol; a carbonate gives one hydroxide, and acid that formed binds one."""
    return bath.sodium + 2 * bath.calcium - bath.carbonate - bath.strong_anions


def _less(account: Account, pH: float, t_C: float) -> Bath:
    """Let what can turn to acid do so until the pH is the one read; then sour the soda, or take lye or lime out."""
    bath = account.bath
    if makes_acid(bath):
        if solve(turned_sour(bath, 1.0), t_C).pH <= pH:
            return turned_sour(bath, _share(lambda part: turned_sour(bath, part), pH, t_C))
        if not ALKALIS[account.alkali].saturates:  # of lime there is less than was thought, which says nothing of sugar
            account = evolve(account, bath=turned_sour(bath, 1.0))
    if ALKALIS[account.alkali].is_carbonate:
        return _soured(account.bath, pH, t_C)
    taken = _taking(account)
    if solve(taken(1.0), t_C).pH >= pH:
        return _soured(taken(1.0), pH, t_C)
    return taken(_share(taken, pH, t_C))


def _share(bath_with: Callable[[float], Bath], pH: float, t_C: float) -> float:
    return falling_root(lambda part: solve(bath_with(part), t_C).pH - pH, 0.0, 1.0, 0.1, -3.0, 1e-7)


def _taking(account: Account) -> Callable[[float], Bath]:
    """Give the bath without a share of its alkali."""
    bath, gives = account.bath, ALKALIS[account.alkali].pure.gives
    moles = min(_free(bath, total) / count for total, count in gives)
    return lambda share: changed(bath, ((total, -count * moles * share) for total, count in gives))


def _free(bath: Bath, total: str) -> float:
    """Give the moles of a total that came with alkali; dithionite's sodium did not."""
    there: float = getattr(bath, total)
    return max(there - 2 * bath.dithionite, 0.0) if total == "sodium" else there


def _soured(bath: Bath, pH: float, t_C: float) -> Bath:
    def sour(moles: float) -> Bath:
        return evolve(bath, strong_anions=bath.strong_anions + moles)

    most = min(bath.sodium + 2 * bath.calcium + 0.1 * bath.water_kg, bath.water_kg)
    moles = falling_root(lambda moles: solve(sour(moles), t_C).pH - pH, 0.0, most, 0.0, -1.0, 1e-9)
    return sour(moles)


def _explanations(account: Account, reading: Reading, comparison: Comparison) -> list[str]:
    words = _by_temperature(account, reading, comparison)
    words += _by_instrument(reading, comparison)
    return words + (_lower(account, comparison) if comparison.measured < comparison.predicted else _higher(comparison))


def _by_temperature(account: Account, reading: Reading, comparison: Comparison) -> list[str]:
    """A sample read hot and written down as cold, or the other way round, moves the pH by 0.03 a degree."""
    if abs(account.celsius - 25) < 5:
        return []
    at_other = 25.0 if abs(comparison.celsius - account.celsius) < 5 else account.celsius
    if abs(reading.pH - predicted_pH(account, at_other)) > comparison.tolerance if reading.pH is not None else True:
        return []
    meter = " A meter's temperature correction (ATC) does not do that for you." if reading.pH_by is PHBy.METER else ""
    return [
        f"It fits the account at {at_other:.0f} °C: was the sample that warm? "
        f"The same liquor reads 0.03 lower for each degree it is warmer.{meter}"
    ]


def _by_instrument(reading: Reading, comparison: Comparison) -> list[str]:
    if reading.pH_by is PHBy.STRIP:
        return ["A strip stained blue reads wrong: look at its back, or blot a drop of clear liquor on it."]
    if comparison.measured < comparison.predicted and comparison.predicted > SODIUM_ERROR_FROM:
        return ["Above pH 12 a glass electrode reads low in lye (sodium error)."]
    return ["A meter wants a buffer of pH 10 the same day."]


def _lower(account: Account, comparison: Comparison) -> list[str]:
    words = _by_acid(account, comparison)
    if ALKALIS[account.alkali].saturates:
        words.append("Lime at the bottom has not dissolved: stir, wait, read again.")
    elif ALKALIS[account.alkali].is_carbonate:
        words.append("Soda that stood open took up water: it weighs the same and does less.")
    else:
        words.append("Lye that stood open turned to carbonate, here or in its tub: it weighs the same and does less.")
    falls_apart = _reducer_alkali(account)
    if falls_apart > 0:
        words.append(
            "Reducer that air or heat has spent uses alkali: all that was left of it, "
            f"{_as_alkali(falls_apart, account.alkali)}."
        )
    return [*words, "There is more water than was thought, or less alkali went in."]


def _by_acid(account: Account, comparison: Comparison) -> list[str]:
    """Say whether acid would explain it, where something in the vat makes acid."""
    names = " and ".join(
        kind.substance for kind in REDUCERS.values() if kind.sours and getattr(account.bath, kind.total)
    )
    if not names and not ALKALIS[account.alkali].is_carbonate:
        return []
    of = f"its {names}" if names else "what reduces in it, or lives in it"
    mmol = 1000 * -comparison.lye_g / LYE_MASS
    most = 1000 * (turned_sour(account.bath, 1.0).strong_anions - account.bath.strong_anions)
    if names and mmol > most:
        return [f"Acid has formed, but all of {of} gives about {100 * most / mmol:.0f} % of what that would take."]
    return [f"Acid has formed: {of} turns to acid."]


def _higher(compared: Comparison) -> list[str]:
    return [
        "More alkali went in than was thought: heaped spoons, or a purer powder "
        f"({_as_alkali(compared.lye_g, compared.alkali)}).",
        "There is less water than was thought, or less of the indigo was reduced.",
    ]


def _reducer_alkali(account: Account) -> float:
    """Alkali, g of lye, that the reducer still in the account would use if air spent it all [Reactions]."""
    kinds = (kind for kind in REDUCERS.values() if kind.air_spends and not kind.at_once)
    moles: float = sum(getattr(account.bath, kind.total) * kind.hydroxide for kind in kinds)
    return moles * LYE_MASS
