"""The liquor: one charge balance gives the pH of any bath; and the gases over it, and a bath open to the air.

Sodium, calcium, magnesium, ammonium, iron, carbonate, leuco-indigo, sulfite, sulfate, acetate, citrate and strong
anions share the charge with hydrogen and hydroxide ions; calcium also pairs with carbonate, citrate and acetate. The pH
is minus log10 of the hydrogen ion's activity, molal, at the temperature of the bath: what a perfect meter would show.
Lime, gypsum and ferrous hydroxide dissolve as far as they can; chalk, calcium citrate and magnesium hydroxide settle or
stay, as asked. Left out are `LEFT_OUT`.
"""

from __future__ import annotations

from functools import lru_cache
from math import exp, log, log10, sqrt

from attrs import define, evolve, field, frozen

from vatside.chemistry.bath import Bath
from vatside.chemistry.equilibria import Equilibria, carbon_dioxide_log_henry, equilibria, in_time, nothing_settles
from vatside.chemistry.errors import OutOfRange, require_within
from vatside.chemistry.roots import falling_root
from vatside.chemistry.speciation import Ion, Settled, Trial, molalities, strength_of, trial
from vatside.chemistry.substances import LIME, LeucoShares, leuco_shares, substance
from vatside.chemistry.water import LN10, ZERO_CELSIUS

LOWEST_PH, HIGHEST_PH = -1.0, 17.0
"""Where the search looks; no liquor within `MOST` lies outside."""
PH_TOLERANCE = 1e-10
STRENGTH_TOLERANCE = 1e-9
FAR_ENOUGH = 1e-7
"""Two pH nearer than this say nothing of the slope between them but rounding."""
LEAST_SLOPE = 1e-3
"""Of the logarithm of the charges' ratio with pH: any liquor's is steeper."""

MOST: dict[str, float] = {
    "sodium": 3.0,
    "calcium": 3.0,
    "magnesium": 0.5,
    "ammonia": 1.0,
    "ferrous": 1.0,
    "carbonate": 1.5,
    "sulfite": 1.5,
    "acetate": 1.5,
    "citrate": 1.0,
    "sulfate": 1.0,
    "strong_anions": 2.0,
    "leuco": 0.5,
    "dithionite": 1.0,
}
"""The strongest liquor that a studio can come to, and for which the search is tested, mol for each kg of water."""

_NAMES = tuple(MOST)
_ROUNDING = 1 + 1e-9
GYPSUM_MOLAR_MASS = 172.17
"""CaSO4(H2O)2, g/mol [CIAAW]."""
CHALK_MOLAR_MASS = 100.0869
"""CaCO3, g/mol [CIAAW]."""

IN_THE_AIR = "carbon dioxide to and from the air"
"""What only `vatside.chemistry.liquor.open_to_air` counts."""
LEFT_OUT = (
    "calcium sulfite coming down",
    "the pairs of calcium with sulfate and sulfite, and of magnesium with carbonate",
    "what the fibre itself takes of acid or alkali",
)
"""What no liquor here counts, for those who print one."""


@frozen
class Liquor:
    """What a bath comes to at one temperature."""

    pH: float  # noqa: N815  (chemistry's own symbol)
    temperature_C: float  # noqa: N815  (chemistry's own symbol)
    ionic_strength: float
    """mol/kg."""
    hydroxide: float
    """Free hydroxide ions, mol/kg."""
    leuco: LeucoShares
    undissolved_lime_g: float
    """Slaked lime at the bottom of the whole bath."""
    undissolved_gypsum_g: float
    """Gypsum at the bottom of the whole bath."""
    ions: tuple[Ion, ...]
    chalk_g: float = 0.0
    """Chalk at the bottom of the whole bath."""
    settled: Settled = field(factory=Settled)
    """All that lies at the bottom, mol/kg."""
    uncharged: dict[str, float] = field(factory=dict, eq=False)
    """Carbonic acid (`carbonate`), sulfur dioxide (`sulfite`) and ammonia, mol/kg: what can leave as a gas."""

    @property
    def charge(self) -> float:
        """All charges summed, mol/kg: zero but for rounding."""
        return sum(ion.charge * ion.molality for ion in self.ions)


