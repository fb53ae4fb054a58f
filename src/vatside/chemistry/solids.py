"""Calcium between the water, the anions that hold it and the solids at the bottom: lime, gypsum, chalk, citrate."""

from __future__ import annotations

from math import exp, inf, log, sqrt
from typing import NamedTuple

MOST_STEPS = 200
CLOSE_ENOUGH = 1e-8
"""A step in the logarithm of free calcium after which the next would be lost in rounding: each squares the error."""


class Ligand(NamedTuple):
    """An anion that holds calcium in the water, or settles with it."""

    total: float
    """In all its forms, mol/kg."""
    spread: float
    """All its dissolved forms without calcium, for each free anion."""
    pairs: float = 0.0
    """Dissolved pairs for each free calcium and free anion."""
    product: float = inf
    """Free anion times free calcium to the power `ratio` that the solid keeps up; infinite: there is none."""
    ratio: float = 1.0
    """Calcium for each anion in the solid."""

    def free(self, calcium: float) -> float:
        """Give the free anion beside free calcium, mol/kg."""
        kept_up: float = self.product / calcium**self.ratio
        return min(self.total / (self.spread + self.pairs * calcium), kept_up)

    def solid(self, calcium: float) -> float:
        """Give the anion that lies at the bottom, mol/kg."""
        return max(self.total - self.free(calcium) * (self.spread + self.pairs * calcium), 0.0)


class Shared(NamedTuple):
    """Where the calcium is."""

    calcium: float
    """Free Ca2+, mol/kg."""
    lime: float
    """Solid calcium hydroxide, mol/kg."""


def share(total: float, held: float, ligands: tuple[Ligand, ...], lime_limit: float, guess: float = 0.0) -> Shared:
    """Share calcium (total, mol/kg) between the water, its anions and lime.

    `held` is dissolved calcium for each free Ca2+ (over 1 because of CaOH+), `lime_limit` the free Ca2+ that solid lime
    keeps up at this alkalinity; a `guess` at free calcium saves time.
    """
    if total <= 0:
        return Shared(0.0, 0.0)
    high = min(lime_limit, total / held)
    if high == lime_limit:
        lime = total - _accounted(high, held, ligands)[0]
        if lime >= 0:
            return Shared(high, lime)
    return Shared(_free_calcium(total, held, ligands, high, guess), 0.0)


def _accounted(calcium: float, held: float, ligands: tuple[Ligand, ...]) -> tuple[float, float]:
    """Give all calcium, dissolved or settled, that goes with so much free calcium, and how fast it grows with it."""
    amount, slope = calcium * held, held
    for total, spread, pairs, product, ratio in ligands:
        room = spread + pairs * calcium
        paired = total * pairs / room
        if total * calcium**ratio <= product * room:
            amount += paired * calcium
            slope += paired * spread / room
            continue
        free = product / calcium**ratio
        amount += ratio * total + free * (pairs * calcium - ratio * room)
        slope += free * (ratio * ratio * room - (2 * ratio - 1) * pairs * calcium) / calcium
    return amount, slope


def _free_calcium(total: float, held: float, ligands: tuple[Ligand, ...], high: float, guess: float) -> float:
    """Find the free calcium whose account comes to the total: Newton's steps between logarithms, inside a bracket."""
    low, x = 0.0, guess if 0 < guess <= high else _first(total, held, ligands, high)
    for _ in range(MOST_STEPS):
        amount, slope = _accounted(x, held, ligands)
        if amount > total:
            high = x
        else:
            low = x
        step = log(total / amount) * amount / (slope * x)
        ahead = x * exp(min(max(step, -50.0), 50.0))
        if abs(step) < CLOSE_ENOUGH:
            return ahead
        if not low < ahead <= high:
            ahead = sqrt(low * high) if low else high * 1e-3
        x = ahead
    return x


def _first(total: float, held: float, ligands: tuple[Ligand, ...], high: float) -> float:
    """Guess at the free calcium as if half of each anion could be in pairs; without pairs it is the most there is."""
    return min(total / (held + sum(one.total * one.pairs / (2 * one.spread) for one in ligands)), high)
