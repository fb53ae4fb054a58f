"""How strong the vat is by its account, and how it fell dip by dip."""

from __future__ import annotations

from attrs import evolve

from vatside.bench.desk import Desk
from vatside.chemistry.errors import OutOfRange
from vatside.log.events.day import Entry, Undone
from vatside.log.events.pieces import DipEnded
from vatside.log.fold import State, history
from vatside.log.session import Session
from vatside.log.vat_clock import standing_at
from vatside.outlook.vat_facts import account_of
from vatside.recipe.compute import compute
from vatside.vat.forecast import tank_of


def strength(desk: Desk) -> float | None:
    """Give the vat's reduced indigotin as the account has it now, g/L; None where it cannot be worked out.

    A vat that was let go holds nothing, not what the plan would make.
    """
    if desk.state.tending.let_go is not None and desk.state.tending.account is None:
        return 0.0
    try:
        return tank_of(account_of(standing_at(desk.state, desk.clock.now()), desk.sheet)).strength
    except OutOfRange:
        return None


class Falling:
    """How the vat's strength fell, g/L: before the first dip and after each, as the log has them."""

    def __init__(self) -> None:
        self._entries: tuple[Entry, ...] = ()
        self._found: tuple[float, ...] = ()

    def after(self, state: State) -> tuple[float, ...]:
        """Give it for a state; the log is gone through anew only where more than the latest dip is new."""
        old, self._entries = self._entries, state.entries
        new = state.entries[len(old) :]
        grown = bool(old) and len(state.entries) >= len(old) and state.entries[len(old) - 1] is old[-1]
        dips = sum(isinstance(entry.event, DipEnded) for entry in new)
        account = state.tending.account
        if not grown or dips > 1 or any(isinstance(entry.event, Undone) for entry in new) or not self._found:
            self._found = strengths(state)
        elif dips and account is not None:
            self._found = (*self._found, tank_of(account).strength)
        return self._found


def strengths(state: State) -> tuple[float, ...]:
    """Go through the log: the strength before the first dip and after each, g/L."""
    found: list[float] = []
    before: State | None = None
    for now in history(_as_it_counts(state)):
        account = now.tending.account
        if before is not None and account is not None and _out(before, now):
            found += [] if found else _before(before)
            found.append(tank_of(account).strength)
        before = now
    return tuple(found)


def _as_it_counts(state: State) -> Session:
    """Give the session as if what was taken back had never been."""
    kept = (entry for entry in state.entries if entry.seq not in state.undone)
    entries = tuple(entry for entry in kept if not isinstance(entry.event, Undone))
    return evolve(state.began, entries=entries)


def _before(state: State) -> list[float]:
    """Give the strength before the first dip; the first dip opens the account of a vat that nobody said was made."""
    try:
        return [tank_of(account_of(state, compute(state.plan))).strength]
    except OutOfRange:
        return []


def _out(before: State, now: State) -> bool:
    """Tell whether a piece came out between two states."""
    ended = [sum(item.end is not None for item in state.dipping.entered) for state in (before, now)]
    return ended[1] > ended[0]
