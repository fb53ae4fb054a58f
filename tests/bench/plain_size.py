"""The vat of one lot in plain floats: the smallest tub in which it is dyed in the dips and hours that are accepted."""

from __future__ import annotations

from math import ceil
from typing import NamedTuple

from tests.bench.plain_dips import DEPTH, PIECES, Dips, Taking

from vatside.catalogue import dyeing
from vatside.catalogue.values import Fibre, VatRules

TUBS = 8.0, 20.0
"""Of the starter plan, L to the brim."""


class Vat(NamedTuple):
    """Litres, grams of fibre at one entry, grams of indigotin, and the entries of the first round."""

    tub: float
    fill: float
    entry: float
    displaced: float
    indigotin: float
    groups: int


def vat_for(grams: float, fibre: Fibre, rules: VatRules, taking: Taking) -> Vat:
    """Take the smallest tub that does it as quickly as one made for it; raises where only more indigo would."""
    size, usual, piece = dyeing.sizing(), taking.usual, grams / PIECES / 1000
    least = max(size.least.value, size.least_liquor.value * piece)
    wanted = grams * DEPTH / 100 / (rules.yield_.value / 100)
    suits = _rounded(max(wanted / usual.strength, rules.liquor.value * piece, least), piece, rules, size)
    quick = max(suits, _rounded(rules.liquor.value * ceil(PIECES / 2) * piece, piece, rules, size))
    made = [
        _made(grams, tub, min(max(fill, tub * size.half_full.value / 100), tub * 0.85), fibre, rules, taking)
        for tub in TUBS if tub * 0.85 >= least for fill in sorted({suits, quick})
    ]  # fmt: skip
    ideal = _made(grams, quick, quick, fibre, rules, taking)[1]
    long = ideal.minutes + usual.dip + usual.air + dyeing.pauses().handling.value
    for vat, dips in made:
        reached = min(dips.on) >= 0.95 * 10 * DEPTH and max(dips.dips) <= usual.accepted_dips
        in_time = dips.minutes <= min(60 * size.hours.value, long)
        if reached and in_time and vat.indigotin / (vat.fill - vat.displaced) <= usual.strongest:
            return vat
    raise ValueError(f"no tub does {grams:g} g as it is")


def _made(grams: float, tub: float, fill: float, fibre: Fibre, rules: VatRules, taking: Taking) -> tuple[Vat, Dips]:
    piece = grams / PIECES / 1000
    entry = min(grams, 1000 * _whole(fill / rules.liquor.value, piece))
    displaced = entry / 1000 / fibre.density.value
    liquor = max(fill - displaced, 0.1)
    wanted = grams * DEPTH / 100 / (rules.yield_.value / 100)
    indigotin = max(min(wanted, rules.strength_limit.value * liquor), taking.usual.weakest * liquor)
    dips = Dips(taking, piece, min(1000 * piece / entry, 1.0), liquor, indigotin / liquor)
    return Vat(tub, fill, entry, displaced, indigotin, dips.round), dips


def _rounded(fill: float, piece: float, rules: VatRules, size: dyeing.Sizing) -> float:
    return _whole(ceil(fill / size.step.value - 1e-9) * size.step.value, rules.liquor.value * piece)


def _whole(room: float, piece: float) -> float:
    whole = ceil(room / piece - 1e-9) * piece
    return whole if whole - room <= 0.25 * piece else room
