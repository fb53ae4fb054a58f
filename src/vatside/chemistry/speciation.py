"""Which ions a mixture holds at a trial pH and ionic strength."""

from __future__ import annotations

import math
from typing import NamedTuple

from attrs import frozen

from vatside.chemistry.bath import Bath
from vatside.chemistry.equilibria import Equilibria, Ligand, Shared, share
from vatside.chemistry.water import log_gamma, log_water_activity

ACIDS: dict[str, tuple[str, ...]] = {
    "carbonate": ("bicarbonate", "carbonate"),
    "sulfite": ("bisulfite", "sulfite"),
    "sulfate": ("bisulfate", "sulfate"),
    "acetate": ("acetate",),
    "citrate": ("citrate 1-", "citrate 2-", "citrate 3-"),
    "leuco": ("leuco-indigo 1-", "leuco-indigo 2-"),
}
"""Totals of a bath that give off hydrogen ions step by step from an uncharged form, and the ions they become."""

_COUNTED = {name: tuple((ion, count) for count, ion in enumerate(ions, start=1)) for name, ions in ACIDS.items()}

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


class _Metals(NamedTuple):
    """Constants of the metals and of ammonia at one ionic strength."""

    any: bool
    """Whether there is iron, magnesium or ammonia."""
    calcium_hydroxide_ion: float
    magnesium_hydroxide_ion: float
    ammonium: float
    lime: float
    brucite: float
    iron_hydroxide: float


