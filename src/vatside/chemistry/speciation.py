"""Which ions a mixture holds at a trial pH and ionic strength."""

from __future__ import annotations

import math
from typing import NamedTuple

from attrs import frozen

from vatside.chemistry.activity import log_gamma, log_water_activity
from vatside.chemistry.bath import Bath
from vatside.chemistry.equilibria import Equilibria
from vatside.chemistry.solids import Dissolved, dissolve

ACIDS: dict[str, tuple[str, ...]] = {
    "carbonate": ("bicarbonate", "carbonate"),
    "sulfite": ("bisulfite", "sulfite"),
    "acetate": ("acetate",),
    "citrate": ("citrate 1-", "citrate 2-", "citrate 3-"),
    "leuco": ("leuco-indigo 1-", "leuco-indigo 2-"),
}
"""Totals of a bath that give off hydrogen ions step by step from an uncharged form, and the ions they become."""

APPARENT = ("leuco",)
"""Acids whose constants hold for the liquor as it is, without activity coefficients: see `leuco_shares`."""


_Row = tuple[str, int, float]


class Ion(NamedTuple):
    """One ion in the liquor."""

    name: str
    charge: int
    molality: float
    """mol/kg of water."""


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

    def hydrogen(self, pH: float) -> float:
        """Give the hydrogen ions, mol/kg."""
        return _power(-pH - self.log_gamma)

    def hydroxide(self, pH: float) -> float:
        """Give the hydroxide ions, mol/kg."""
        return _power(self._log_alkalinity(pH) - self.log_gamma)

    def _log_alkalinity(self, pH: float) -> float:
        """Log10 of the activity of hydroxide."""
        return pH - self.constants.water + self.log_water

    def held(self, pH: float) -> float:
        """Give CaOH+ for each free Ca2+."""
        pK = self.constants.calcium_hydroxide_ion
        return _power(self._log_alkalinity(pH) - pK + 3 * self.log_gamma)

    def dissolved(self, pH: float) -> Dissolved:
        """Give what lime and gypsum leave in the water."""
        double = 4 * self.log_gamma
        return dissolve(
            self.amounts["calcium"],
            self.amounts["sulfate"],
            1 + self.held(pH),
            _power(-self.constants.lime - double - 2 * self._log_alkalinity(pH)),
            _power(-self.constants.gypsum - 2 * double),
        )

    def iron(self, pH: float) -> float:
        """Give the ferrous ions that ferrous hydroxide leaves in the water, mol/kg."""
        limit = _power(-self.constants.iron_hydroxide - 4 * self.log_gamma - 2 * self._log_alkalinity(pH))
        return min(self.amounts["ferrous"], limit)

    def ions(self, pH: float) -> list[_Row]:
        """List every ion, mol/kg, as the fields of an `Ion`: plain tuples, for a search asks dozens of times."""
        ions = [
            ("sodium", 1, self.amounts["sodium"]),
            ("hydrogen", 1, self.hydrogen(pH)),
            ("hydroxide", -1, self.hydroxide(pH)),
            ("strong anions", -1, self.amounts["strong_anions"]),
            ("dithionite", -2, self.amounts["dithionite"]),
            ("ferrous", 2, self.iron(pH)),
        ]
        return ions + self._calcium_and_sulfate(pH) + self._acid_ions(pH)

    def _calcium_and_sulfate(self, pH: float) -> list[_Row]:
        if not self.amounts["calcium"]:
            return [("sulfate", -2, self.amounts["sulfate"])]
        calcium, sulfate, _, _ = self.dissolved(pH)
        return [
            ("calcium", 2, calcium),
            ("calcium hydroxide 1+", 1, calcium * self.held(pH)),
            ("sulfate", -2, sulfate),
        ]

    def _acid_ions(self, pH: float) -> list[_Row]:
        ions: list[_Row] = []
        for name, total, constants in self.acids:
            steps = [1.0]
            for pK in constants:
                steps.append(steps[-1] * _power(pH - pK))
            unit = total / sum(steps)
            for count, ion in enumerate(ACIDS[name], start=1):
                ions.append((ion, -count, unit * steps[count]))
        return ions

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
