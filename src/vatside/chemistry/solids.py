"""Lime and gypsum: how much calcium and sulfate stay dissolved."""

from __future__ import annotations

from math import sqrt
from typing import NamedTuple


class Dissolved(NamedTuple):
    """What stays in the water, mol/kg."""

    calcium: float
    """Free Ca2+."""
    sulfate: float
    lime: float
    """Solid calcium hydroxide."""
    gypsum: float
    """Solid calcium sulfate."""


def dissolve(calcium: float, sulfate: float, held: float, lime_limit: float, gypsum_product: float) -> Dissolved:
    """Share calcium and sulfate (totals, mol/kg) between the water and the bottom.

    `held` is dissolved calcium for each free Ca2+ (over 1 because of CaOH+), `lime_limit` the free Ca2+ that solid lime
    keeps up at this alkalinity, and `gypsum_product` the Ca2+ times SO4(2-) that solid gypsum keeps up.
    """
    over_lime = min(sulfate, gypsum_product / lime_limit)
    lime = calcium - lime_limit * held - (sulfate - over_lime)
    if lime >= 0:
        return Dissolved(lime_limit, over_lime, lime, sulfate - over_lime)
    gypsum = _gypsum(calcium, sulfate, held * gypsum_product)
    return Dissolved((calcium - gypsum) / held, sulfate - gypsum, 0.0, gypsum)


def _gypsum(calcium: float, sulfate: float, product: float) -> float:
    """Give the gypsum that comes down, so that (calcium - it)(sulfate - it) = product, or none."""
    excess = calcium * sulfate - product
    if excess <= 0:
        return 0.0
    both = calcium + sulfate
    return 2 * excess / (both + sqrt(both * both - 4 * excess))
