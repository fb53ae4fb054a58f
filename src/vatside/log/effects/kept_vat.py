"""A kept vat until it is topped up: plan and account say the same of it. Importing this registers the topping up."""

from __future__ import annotations

from attrs import evolve

from vatside.forms.fitting import check_change
from vatside.log.effects.day import carry_out
from vatside.log.events.day import VatToppedUp
from vatside.log.moment import Moment
from vatside.log.state import State
from vatside.plan.paths import set_value
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.baths import kept_bath, stock_bath
from vatside.recipe.compute import compute
from vatside.units import Amount
from vatside.vat.account import (
    Account,
    made,
    standing,
    warmed,
    with_powder,
    with_stock,
    with_water,
    without,
)

COOLS = "vat.cool"
"""The step in which a vat that came out too warm is left to cool."""


@carry_out.register
def _(_event: VatToppedUp, state: State, _at: Moment) -> State:
    if state.tending.account is None:
        raise KeyError("vat")
    sheet = compute(state.plan)
    account = on_top(state.tending.account, state.plan, sheet)
    if COOLS not in state.done:
        account = warmed(account, sheet.value("vat.mixed", account.celsius))
    return evolve(state, tending=evolve(state.tending, account=account, topped_up=True))


def on_top(vat: Account, plan: Plan, sheet: Sheet) -> Account:
    """Give a kept vat with this day's water, powders and stock in it, at the temperature that the plan wants.

    What stands in the tub is what the plan says of it. OutOfRange if it cannot be.
    """
    if plan.kept is None:
        return _by_amounts_held(vat, plan, sheet)
    return evolve(made(plan, sheet), trusted_g=vat.trusted_g)


def _by_amounts_held(vat: Account, plan: Plan, sheet: Sheet) -> Account:
    """Top up the vat of a day whose plan knows of no kept vat and only holds amounts, as older files do."""
    warm = sheet.value("vat.temperature", vat.celsius)
    room = sheet.value("vat.liquor") - sheet.value("vat.stock") - vat.litres
    vat = without(vat, -room) if room < 0 else with_water(vat, room, warm)
    for role in ("alkali", "reducer"):
        vat = with_powder(vat, plan, role, sheet.value(f"vat.{role}"))
    if not sheet.value("stock.water"):
        return vat
    vat = evolve(vat, stock=stock_bath(plan, sheet.value))
    return with_stock(vat, min(sheet.value("vat.stock"), vat.stock_litres))


def in_step(before: State, after: State) -> State:
    """Give the state after an event with plan and account of a kept vat saying the same, until it is topped up.

    What is typed into the form changes the account; what is done to the vat or measured changes the plan. ValueError
    if the form would not have let it through.
    """
    vat, old = after.tending.account, before.tending.account
    if after.plan.kept is None or after.tending.topped_up or vat is None or old is None:
        return after
    if after.plan is not before.plan and kept_bath(after.plan) != kept_bath(before.plan):
        return evolve(after, tending=evolve(after.tending, account=standing(after.plan)))
    return after if vat is old else evolve(after, plan=_as_found(before, after))


def _as_found(before: State, after: State) -> Plan:
    """Give the plan with what changed of the account."""
    plan, was = after.plan, _found(before)
    for path, amount in _found(after).items():
        if amount != was[path]:
            check_change(plan, path, amount)
            plan = set_value(plan, path, amount)
    return plan


def _found(state: State) -> dict[str, Amount]:
    """Give what stands in the tub by the account, as the form has it."""
    from vatside.log.kept_vat import kept_vat

    vat, account = kept_vat(state), state.tending.account
    assert vat is not None
    assert account is not None
    return {
        "kept.volume": _amount(vat.litres, "L"),
        "kept.temperature": _amount(account.celsius, "degC"),
        "kept.indigotin": _amount(vat.indigotin_g, "g"),
        "kept.alkali": _amount(vat.alkali_g, "g"),
        "kept.reducer": _amount(vat.reducer_g, "g"),
        "kept.carbonate": _amount(vat.carbonate_g or 0.0, "g"),
        "kept.salts": _amount(vat.salts_g or 0.0, "g"),
        "kept.oxidised": _amount(vat.oxidised_g, "g"),
    }


def _amount(value: float, unit: str) -> Amount:
    """Four digits that matter are more than a tub can be measured to."""
    return Amount(float(f"{value:.4g}"), unit)
