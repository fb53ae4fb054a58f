"""What a dip does to the account, by the same law as the plan's own dips."""

from __future__ import annotations

from vatside.chemistry.substances import substance
from vatside.recipe.care.account import Account, dipped
from vatside.recipe.dip_item import law_for
from vatside.recipe.measures import celsius, clean_grams
from vatside.recipe.plan import Lot, Plan
from vatside.recipe.uptake import Tank, enter


def after_dip(account: Account, plan: Plan, lot: Lot, pieces: int, minutes: float) -> Account:
    """Give the account after some pieces of a lot were dipped once, for so many minutes each.

    Wet pieces bring water of the room's temperature, with its air, and carry as much liquor out; the dye they take is
    `vatside.recipe.uptake`'s, as of pieces that have none yet. Raises `OutOfRange` if they would carry all of it out.
    """
    kg = clean_grams(plan, lot) / max(lot.pieces, 1) / 1000 * pieces
    law = law_for(plan, lot, minutes)
    tank = Tank(account.litres, account.bath.leuco * substance("indigotin").molar_mass / account.litres)
    after, water = enter(tank, [(law, kg, 0.0)]).tank, law.carried * kg
    taken = max(tank.grams - after.grams - water * after.strength, 0.0)
    return dipped(account, taken, water, water, celsius(plan.water.room))