def solve(bath: Bath, temperature_C: float | None = None, *, settles: bool = True, chalk: bool = False) -> Liquor:
    """Work out the liquor of a bath at its own or another temperature (0..100 degrees C).

    With `settles` off nothing comes out of solution: a clear lime water warmed a little stays clear for a while. With
    `chalk` on, chalk, calcium citrate and magnesium hydroxide have settled as far as they can; a real bath lies between
    that and without, for they are slow [Chalk].

    [IAPWS-R11] [PlummerBusenberg1982] [Goldberg2002] [HarnedEhlers1933] [BatesPinching1949] [LimeFit] [Etters]
    [PHREEQC], with activities as in `vatside.chemistry.water`. Within 0.01 of the carbonate standard
    [StaplesBates1969]; of PHREEQC within 0.02 for lye, 0.04 for soda ash up to 10 g/kg, 0.05 for lime, 0.05 for tap
    water with lye, soda or lime. Raises `OutOfRange` for a temperature outside 0..100 degrees C, or anything stronger
    than `MOST`.
    """
    return _solved(bath, bath.temperature_C if temperature_C is None else temperature_C, settles, chalk)


@lru_cache(maxsize=128)
def _solved(bath: Bath, t_C: float, settles: bool, chalk: bool) -> Liquor:
    """Work it out once for all who ask: a sheet wants the same liquor for its pH, its clear part and its course."""
    constants = (equilibria if chalk else in_time)(t_C) if settles else nothing_settles(t_C)
    amounts = molalities(bath, _NAMES)
    _require_studio(amounts)
    search = _Search(_first_pH(amounts, constants))

    tried: dict[float, Trial] = {}

    def gap(strength: float) -> float:
        attempt = tried[strength] = trial(amounts, constants, strength, t_C)
        return attempt.ionic_strength(search.balanced_pH(attempt)) - strength

    bound = 1 + 9 * sum(amounts.values())
    strength = falling_root(gap, 0.0, bound, amounts["sodium"] + 0.01, -1.0, STRENGTH_TOLERANCE)
    final = tried.get(strength) or trial(amounts, constants, strength, t_C)
    return _liquor(bath, final, search.balanced_pH(final), t_C)


def lacking(bath: Bath, pH: float, now: Liquor, *, chalk: bool = False) -> tuple[float, float]:
    """Guess the positive charge that a bath lacks at another pH, and what it grows by with pH; both mol/kg.

    Below zero at a lower pH. As if the ionic strength stayed as it is `now`: where a search for an amount begins.
    """
    t_C = now.temperature_C
    attempt = trial(molalities(bath, _NAMES), (equilibria if chalk else in_time)(t_C), now.ionic_strength, t_C)
    at_pH, above = attempt.lacking(pH), attempt.lacking(pH + A_LITTLE)
    return at_pH, max((above - at_pH) / A_LITTLE, 1e-9)


A_LITTLE = 0.01
"""pH over which a slope is taken."""


def at_25(bath: Bath, *, chalk: bool = False) -> Liquor:
    """Work out the same liquor cooled to 25 degrees C, where pH papers and tables are at home.

    A sample is taken clear, so lime from the bottom cannot dissolve as it cools. Raises as `solve`.
    """
    return solve(clear(bath, chalk=chalk), 25.0, chalk=chalk)


