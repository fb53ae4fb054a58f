"""What a dip does to the account, by the same law as the plan's own dips."""

from __future__ import annotations

from vatside.chemistry.substances import substance
from vatside.dips.lot import law_for
from vatside.dips.uptake import Tank, enter
from vatside.plan.measures import celsius, clean_grams
from vatside.plan.plan import Lot, Plan
from vatside.vat.account import Account, dipped


def after_dip(account: Account, plan: Plan, lot: Lot, pieces: int, minutes: float) -> Account:
    """Give the account after some pieces of a lot were dipped once, for so many minutes each.

    Wet pieces bring water of the room's temperature, with its air, and carry as much liquor out; the dye they take is
    `vatside.dips.uptake`'s, as of pieces that have none yet. Raises `OutOfRange` if they would carry all of it out.
    """
    kg = clean_grams(plan, lot) / max(lot.pieces, 1) / 1000 * pieces
    law = law_for(plan, lot, minutes)
    tank = Tank(account.litres, account.bath.leuco * substance("indigotin").molar_mass / account.litres)
    after, water = enter(tank, [(law, kg, 0.0)]).tank, law.carried * kg
    taken = max(tank.grams - after.grams - water * after.strength, 0.0)
    return dipped(account, taken, water, water, celsius(plan.water.room))
