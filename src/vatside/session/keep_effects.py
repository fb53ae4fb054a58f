"""What topping up a kept vat does to its account. Importing this registers it with `carry_out`."""

from __future__ import annotations

from attrs import evolve

from vatside.recipe.care.account import Account, at_volume, warmed, with_powder, with_stock, with_water, without
from vatside.recipe.care.made import stock_bath
from vatside.recipe.compute import compute
from vatside.recipe.kept import in_tub
from vatside.recipe.plan import Plan
from vatside.recipe.sheet import Sheet
from vatside.session.effects import carry_out
from vatside.session.events import Moment, VatToppedUp
from vatside.session.standing import State


@carry_out.register
def _(_event: VatToppedUp, state: State, _at: Moment) -> State:
    if state.tending.account is None:
        raise KeyError("vat")
    account = on_top(state.tending.account, state.plan, compute(state.plan))
    return evolve(state, tending=evolve(state.tending, account=account, topped_up=True))


def on_top(vat: Account, plan: Plan, sheet: Sheet) -> Account:
    """Give a kept vat warmed, topped up with water, sharpened and with this day's stock in it.

    A full tub gives liquor up first, so that the stock finds room; what the plan says of its litres counts.
    OutOfRange if it cannot be.
    """
    warm = sheet.value("vat.temperature", vat.celsius)
    if plan.kept is not None:
        vat = warmed(at_volume(vat, in_tub(plan).litres), warm)
    room = sheet.value("vat.liquor") - sheet.value("vat.stock") - vat.litres
    vat = without(vat, -room) if room < 0 else with_water(vat, room, warm)
    for role in ("alkali", "reducer"):
        vat = with_powder(vat, plan, role, sheet.value(f"vat.{role}"))
    if not sheet.value("stock.water"):
        return vat
    vat = evolve(vat, stock=stock_bath(plan, sheet.value))
    return with_stock(vat, min(sheet.value("vat.stock"), vat.stock_litres))