def clear(bath: Bath, *, chalk: bool = False) -> Bath:
    """Give the clear liquor of a bath without its lime, gypsum, iron and the like at the bottom. Raises as `solve`."""
    if not (bath.calcium or bath.ferrous or bath.magnesium):
        return evolve(bath, ferric=0.0, indigotin=0.0)
    lies = solve(bath, chalk=chalk).settled
    calcium = lies.lime + lies.gypsum + lies.chalk + 1.5 * lies.calcium_citrate

    def kept(total: float, solid: float) -> float:
        return max(total - solid * bath.water_kg, 0.0)

    return evolve(
        bath,
        calcium=kept(bath.calcium, calcium),
        sulfate=kept(bath.sulfate, lies.gypsum),
        carbonate=kept(bath.carbonate, lies.chalk),
        citrate=kept(bath.citrate, lies.calcium_citrate),
        magnesium=kept(bath.magnesium, lies.magnesium_hydroxide),
        ferrous=kept(bath.ferrous, lies.iron_hydroxide),
        ferric=0.0,
        indigotin=0.0,
    )


def _require_studio(amounts: dict[str, float]) -> None:
    for name, most in MOST.items():
        if amounts[name] > most * _ROUNDING:
            much = amounts[name]
            raise OutOfRange(
                f"{much:.{'3g' if much < 100 else '0f'}} mol of {name.replace('_', ' ')} in a kilogram of water is "
                f"stronger than any dye liquor: {most:g} mol is the most that can be worked with."
            )


def _first_pH(amounts: dict[str, float], constants: Equilibria) -> float:
    """Guess the pH from the alkali that no acid holds."""
    metals = amounts["sodium"] + min(amounts["calcium"], 0.02)
    acids = amounts["strong_anions"] + 2 * (amounts["sulfate"] + amounts["dithionite"] + amounts["sulfite"])
    free = metals - acids - amounts["leuco"] - amounts["carbonate"] - amounts["acetate"] - 3 * amounts["citrate"]
    return constants.water + log10(free) if free > 1e-6 else constants.water / 2


@define
class _Search:
    """The pH and how the balance falls there: the next ionic strength changes little of either."""

    pH: float  # noqa: N815  (chemistry's own symbol)
    slope: float = -LN10

    def balanced_pH(self, attempt: Trial) -> float:
        """Give the pH at which the charges of a trial balance."""
        looks: list[tuple[float, float]] = []

        def imbalance(pH: float) -> float:
            looks.append((pH, attempt.imbalance(pH)))
            return looks[-1][1]

        self.pH = falling_root(imbalance, LOWEST_PH, HIGHEST_PH, self.pH, self.slope, PH_TOLERANCE)
        if len(looks) > 1 and abs(looks[-1][0] - looks[-2][0]) > FAR_ENOUGH:
            self.slope = min((looks[-1][1] - looks[-2][1]) / (looks[-1][0] - looks[-2][0]), -LEAST_SLOPE)
        return self.pH


def _liquor(bath: Bath, final: Trial, pH: float, t_C: float) -> Liquor:
    lies, ions = final.settled(pH), final.ions(pH)
    return Liquor(
        pH=pH,
        temperature_C=t_C,
        ionic_strength=strength_of(ions),
        hydroxide=final.hydroxide(pH),
        leuco=leuco_shares(pH),
        undissolved_lime_g=lies.lime * bath.water_kg * substance(LIME).molar_mass,
        undissolved_gypsum_g=lies.gypsum * bath.water_kg * GYPSUM_MOLAR_MASS,
        ions=tuple(Ion(*row) for row in ions),
        chalk_g=lies.chalk * bath.water_kg * CHALK_MOLAR_MASS,
        settled=lies,
        uncharged=final.uncharged(pH, ions),
    )


SULFUR_DIOXIDE = (1.317, 2900.0)
"""Solubility of sulfur dioxide at 25 degrees C, mol/(L atm), and its change with 1/T, K [Sander2023]."""

SULFUR_DIOXIDE_DAY, SULFUR_DIOXIDE_MINUTES, SULFUR_DIOXIDE_DANGER = 2.0, 5.0, 100.0
"""Sulfur dioxide in air, ppm: over a ten-hour day, over fifteen minutes, at once dangerous [NIOSH]."""

OPEN_AIR = 10**-3.4
"""Carbon dioxide in the air, atm: 400 ppm, from memory."""

