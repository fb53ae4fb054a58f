"""Which ions a mixture holds at a trial pH and ionic strength."""

from __future__ import annotations

import math
from typing import NamedTuple

from attrs import field, frozen

from vatside.chemistry.activity import log_gamma, log_water_activity
from vatside.chemistry.bath import Bath
from vatside.chemistry.equilibria import Equilibria, Pair
from vatside.chemistry.solids import Ligand, Shared, share

ACIDS: dict[str, tuple[str, ...]] = {
    "carbonate": ("bicarbonate", "carbonate"),
    "sulfite": ("bisulfite", "sulfite"),
    "sulfate": ("bisulfate", "sulfate"),
    "acetate": ("acetate",),
    "citrate": ("citrate 1-", "citrate 2-", "citrate 3-"),
    "leuco": ("leuco-indigo 1-", "leuco-indigo 2-"),
}
"""Totals of a bath that give off hydrogen ions step by step from an uncharged form, and the ions they become."""

APPARENT = ("leuco",)
"""Acids whose constants hold for the liquor as it is, without activity coefficients: see `leuco_shares`."""

WITH_CALCIUM = ("carbonate", "sulfate", "citrate", "acetate")
"""Acids whose last ion pairs with calcium or settles with it."""

VOLATILE = ("carbonate", "sulfite")
"""Acids whose uncharged form is a gas in water."""

TRACE = 1e-20
"""Calcium and magnesium below it, mol/kg, count as none."""

_Row = tuple[str, int, float]
_Steps = list[float]


class Ion(NamedTuple):
    """One ion in the liquor."""

    name: str
    charge: int
    molality: float
    """mol/kg of water."""


class Settled(NamedTuple):
    """What lies at the bottom, mol/kg of water."""

    lime: float = 0.0
    gypsum: float = 0.0
    chalk: float = 0.0
    calcium_citrate: float = 0.0
    """Moles of citrate in it."""
    magnesium_hydroxide: float = 0.0
    iron_hydroxide: float = 0.0


