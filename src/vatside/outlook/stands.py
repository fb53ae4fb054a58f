"""What stands in the tub now: the one place that the interlocks take it from."""

from __future__ import annotations

from attrs import frozen

from vatside.log.fold import State
from vatside.log.moment import Moment
from vatside.log.vat_clock import standing_at
from vatside.log.vat_state import changes_pH
from vatside.plan.sheet import Sheet
from vatside.recipe.vat_needs import pH_at, setting
from vatside.vat.account import Account, made, predict


@frozen
class Stands:
    """The liquor in the tub."""

    account: Account
    celsius: float
    pH: float | None  # noqa: N815  (chemistry's own symbol)
    """At that temperature, as read while nothing went in since, else by the account; None where that cannot be told."""
    read: bool
    """The pH was read."""


def stands_now(state: State, sheet: Sheet, at: Moment) -> Stands | None:
    """Give what stands in the tub at a moment, the clock counted; None before it is made and once it is gone."""
    state = standing_at(state, at)
    account = account_now(state, sheet)
    if account is None:
        return None
    read = _read_pH(state, sheet, account.celsius)
    return Stands(account, account.celsius, _predicted(account) if read is None else read, read is not None)


def account_now(state: State, sheet: Sheet) -> Account | None:
    """Give the account as the log left it, for what the clock takes off its reducer is no leave to sour it.

    The plan's own once a step of the vat was done, though nobody said that it was made.
    """
    tending = state.tending
    if tending.account is not None or tending.let_go is not None:
        return tending.account
    if not any(step.startswith("vat.") for step in state.done):
        return None
    try:
        return made(state.plan, sheet)
    except ValueError:
        return None


def _predicted(account: Account) -> float | None:
    try:
        return predict(account).pH
    except ValueError:
        return None


def _read_pH(state: State, sheet: Sheet, vat_C: float) -> float | None:
    """Give the pH last read, at the temperature of the vat; None once something went in since, or without one."""
    tending = state.tending
    if not tending.readings or tending.account is None:
        return None
    reading = tending.readings[-1].reading
    since = any(made_.readings == len(tending.readings) and changes_pH(made_.event) for made_ in tending.corrections)
    if reading.pH is None or since:
        return None
    sample_C = vat_C if reading.sample_celsius is None else reading.sample_celsius
    return pH_at(reading.pH, sample_C, vat_C, setting(state.plan, sheet))