NO_PRESSURE, AIRED_TOLERANCE = 1e-30, 1e-9
"""Pressure that stands for none, atm, and how near the carbonate of an aired bath is found, mol/kg: no pH sees it."""


def _solubility(gas: tuple[float, float], t_C: float) -> float:
    """Give mol/(L atm) at a temperature [Sander2023]."""
    at_25, per_K = gas
    return at_25 * exp(per_K * (1 / (t_C + ZERO_CELSIUS) - 1 / (25 + ZERO_CELSIUS)))


def sulfur_dioxide_ppm(liquor: Liquor) -> float:
    """Give the sulfur dioxide in still, closed air over a liquor, ppm: an upper bound, no forecast [Sander2023].

    For 0..100 degrees C, of which the solubility is meant for 0..50; +-15 %, as published values differ.
    """
    return 1e6 * liquor.uncharged.get("sulfite", 0.0) / _solubility(SULFUR_DIOXIDE, liquor.temperature_C)


def carbon_dioxide_pressure(liquor: Liquor) -> float:
    """Give the carbon dioxide with which a liquor is in balance, atm, at 0..90 degrees C [PlummerBusenberg1982]."""
    henry = exp(LN10 * carbon_dioxide_log_henry(liquor.temperature_C))
    return liquor.uncharged.get("carbonate", 0.0) / henry


def open_to_air(bath: Bath, pressure_atm: float = OPEN_AIR, *, chalk: bool = False) -> Bath:
    """Give a bath that has given off or taken up carbon dioxide until it is in balance with the air.

    What it comes to after a day or more in a wide tub, at its own temperature; every lye turns into carbonate then.
    pressure_atm in 1e-5..1. Within 0.02 of PHREEQC for spent soda vats. Raises `OutOfRange` outside, or when more
    carbonate would be in it than `vatside.chemistry.liquor.MOST`. [PlummerBusenberg1982]
    """
    require_within("pressure of carbon dioxide", pressure_atm, 1e-5, 1, "atm")
    scale = bath.water_kg

    def short(carbonate: float) -> float:
        liquor = solve(evolve(bath, carbonate=carbonate * scale), chalk=chalk)
        return log(pressure_atm / max(carbon_dioxide_pressure(liquor), NO_PRESSURE))

    most, (guess, slope) = MOST["carbonate"], _first_carbonate(bath, pressure_atm, chalk=chalk)
    balanced = falling_root(short, 0.0, most, guess, slope, AIRED_TOLERANCE)
    if balanced >= most * (1 - 1e-6):
        raise OutOfRange("This bath holds more alkali than can be worked with once the air has turned it to carbonate.")
    return evolve(bath, carbonate=balanced * scale)


def _first_carbonate(bath: Bath, pressure_atm: float, *, chalk: bool) -> tuple[float, float]:
    """Guess the carbonate in balance with a pressure, mol/kg, and how the logarithm of the air's share falls with it.

    By what alkali no other acid holds, all of it bicarbonate and carbonate: of those the square of the one over the
    other is as carbonic acid.
    """
    t_C, amounts = bath.temperature_C, molalities(bath, _NAMES)
    acids = amounts["strong_anions"] + 2 * amounts["sulfate"] + amounts["acetate"]
    alkali = max(amounts["sodium"] + 2 * amounts["calcium"] - acids, 1e-5)
    held = trial(
        {**amounts, "carbonate": alkali}, (equilibria if chalk else in_time)(t_C), amounts["sodium"] + 0.01, t_C
    )
    first, second = next(constants for name, _, constants in held.acids if name == "carbonate")
    acid = pressure_atm * exp(LN10 * carbon_dioxide_log_henry(t_C))
    square = first / second * acid
    both = 4 * alkali + square
    carbonate = 2 * alkali**2 / (both + sqrt(both**2 - 16 * alkali**2))
    return acid + alkali - carbonate, -1 / (acid + 1 / (4 / (alkali - 2 * carbonate) + 1 / carbonate))
