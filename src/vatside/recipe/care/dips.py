"""What a dip does to the account, by the same model as the plan's own dips."""

from __future__ import annotations

from vatside.chemistry.substances import substance
from vatside.recipe.care.account import Account, dipped
from vatside.recipe.dip_lot import take_of
from vatside.recipe.measures import celsius, clean_grams
from vatside.recipe.plan import Lot, Plan
from vatside.recipe.uptake import Tank, dip_round


def after_dip(account: Account, plan: Plan, lot: Lot, pieces: int, minutes: float) -> Account:
    """Give the account after some pieces of a lot were dipped once, for so many minutes each.

    Wet pieces bring water of the room's temperature, with its air, and carry as much liquor out; the dye they take is
    `vatside.recipe.uptake`'s. Only reduced dye goes on. Raises `OutOfRange` if they would carry all of it out.
    """
    piece_kg = clean_grams(plan, lot) / max(lot.pieces, 1) / 1000
    take = take_of(plan, lot, minutes)
    reduced = account.bath.leuco * substance("indigotin").molar_mass / account.litres
    done = dip_round(Tank(account.litres, reduced), pieces, piece_kg, take)
    water = take.carried * piece_kg * pieces
    taken = max(account.litres * reduced - done.tank.grams - water * done.tank.strength, 0.0)
    return dipped(account, taken, water, water, celsius(plan.water.room))