_NO_METALS = _Metals(False, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
_Anion = tuple[tuple[tuple[str, int, int, float], ...], float, float]


@frozen
class Trial:
    """A mixture at one ionic strength; the pH is still open. Constants are plain factors here, not logarithms."""

    amounts: dict[str, float]
    """Totals of a bath by name, mol/kg."""
    gamma: float
    """Activity coefficient of a singly charged ion."""
    alkalinity: float
    """Activity of hydroxide times that of hydrogen."""
    acids: tuple[tuple[str, float, tuple[float, ...]], ...]
    """Name, total and constants at this ionic strength, of the acids there are."""
    metals: _Metals
    anions: dict[str, _Anion]
    """Of those that calcium meets: the pairs (name, charge, hydrogens, constant), the solid's product and its ratio."""
    _last: list[float]
    """The free calcium last found: the next search begins there."""

    def hydroxide(self, pH: float) -> float:
        """Give the hydroxide ions, mol/kg."""
        return _power(pH) * self.alkalinity / self.gamma

    def ions(self, pH: float) -> list[_Row]:
        """List every ion, mol/kg, as the fields of an `Ion`: plain tuples, for a search asks dozens of times."""
        amounts, acidity = self.amounts, _power(pH)
        ions = [
            ("sodium", 1, amounts["sodium"]),
            ("hydrogen", 1, 1 / (acidity * self.gamma)),
            ("hydroxide", -1, acidity * self.alkalinity / self.gamma),
            ("strong anions", -1, amounts["strong_anions"]),
            ("dithionite", -2, amounts["dithionite"]),
        ]
        if self.metals.any:
            ions += self._metal_ions(acidity)
        if amounts["calcium"] > TRACE:
            return ions + self._with_calcium(acidity)
        for name, total, constants in self.acids:
            ions += _acid_ions(name, total, _steps(constants, acidity))
        return ions

    def _metal_ions(self, acidity: float) -> list[_Row]:
        """Iron, ammonium and magnesium."""
        alkaline, metals = acidity * self.alkalinity, self.metals
        free = self._magnesium(alkaline)
        return [
            ("ferrous", 2, min(self.amounts["ferrous"], metals.iron_hydroxide / alkaline**2)),
            ("ammonium", 1, self.amounts["ammonia"] / (1 + acidity * metals.ammonium)),
            ("magnesium", 2, free),
            ("magnesium hydroxide 1+", 1, free * metals.magnesium_hydroxide_ion * alkaline),
        ]

    def _magnesium(self, alkaline: float) -> float:
        """Give the free magnesium ions, mol/kg."""
        held = 1 + self.metals.magnesium_hydroxide_ion * alkaline
        return min(self.amounts["magnesium"] / held, self.metals.brucite / alkaline**2)

    def _with_calcium(self, acidity: float) -> list[_Row]:
        stepped = self._stepped(acidity)
        (calcium, _), held, ligands = self._shared(stepped, acidity)
        ions: list[_Row] = [("calcium", 2, calcium), ("calcium hydroxide 1+", 1, calcium * (held - 1))]
        for name, total, steps in stepped:
            ligand = ligands.get(name)
            if ligand is None:
                ions += _acid_ions(name, total, steps)
                continue
            anion = ligand.free(calcium)
            ions += _acid_ions(name, anion * sum(steps) / steps[-1], steps)
            ions += self._pairs(name, calcium * anion, acidity)
        return ions

    def _stepped(self, acidity: float) -> list[tuple[str, float, _Steps]]:
        return [(name, total, _steps(constants, acidity)) for name, total, constants in self.acids]

    def _shared(
        self, stepped: list[tuple[str, float, _Steps]], acidity: float
    ) -> tuple[Shared, float, dict[str, Ligand]]:
        """Share calcium out; give also dissolved calcium for each free ion, and the anions that hold it."""
        alkaline = acidity * self.alkalinity
        held = 1 + self.metals.calcium_hydroxide_ion * alkaline
        ligands = {
            name: self._ligand(name, total, steps, acidity) for name, total, steps in stepped if name in self.anions
        }
        limit = self.metals.lime / alkaline**2
        shared = share(self.amounts["calcium"], held, tuple(ligands.values()), limit, self._last[0])
        self._last[0] = shared.calcium
        return shared, held, ligands

    def _ligand(self, name: str, total: float, steps: _Steps, acidity: float) -> Ligand:
        pairs, product, ratio = self.anions[name]
        held = 0.0
        for _, _, taken, constant in pairs:
            held += constant / acidity**taken
        return Ligand(total, sum(steps) / steps[-1], held, product, ratio)

    def settled(self, pH: float) -> Settled:
        """Give what lies at the bottom."""
        acidity = _power(pH)
        brucite = iron = 0.0
        if self.metals.any:
            held = {name: molality for name, _, molality in self._metal_ions(acidity)}
            iron = self.amounts["ferrous"] - held["ferrous"]
            brucite = max(self.amounts["magnesium"] - held["magnesium"] - held["magnesium hydroxide 1+"], 0.0)
        if self.amounts["calcium"] <= TRACE:
            return Settled(magnesium_hydroxide=brucite, iron_hydroxide=iron)
        (calcium, lime), _, ligands = self._shared(self._stepped(acidity), acidity)
        gypsum, chalk, citrate = (
            ligands[name].solid(calcium) if name in ligands else 0.0 for name in ("sulfate", "carbonate", "citrate")
        )
        return Settled(lime, gypsum, chalk, citrate, brucite, iron)

    def uncharged(self, pH: float, ions: list[_Row]) -> dict[str, float]:
        """Give what could leave as a gas, mol/kg: the uncharged forms of carbonic and sulfurous acid, and ammonia."""
        charged = {name: molality for name, _, molality in ions}
        gases = {
            name: charged[ACIDS[name][0]] / (constants[0] * _power(pH))
            for name, _, constants in self.acids
            if name in VOLATILE
        }
        return gases | {"ammonia": self.amounts["ammonia"] - charged.get("ammonium", 0.0)}

    def imbalance(self, pH: float) -> float:
        """Give ln(positive charges / negative charges): falls all the way as the pH rises, nearly straight."""
        positive, negative, _ = self._charges(pH)
        return math.log(positive / negative)

    def lacking(self, pH: float) -> float:
        """Give negative less positive charges, mol/kg."""
        positive, negative, _ = self._charges(pH)
        return negative - positive

    def ionic_strength(self, pH: float) -> float:
        """Give half the sum of z^2 m, mol/kg."""
        return self._charges(pH)[2] / 2

    def _charges(self, pH: float) -> tuple[float, float, float]:
        """Sum the positive charges, the negative ones and z^2 m of `ions` without listing them: a search asks often."""
        amounts, acidity = self.amounts, _power(pH)
        positive = amounts["sodium"] + 1 / (acidity * self.gamma)
        negative = acidity * self.alkalinity / self.gamma + amounts["strong_anions"] + 2 * amounts["dithionite"]
        squares = positive + negative + 2 * amounts["dithionite"]
        rows = self._metal_ions(acidity) if self.metals.any else []
        if amounts["calcium"] > TRACE:
            stepped = self._stepped(acidity)
            (calcium, _), held, ligands = self._shared(stepped, acidity)
            positive += calcium * (held + 1)
            squares += calcium * (held + 3)
            for name, total, steps in stepped:
                ligand = ligands.get(name)
                anion = None if ligand is None else ligand.free(calcium)
                unit = total / sum(steps) if anion is None else anion / steps[-1]
                negative, squares = _added(unit, steps, negative, squares)
                if anion is not None:
                    rows += self._pairs(name, calcium * anion, acidity)
        else:
            for _, total, constants in self.acids:
                steps = _steps(constants, acidity)
                negative, squares = _added(total / sum(steps), steps, negative, squares)
        for _, charge, molality in rows:
            squares += charge * charge * molality
            if charge > 0:
                positive += charge * molality
            else:
                negative -= charge * molality
        return positive, negative, squares

    def _pairs(self, name: str, both: float, acidity: float) -> list[_Row]:
        """List the pairs of calcium with an anion; `both` is free calcium times the free anion."""
        return [
            (pair, charge, both * constant / acidity**taken) for pair, charge, taken, constant in self.anions[name][0]
        ]


def strength_of(ions: list[_Row]) -> float:
    """Give half the sum of z^2 m, mol/kg."""
    return sum(charge * charge * molality for _, charge, molality in ions) / 2


def _steps(constants: tuple[float, ...], acidity: float) -> _Steps:
    """Give an acid's forms for one of its uncharged form."""
    form, steps = 1.0, [1.0]
    for constant in constants:
        form *= constant * acidity
        steps.append(form)
    return steps


def _added(unit: float, steps: _Steps, negative: float, squares: float) -> tuple[float, float]:
    """Add an acid's ions to the sums of negative charges and of z^2 m; `unit` is its uncharged form, mol/kg."""
    for count in range(1, len(steps)):
        charge = count * unit * steps[count]
        negative += charge
        squares += count * charge
    return negative, squares


def _acid_ions(name: str, total: float, steps: _Steps) -> list[_Row]:
    unit = total / sum(steps)
    return [(ion, -count, unit * steps[count]) for ion, count in _COUNTED[name]]


def trial(amounts: dict[str, float], constants: Equilibria, ionic_strength: float, t_C: float) -> Trial:
    """Make a mixture ready for the search at a trial ionic strength (mol/kg)."""
    gamma = log_gamma(ionic_strength, t_C)
    acids = tuple(
        (name, amounts[name], _at_strength(name, getattr(constants, name), gamma))
        for name in ACIDS
        if amounts[name] > 0
    )
    calcium = amounts["calcium"] > TRACE
    return Trial(
        amounts=amounts,
        gamma=_power(gamma),
        alkalinity=_power(log_water_activity(ionic_strength) - constants.water),
        acids=acids,
        metals=_metals(amounts, constants, gamma),
        anions={name: _anion(name, constants, gamma) for name in WITH_CALCIUM if calcium and amounts[name] > 0},
        last=[0.0],
    )


def _at_strength(name: str, constants: tuple[float, ...], gamma: float) -> tuple[float, ...]:
    """Turn thermodynamic constants into those between molalities; an ion of charge z has z^2 of log gamma."""
    if name in APPARENT:
        return tuple([_power(-pK) for pK in constants])
    factors, step = [], -gamma
    for pK in constants:
        factors.append(_power(step - pK))
        step -= 2 * gamma
    return tuple(factors)


def _metals(amounts: dict[str, float], constants: Equilibria, gamma: float) -> _Metals:
    """An M(OH)2 that lies at the bottom keeps up M2+ over the square of hydroxide's activity."""
    others = amounts["magnesium"] > TRACE or amounts["ferrous"] > 0 or amounts["ammonia"] > 0
    if not (others or amounts["calcium"]):
        return _NO_METALS
    return _Metals(
        others,
        _power(-constants.calcium_hydroxide_ion + 3 * gamma),
        _power(-constants.magnesium_hydroxide_ion + 3 * gamma),
        _power(-constants.ammonium + gamma),
        _power(-constants.lime - 4 * gamma),
        _power(-constants.brucite - 4 * gamma),
        _power(-constants.iron_hydroxide - 4 * gamma),
    )


def _anion(name: str, constants: Equilibria, gamma: float) -> _Anion:
    """Give an anion's pairs with calcium, and its solid; an ion of charge z has z^2 of log gamma."""
    squares = len(ACIDS[name]) ** 2
    pairs = tuple(
        (pair.name, pair.charge, pair.hydrogens, _power(pair.log_K + (4 + squares - pair.charge**2) * gamma))
        for pair in constants.pairs.get(name, ())
    )
    if name == "acetate":
        return pairs, math.inf, 1.0
    if name == "citrate":  # three calcium to two citrate: the square root of the product, for each citrate
        return pairs, _power(-constants.calcium_citrate / 2 - (3 * 4 + 2 * squares) / 2 * gamma), 1.5
    pK = constants.calcite if name == "carbonate" else constants.gypsum
    return pairs, _power(-pK - (4 + squares) * gamma), 1.0


def molalities(bath: Bath, names: tuple[str, ...]) -> dict[str, float]:
    """Give totals of a bath in mol for each kg of water."""
    return {name: getattr(bath, name) / bath.water_kg for name in names}


def _power(exponent: float) -> float:
    return math.pow(10.0, exponent)
