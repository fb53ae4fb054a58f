"""When the pH read and the pH worked out disagree: what could explain it, and letting the reading be the true one."""

from __future__ import annotations

from collections.abc import Callable

from attrs import evolve, frozen

from vatside.chemistry.adjust import alkali_for_pH
from vatside.chemistry.alkalis import ALKALIS, LYE
from vatside.chemistry.bath import Bath, changed
from vatside.chemistry.errors import CannotReach
from vatside.chemistry.indigo import REDUCERS
from vatside.chemistry.liquor import at_25, solve
from vatside.chemistry.roots import falling_root
from vatside.chemistry.substances import substance
from vatside.units import show_mass
from vatside.vat.account import Account, lye_grams
from vatside.vat.reading import PH_ERROR, PHBy, Reading

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

    @property
    def agrees(self) -> bool:
        """Tell whether the two lie within what reading and reckoning allow."""
        return abs(self.measured - self.predicted) <= self.tolerance

    @property
    def text(self) -> str:
        """Both numbers at one temperature, in a sentence."""
        told = f"Read pH {self.measured:.1f}, worked out {self.predicted:.1f}, both at {self.celsius:.0f} °C: "
        if self.agrees:
            return told + f"they agree within ±{self.tolerance:.1f}."
        word = "more" if self.lye_g > 0 else "less"
        return told + f"as if {show_mass(abs(self.lye_g))} {word} lye were in the {self.place}."


def compare(account: Account, reading: Reading, place: str = "vat") -> Comparison | None:
    """Hold a reading's pH against the account, at the temperature of its sample; None for a reading without pH.

    Raises `OutOfRange` for a liquor that the chemistry does not know.
    """
    if reading.pH is None:
        return None
    t_C = reading.sample_celsius if reading.sample_celsius is not None else account.celsius
    predicted = predicted_pH(account, t_C)
    tolerance = PH_ERROR[reading.pH_by] + MODEL_ERROR
    lye = trust(account, reading.pH, t_C).trusted_g - account.trusted_g
    raw = Comparison(reading.pH, predicted, t_C, reading.pH_by, tolerance, lye, (), place)
    return raw if raw.agrees else evolve(raw, explanations=tuple(_explanations(account, reading, raw)))


def predicted_pH(account: Account, t_C: float) -> float:
    """Give the pH of a sample of the vat at a temperature (degrees C); a cooled sample is clear, without its lime."""
    if abs(t_C - 25) < 0.5 and account.celsius > 25:
        return at_25(account.bath).pH
    return solve(account.bath, t_C).pH


def trust(account: Account, pH: float, t_C: float) -> Account:
    """Give the account with its alkali set so that its pH at t_C is the one that was read.

    More is put in as lye; less is taken out of the alkali that went in. Where not even that reaches the pH read, the
    account goes as far as it can. Raises `OutOfRange` as `vatside.chemistry.liquor.solve`.
    """
    if solve(account.bath, t_C).pH <= pH:
        return lye_grams(account, _more(account.bath, pH, t_C))
    bath = _less(account, pH, t_C)
    taken = _equivalents(account.bath) - _equivalents(bath)
    return evolve(account, bath=bath, trusted_g=account.trusted_g - taken * LYE_MASS)


def _more(bath: Bath, pH: float, t_C: float) -> float:
    try:
        return alkali_for_pH(bath, pH, LYE, t_C)
    except CannotReach:
        return 0.0


def _equivalents(bath: Bath) -> float:
    """Alkali by charge, mol; a carbonate gives one hydroxide."""
    return bath.sodium + 2 * bath.calcium - bath.carbonate


def _less(account: Account, pH: float, t_C: float) -> Bath:
    """Take alkali out until the pH is the one read; then, if need be, count acid in from the air."""
    taken = _taking(account)
    if solve(taken(1.0), t_C).pH >= pH:
        return _soured(taken(1.0), pH, t_C)
    share = falling_root(lambda part: solve(taken(part), t_C).pH - pH, 0.0, 1.0, 0.1, -3.0, 1e-7)
    return taken(share)


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


def _explanations(account: Account, reading: Reading, found: Comparison) -> list[str]:
    words = _by_temperature(account, reading, found)
    words += _by_instrument(reading, found)
    return words + (_lower(account) if found.measured < found.predicted else _higher(found))


def _by_temperature(account: Account, reading: Reading, found: Comparison) -> list[str]:
    """A sample read hot and written down as cold, or the other way round, moves the pH by 0.03 a degree."""
    if abs(account.celsius - 25) < 5:
        return []
    at_other = 25.0 if abs(found.celsius - account.celsius) < 5 else account.celsius
    if abs(reading.pH - predicted_pH(account, at_other)) > found.tolerance if reading.pH is not None else True:
        return []
    meter = " A meter's temperature correction (ATC) does not do that for you." if reading.pH_by is PHBy.METER else ""
    return [
        f"It fits the account at {at_other:.0f} °C: was the sample that warm? "
        f"The same liquor reads 0.03 lower for each degree it is warmer.{meter}"
    ]


def _by_instrument(reading: Reading, found: Comparison) -> list[str]:
    if reading.pH_by is PHBy.STRIP:
        return ["A strip stained blue reads wrong: look at its back, or blot a drop of clear liquor on it."]
    if found.measured < found.predicted and found.predicted > SODIUM_ERROR_FROM:
        return ["Above pH 12 a glass electrode reads low in lye (sodium error)."]
    return ["A meter wants a buffer of pH 10 the same day."]


def _lower(account: Account) -> list[str]:
    words = []
    if ALKALIS[account.alkali].saturates:
        words.append("Lime at the bottom has not dissolved: stir, wait, read again.")
    else:
        words.append("Lye that stood open turned to carbonate, here or in its tub: it weighs the same and does less.")
    falls_apart = _reducer_alkali(account)
    if falls_apart > 0:
        words.append(
            f"Reducer that air or heat has spent uses alkali: all that was left of it, {show_mass(falls_apart)} as lye."
        )
    return [*words, "There is more water than was thought, or less alkali went in."]


def _higher(found: Comparison) -> list[str]:
    return [
        f"More alkali went in than was thought: heaped spoons, or a purer powder ({show_mass(found.lye_g)} as lye).",
        "There is less water than was thought, or less of the indigo was reduced.",
    ]


def _reducer_alkali(account: Account) -> float:
    """Alkali, g of lye, that the reducer still in the account would use if air spent it all [Reactions]."""
    kinds = (kind for kind in REDUCERS.values() if kind.air_spends and not kind.at_once)
    moles: float = sum(getattr(account.bath, kind.total) * kind.hydroxide for kind in kinds)
    return moles * LYE_MASS
