"""What one dip does to the account of the vat, and what the piece takes with it.

A piece brings its liquid in: water from the wetting-out the first time, its own aired liquor later. That mixes with the
vat, with its oxygen and its cold; dye goes on by itself; the piece leaves with as much liquor as it brought. In the air
that liquor's reducer is used up and its dye turns blue on the fibre; its alkali comes back with the next dip.
"""

from __future__ import annotations

from attrs import evolve, frozen

from vatside.chemistry.bath import Bath, at_temperature, part, together, water_bath
from vatside.chemistry.oxygen import saturation
from vatside.chemistry.substances import substance
from vatside.chemistry.vat import aerate, reduce
from vatside.recipe.care.account import Account
from vatside.recipe.uptake import Take

LEAST_LITRES = 1e-6
"""A piece that carries less than this carries nothing."""
MOST_OF_VAT = 0.95
"""No piece carries more of the vat away than this share."""


@frozen
class OnPiece:
    """What a piece has on it so far; grams of indigotin before rinsing."""

    laid: float = 0.0
    """Gone on by itself."""
    carried: float = 0.0
    """Left by the liquor that it carried."""
    rinsed: float = 0.0
    """Share of it that the rinses take off again."""
    specks: float = 0.0
    """Dye that was not reduced: it washes off."""
    per_litre: float = 0.0
    """What would have gone on by itself if it took one litre a kilogram in five minutes, g."""
    liquor: Bath | None = None
    """What it carries now, aired."""

    @property
    def stays(self) -> float:
        """Indigotin that stays after rinsing, g."""
        return (self.laid + self.carried) * (1 - self.rinsed)

    @property
    def goes(self) -> float:
        """Indigotin that the rinses take off, g."""
        return (self.laid + self.carried) * self.rinsed + self.specks

    def depth(self, grams: float) -> float:
        """Give what stays as % of the dry fibre (g)."""
        return 100 * self.stays / grams if grams > 0 else 0.0


def dip(account: Account, piece: OnPiece, take: Take, grams: float, room_C: float) -> tuple[Account, OnPiece]:
    """Dip a piece (dry mass in g) once: give the account of the vat and the piece after it.

    Indigotin in the vat and on the piece together stay the same. Raises `OutOfRange` for temperatures of no water.
    """
    kg = grams / 1000
    brought = max(take.carried * kg, LEAST_LITRES)
    mixed = _mixed(account.bath, piece.liquor or water_bath(brought, room_C), brought, room_C)
    full = evolve(account, bath=mixed)
    reduced = full.indigotin_g - full.unreduced_g
    a_litre = reduced / full.litres * kg * take.substantive / max(take.takes, 1e-9) if take.takes else 0.0
    laid = min(a_litre * take.takes, reduced)
    after = evolve(mixed, leuco=max(mixed.leuco - laid / _mass(), 0.0))
    share = min(brought / full.litres, MOST_OF_VAT)
    leaves, stays = part(after, share), part(after, 1 - share)
    new = OnPiece(
        laid=piece.laid + laid,
        carried=piece.carried + leaves.leuco * _mass(),
        rinsed=take.rinsed,
        specks=piece.specks + leaves.indigotin * _mass(),
        per_litre=piece.per_litre + a_litre,
        liquor=at_temperature(evolve(aerate(leaves), leuco=0.0, indigotin=0.0), room_C),
    )
    return evolve(account, bath=stays), new


def _mixed(bath: Bath, brought: Bath, litres: float, room_C: float) -> Bath:
    """Mix in what the piece brings, and let the reducer use up its oxygen [BensonKrause1984] [Reactions]."""
    return reduce(together(bath, brought), litres * saturation(room_C)).bath


def _mass() -> float:
    return substance("indigotin").molar_mass
