"""What the events of a stock between two days do to how things stand. Importing this registers them."""

from __future__ import annotations

from attrs import evolve

from vatside.chemistry.bath import Bath, part
from vatside.forms.fitting import check_pins, plan_problems
from vatside.log.effects.day import carry_out
from vatside.log.events.stock import StockCarriedOn, StockTaken
from vatside.log.moment import Moment
from vatside.log.state import State
from vatside.log.vat_state import Tending
from vatside.plan.measures import litres
from vatside.units import Kind, fits, show_amount
from vatside.vat.account import LEAST_PART, Account

MORE = 1.001
"""More by this share than there is, is more: litres are measured no finer. Ours."""


@carry_out.register
def _(event: StockTaken, state: State, _at: Moment) -> State:
    jar = jar_of(state.tending)
    there = _litres(jar) if jar else 0.0
    if jar is None or not there:
        raise KeyError("stock")
    volume = event.stock.volume
    taken = litres(state.plan, volume) if fits(volume.unit, Kind.VOLUME) else 0.0
    if not 0 < taken <= there * MORE:
        raise ValueError(f"There are {there:.2f} L of stock left, not {show_amount(volume)}.")
    left = 1 - min(taken / there, 1.0)
    return evolve(state, tending=with_jar(state.tending, part(jar, left) if left > LEAST_PART else None))


@carry_out.register
def _(event: StockCarriedOn, state: State, _at: Moment) -> State:
    plan = evolve(state.plan, stock_kept=event.stock)
    problems = plan_problems(plan)
    if problems:
        raise ValueError(problems[0])
    check_pins(plan)
    return evolve(state, plan=plan)


def jar_of(tending: Tending) -> Bath | None:
    """Give what is left of the stock, also once its vat is gone; None if there is nothing, or no stock was made yet."""
    return tending.account.stock if tending.account is not None else tending.jar


def with_jar(tending: Tending, jar: Bath | None) -> Tending:
    """Give the vat's tending with another jar beside it."""
    if tending.account is None:
        return evolve(tending, jar=jar)
    return evolve(tending, account=evolve(tending.account, stock=jar))


def _litres(jar: Bath) -> float:
    return Account(jar, "", jar).stock_litres