@frozen
class Trial:
    """A mixture at one ionic strength; the pH is still open."""

    amounts: dict[str, float]
    """Totals of a bath by name, mol/kg."""
    constants: Equilibria
    log_gamma: float
    log_water: float
    acids: tuple[tuple[str, float, tuple[float, ...]], ...]
    """Name, total and constants at this ionic strength, of the acids there are."""
    _last: list[float] = field(factory=lambda: [0.0], eq=False, repr=False)
    """The free calcium last found: the next search begins there."""

    def hydrogen(self, pH: float) -> float:
        """Give the hydrogen ions, mol/kg."""
        return _power(-pH - self.log_gamma)

    def hydroxide(self, pH: float) -> float:
        """Give the hydroxide ions, mol/kg."""
        return _power(self._log_alkalinity(pH) - self.log_gamma)

    def _log_alkalinity(self, pH: float) -> float:
        """Log10 of the activity of hydroxide."""
        return pH - self.constants.water + self.log_water

    def _hydroxide_held(self, pK: float, pH: float) -> float:
        """Give MOH+ for each free M2+."""
        return _power(self._log_alkalinity(pH) - pK + 3 * self.log_gamma)

    def _hydroxide_limit(self, pK: float, pH: float) -> float:
        """Give the free M2+ that solid M(OH)2 leaves in the water, mol/kg."""
        return _power(-pK - 4 * self.log_gamma - 2 * self._log_alkalinity(pH))

    def iron(self, pH: float) -> float:
        """Give the ferrous ions that ferrous hydroxide leaves in the water, mol/kg."""
        return min(self.amounts["ferrous"], self._hydroxide_limit(self.constants.iron_hydroxide, pH))

    def _magnesium(self, pH: float) -> float:
        """Give the free magnesium ions, mol/kg."""
        held = 1 + self._hydroxide_held(self.constants.magnesium_hydroxide_ion, pH)
        return min(self.amounts["magnesium"] / held, self._hydroxide_limit(self.constants.brucite, pH))

    def ions(self, pH: float) -> list[_Row]:
        """List every ion, mol/kg, as the fields of an `Ion`: plain tuples, for a search asks dozens of times."""
        ions = [
            ("sodium", 1, self.amounts["sodium"]),
            ("hydrogen", 1, self.hydrogen(pH)),
            ("hydroxide", -1, self.hydroxide(pH)),
            ("strong anions", -1, self.amounts["strong_anions"]),
            ("dithionite", -2, self.amounts["dithionite"]),
        ]
        if self.amounts["ferrous"]:
            ions.append(("ferrous", 2, self.iron(pH)))
        if self.amounts["ammonia"]:
            ions.append(("ammonium", 1, self._ammonium(pH)))
        if self.amounts["magnesium"] > TRACE:
            ions += self._magnesium_ions(pH)
        stepped = self._stepped(pH)
        if self.amounts["calcium"] > TRACE:
            return ions + self._with_calcium(stepped, pH)
        for name, total, steps in stepped:
            ions += _acid_ions(name, steps, total / sum(steps))
        return ions

    def _ammonium(self, pH: float) -> float:
        return self.amounts["ammonia"] / (1 + _power(pH - self.constants.ammonium + self.log_gamma))

    def _magnesium_ions(self, pH: float) -> list[_Row]:
        free = self._magnesium(pH)
        held = free * self._hydroxide_held(self.constants.magnesium_hydroxide_ion, pH)
        return [("magnesium", 2, free), ("magnesium hydroxide 1+", 1, held)]

    def _stepped(self, pH: float) -> list[tuple[str, float, _Steps]]:
        """Give each acid's forms for one of its uncharged form."""
        found = []
        for name, total, constants in self.acids:
            steps = [1.0]
            for pK in constants:
                steps.append(steps[-1] * _power(pH - pK))
            found.append((name, total, steps))
        return found

    def _with_calcium(self, stepped: list[tuple[str, float, _Steps]], pH: float) -> list[_Row]:
        free, held, ligands = self._shared(stepped, pH)
        calcium = free.calcium
        ions: list[_Row] = [
            ("calcium", 2, calcium),
            ("calcium hydroxide 1+", 1, calcium * (held - 1)),
        ]
        for name, total, steps in stepped:
            one = ligands.get(name)
            if one is None:
                ions += _acid_ions(name, steps, total / sum(steps))
                continue
            anion = one.free(calcium)
            ions += _acid_ions(name, steps, anion / steps[-1])
            if one.pairs:
                ions += ((pair.name, pair.charge, calcium * anion * self._pair(pair, name, pH))
                         for pair in self.constants.pairs[name])  # fmt: skip
        return ions

    def _shared(self, stepped: list[tuple[str, float, _Steps]], pH: float) -> tuple[Shared, float, dict[str, Ligand]]:
        """Share calcium out; give also dissolved calcium for each free ion, and the anions that hold it."""
        held = 1 + self._hydroxide_held(self.constants.calcium_hydroxide_ion, pH)
        limit = self._hydroxide_limit(self.constants.lime, pH)
        ligands = {name: self._ligand(name, total, steps, pH) for name, total, steps in stepped if name in WITH_CALCIUM}
        found = share(self.amounts["calcium"], held, tuple(ligands.values()), limit, self._last[0])
        self._last[0] = found.calcium
        return found, held, ligands

    def _ligand(self, name: str, total: float, steps: _Steps, pH: float) -> Ligand:
        spread = sum(steps) / steps[-1]
        pairs = sum(self._pair(pair, name, pH) for pair in self.constants.pairs.get(name, ()))
        if name == "acetate":
            return Ligand(total, spread, pairs)
        if name == "citrate":  # three calcium to two citrate: the square root of the product, for each citrate
            product = _power(-self.constants.calcium_citrate / 2 - (3 * 4 + 2 * 9) / 2 * self.log_gamma)
            return Ligand(total, spread, pairs, product, 1.5)
        pK = self.constants.calcite if name == "carbonate" else self.constants.gypsum
        return Ligand(total, spread, pairs, _power(-pK - 8 * self.log_gamma))

    def _pair(self, pair: Pair, name: str, pH: float) -> float:
        """Give a pair's constant between molalities: of free calcium and the free anion."""
        anion = len(ACIDS[name])
        return _power(pair.log_K - pair.hydrogens * pH + (4 + anion**2 - pair.charge**2) * self.log_gamma)

    def settled(self, pH: float) -> Settled:
        """Give what lies at the bottom."""
        magnesium = self._magnesium(pH) * (1 + self._hydroxide_held(self.constants.magnesium_hydroxide_ion, pH))
        brucite = max(self.amounts["magnesium"] - magnesium, 0.0)
        rust = self.amounts["ferrous"] - self.iron(pH)
        if self.amounts["calcium"] <= TRACE:
            return Settled(magnesium_hydroxide=brucite, iron_hydroxide=rust)
        free, _, ligands = self._shared(self._stepped(pH), pH)
        gypsum, chalk, citrate = (
            ligands[name].solid(free.calcium) if name in ligands else 0.0
            for name in ("sulfate", "carbonate", "citrate")
        )
        return Settled(free.lime, gypsum, chalk, citrate, brucite, rust)

    def uncharged(self, pH: float) -> dict[str, float]:
        """Give what could leave as a gas, mol/kg: the uncharged forms of carbonic and sulfurous acid, and ammonia."""
        charged = {name: molality for name, _, molality in self.ions(pH)}
        found = {
            name: charged[ACIDS[name][0]] * _power(constants[0] - pH)
            for name, _, constants in self.acids
            if name in VOLATILE
        }
        return found | {"ammonia": self.amounts["ammonia"] - charged.get("ammonium", 0.0)}

    def imbalance(self, pH: float) -> float:
        """Give ln(positive charges / negative charges): falls all the way as the pH rises, nearly straight."""
        positive = negative = 0.0
        for _, charge, molality in self.ions(pH):
            if charge > 0:
                positive += charge * molality
            else:
                negative -= charge * molality
        return math.log(positive / negative)

    def ionic_strength(self, pH: float) -> float:
        """Give half the sum of z^2 m, mol/kg."""
        return sum(charge * charge * molality for _, charge, molality in self.ions(pH)) / 2


