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
    """Take the smallest tub that does it as the dosing asks; raises where only more indigo or longer days would."""
    size, usual = dyeing.sizing(), taking.usual
    ratio, piece = rules.liquor.value, grams / PIECES / 1000
    wanted = grams * DEPTH / 100 / (rules.yield_.value / 100)
    least = max(size.least.value, size.least_liquor.value * piece)
    suits = _rounded(max(wanted / usual.strength, ratio * piece, least), ratio * piece, size.step.value)
    for tub in TUBS:
        room = tub * 0.85
        if room < least:
            continue
        fill = min(max(suits, tub * size.half_full.value / 100), room)
        entry = min(grams, 1000 * fill / ratio)
        displaced = entry / 1000 / fibre.density.value
        liquor = max(fill - displaced, 0.1)
        indigotin = min(wanted, rules.strength_limit.value * liquor)
        dips = Dips(taking, piece, min(1000 * piece / entry, 1.0), liquor, indigotin / liquor)
        reached = min(dips.on) >= 0.95 * 10 * DEPTH and max(dips.dips) <= usual.accepted_dips
        in_time = dips.minutes <= 60 * size.hours.value
        if reached and in_time and usual.weakest * (1 - 1e-6) <= indigotin / liquor <= usual.strongest:
            return Vat(tub, fill, entry, displaced, indigotin, dips.round)
    raise ValueError(f"no tub does {grams:g} g as it is")


def _rounded(fill: float, a_piece: float, step: float) -> float:
    up = ceil(fill / step - 1e-9) * step
    whole = ceil(up / a_piece - 1e-9) * a_piece
    return whole if whole - up <= 0.25 * a_piece else up
