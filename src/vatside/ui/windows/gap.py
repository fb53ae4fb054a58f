"""Asking what the clocks cannot tell: how long it has been."""

from __future__ import annotations

from typing import TYPE_CHECKING

from vatside.log.events.day import ClockCorrected
from vatside.ui.windows.ask import AskWindow
from vatside.units import Amount, Kind, Problem, parse_amount, to_base

if TYPE_CHECKING:
    from textual.app import App

    from vatside.bench.desk import Desk
    from vatside.clocks.watch import ClockSetBack, Stepped


def minutes_of(text: str) -> float | Problem:
    """Read how long it has been; nothing typed means no time at all."""
    if not text.strip():
        return 0.0
    amount = parse_amount(text, Kind.TIME, unit="min")
    return to_base(amount, Kind.TIME) if isinstance(amount, Amount) else amount


def ask_gap(app: App[None], desk: Desk, happening: ClockSetBack | Stepped) -> None:
    """Ask how long it has been, and put the waits forward by that."""

    def means(text: str) -> tuple[bool, str]:
        found = minutes_of(text)
        if isinstance(found, Problem):
            return False, found.text
        return True, f"{happening.sentence} Empty: no time went by that the waits do not know of."

    def answered(text: str | None) -> None:
        found = minutes_of(text or "")
        if isinstance(found, float) and found > 0 and not desk.keeping.readonly:
            desk.log(ClockCorrected(found * 60))

    app.push_screen(AskWindow("How long has it been?", means), answered)