def _acid_ions(name: str, steps: _Steps, unit: float) -> list[_Row]:
    return [(ion, -count, unit * steps[count]) for count, ion in enumerate(ACIDS[name], start=1)]


def trial(amounts: dict[str, float], constants: Equilibria, ionic_strength: float, t_C: float) -> Trial:
    """Make a mixture ready for the search at a trial ionic strength (mol/kg)."""
    gamma = log_gamma(ionic_strength, t_C)
    acids = tuple(
        (name, amounts[name], _at_strength(name, getattr(constants, name), gamma))
        for name in ACIDS
        if amounts[name] > 0
    )
    return Trial(amounts, constants, gamma, log_water_activity(ionic_strength), acids)


def _at_strength(name: str, constants: tuple[float, ...], gamma: float) -> tuple[float, ...]:
    """Turn thermodynamic constants into those between molalities; an ion of charge z has z^2 of log gamma."""
    if name in APPARENT:
        return constants
    return tuple(pK + (2 * step - 1) * gamma for step, pK in enumerate(constants, start=1))


def molalities(bath: Bath, names: tuple[str, ...]) -> dict[str, float]:
    """Give totals of a bath in mol for each kg of water."""
    return {name: getattr(bath, name) / bath.water_kg for name in names}


def _power(exponent: float) -> float:
    return math.pow(10.0, exponent)
