"""What one dip does to the account of the vat, and what the piece takes with it.

A piece brings its liquid in: water from the wetting-out the first time, its own aired liquor later. That mixes with the
vat, with its oxygen and its cold; dye goes on by the law of uptake, that of the liquor carried out included; the piece
leaves with as much liquor as it brought. In the air that liquor's reducer is used up; its alkali comes back with the
next dip.
"""

from __future__ import annotations

from attrs import evolve

from vatside.chemistry.bath import Bath, at_temperature, part, together
from vatside.chemistry.oxygen import saturation
from vatside.chemistry.substances import substance
from vatside.chemistry.tap import tap_bath
from vatside.chemistry.vat import aerate, reduce
from vatside.dips.on_piece import MORE, OnPiece
from vatside.dips.uptake import Law, Tank, enter
from vatside.vat.account import Account

LEAST_LITRES = 1e-6
"""A piece that carries less than this carries nothing."""
MOST_OF_VAT = 0.95
"""No piece carries more of the vat away than this share."""


def dip(
    account: Account, piece: OnPiece, law: Law, grams: float, room_C: float, own: float = 1.0
) -> tuple[Account, OnPiece]:
    """Dip a piece (dry mass in g) once: give the account of the vat and the piece after it.

    `own` is the dyer's own factor in the law. Indigotin in the vat and on the piece together stay the same. Raises
    `OutOfRange` for temperatures of no water.
    """
    kg = grams / 1000
    brought = max(law.carried * kg, LEAST_LITRES)
    mixed = _mixed(account.bath, piece.liquor or tap_bath(brought, room_C, account.tap), brought, room_C)
    full = evolve(account, bath=mixed)
    tank = Tank(full.litres, max(full.indigotin_g - full.unreduced_g, 0.0) / full.litres)
    laid = _laid(tank, law, kg, piece.stays)
    after = evolve(mixed, leuco=max(mixed.leuco - laid / _mass(), 0.0))
    share = min(brought / full.litres, MOST_OF_VAT)
    leaves = part(after, share)
    stays = evolve(part(after, 1 - share), leuco=after.leuco)  # its dye is counted on the piece already
    table = law.times(1 / own)
    new = OnPiece(
        laid=piece.laid + laid,
        rinsed=law.rinsed,
        specks=piece.specks + leaves.indigotin * _mass(),
        by_table=piece.by_table + _laid(tank, table, kg, piece.by_table * (1 - law.rinsed)),
        by_more=piece.by_more + _laid(tank, table.times(MORE), kg, piece.by_more * (1 - law.rinsed)),
        liquor=at_temperature(evolve(aerate(leaves), leuco=0.0, indigotin=0.0), room_C),
    )
    return evolve(account, bath=stays), new


def _laid(tank: Tank, law: Law, kg: float, stays_g: float) -> float:
    """Give grams laid on a piece that has so many on it."""
    return enter(tank, [(law, kg, stays_g / kg)]).laid[0] * kg if kg > 0 else 0.0


def _mixed(bath: Bath, brought: Bath, litres: float, room_C: float) -> Bath:
    """Mix in what the piece brings, and let the reducer use up its oxygen [BensonKrause1984] [Reactions]."""
    return reduce(together(bath, brought), litres * saturation(room_C)).bath


def _mass() -> float:
    return substance("indigotin").molar_mass
