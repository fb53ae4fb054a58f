"""The liquor: one charge balance gives the pH of any bath.

Sodium, calcium, iron, carbonate, leuco-indigo, sulfite, acetate, citrate, sulfate and other strong anions share the
charge with hydrogen and hydroxide ions. The pH is minus log10 of the hydrogen ion's activity, molal, at the
temperature of the bath: what a perfect meter would show. Lime, gypsum and ferrous hydroxide dissolve as far as they
can. Not modelled: carbon dioxide out of the air, and the settling of calcium carbonate, sulfite and citrate.
"""

from __future__ import annotations

from math import log10

from attrs import evolve, frozen

from vatside.chemistry.activity import LN10
from vatside.chemistry.bath import Bath
from vatside.chemistry.equilibria import Equilibria, equilibria, nothing_settles
from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.indigo import LeucoShares, leuco_shares
from vatside.chemistry.roots import falling_root
from vatside.chemistry.speciation import Ion, Trial, molalities, trial
from vatside.chemistry.substances import substance

LOWEST_PH, HIGHEST_PH = -1.0, 17.0
"""Where the search looks; no liquor within `MOST` lies outside."""
PH_TOLERANCE = 1e-10
STRENGTH_TOLERANCE = 1e-9

MOST: dict[str, float] = {
    "sodium": 3.0,
    "calcium": 3.0,
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

    @property
    def charge(self) -> float:
        """All charges summed, mol/kg: zero but for rounding."""
        return sum(ion.charge * ion.molality for ion in self.ions)


def solve(bath: Bath, temperature_C: float | None = None, *, settles: bool = True) -> Liquor:
    """Work out the liquor of a bath at its own or another temperature (0..100 degrees C).

    With `settles` off nothing comes out of solution: a clear lime water warmed a little stays clear for a while.

    [IAPWS-R11] [PlummerBusenberg1982] [Goldberg2002] [HarnedEhlers1933] [BatesPinching1949] [LimeFit] [Etters], with
    activities as in `vatside.chemistry.activity`. Within 0.01 of the carbonate standard [StaplesBates1969]; within 0.01
    of other models for lye, 0.04 for soda ash and 0.05 for lime. Raises `OutOfRange` for a temperature outside
    0..100 degrees C, or anything stronger than `MOST`.
    """
    t_C = bath.temperature_C if temperature_C is None else temperature_C
    constants = equilibria(t_C) if settles else nothing_settles(equilibria(t_C))
    amounts = molalities(bath, _NAMES)
    _require_studio(amounts)
    pH = _first_pH(amounts, constants)

    def gap(strength: float) -> float:
        nonlocal pH
        attempt = trial(amounts, constants, strength, t_C)
        pH = _balanced_pH(attempt, pH)
        return attempt.ionic_strength(pH) - strength

    bound = 1 + 9 * sum(amounts.values())
    strength = falling_root(gap, 0.0, bound, amounts["sodium"] + 0.01, -1.0, STRENGTH_TOLERANCE)
    final = trial(amounts, constants, strength, t_C)
    return _liquor(bath, final, _balanced_pH(final, pH), t_C)


def at_25(bath: Bath) -> Liquor:
    """Work out the same liquor cooled to 25 degrees C, where pH papers and tables are at home.

    A sample is taken clear, so lime from the bottom cannot dissolve as it cools. Raises as `solve`.
    """
    return solve(clear(bath), 25.0)


def clear(bath: Bath) -> Bath:
    """Give the clear liquor of a bath without its lime, gypsum and iron at the bottom. Raises as `solve`."""
    if not (bath.calcium or bath.ferrous):
        return evolve(bath, ferric=0.0, indigotin=0.0)
    kept = {ion.name: ion.molality * bath.water_kg for ion in solve(bath).ions}
    return evolve(
        bath,
        calcium=kept["calcium"] + kept["calcium hydroxide 1+"] if bath.calcium else 0.0,
        sulfate=kept["sulfate"],
        ferrous=kept["ferrous"],
        ferric=0.0,
        indigotin=0.0,
    )


def _require_studio(amounts: dict[str, float]) -> None:
    for name, most in MOST.items():
        if amounts[name] > most * _ROUNDING:
            raise OutOfRange(
                f"{amounts[name]:.3g} mol of {name.replace('_', ' ')} in a kilogram of water is stronger than any "
                f"dye liquor: {most:g} mol is the most that can be worked with."
            )


def _first_pH(amounts: dict[str, float], constants: Equilibria) -> float:
    """Guess the pH from the alkali that no acid holds."""
    metals = amounts["sodium"] + min(amounts["calcium"], 0.02)
    acids = amounts["strong_anions"] + 2 * (amounts["sulfate"] + amounts["dithionite"] + amounts["sulfite"])
    free = metals - acids - amounts["leuco"] - amounts["carbonate"] - amounts["acetate"] - 3 * amounts["citrate"]
    return constants.water + log10(free) if free > 1e-6 else constants.water / 2


def _balanced_pH(attempt: Trial, guess: float) -> float:
    return falling_root(attempt.imbalance, LOWEST_PH, HIGHEST_PH, guess, -LN10, PH_TOLERANCE)


def _liquor(bath: Bath, final: Trial, pH: float, t_C: float) -> Liquor:
    solids = final.dissolved(pH)
    return Liquor(
        pH=pH,
        temperature_C=t_C,
        ionic_strength=final.ionic_strength(pH),
        hydroxide=final.hydroxide(pH),
        leuco=leuco_shares(pH),
        undissolved_lime_g=solids.lime * bath.water_kg * substance("calcium hydroxide").molar_mass,
        undissolved_gypsum_g=solids.gypsum * bath.water_kg * GYPSUM_MOLAR_MASS,
        ions=tuple(Ion(*row) for row in final.ions(pH)),
    )
