"""What changed a moment ago, and what is to be looked out for: kept until it is another."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from vatside.dayline.day_steps import STOCK_IN
from vatside.log.state import State
from vatside.log.vat_account import shown_minute
from vatside.log.waits import Moment, Wait
from vatside.outlook.vat_order import vat_notices
from vatside.plan.batches import baths
from vatside.plan.figure_text import FigureText, figure_text
from vatside.plan.plan import Plan
from vatside.plan.sheet import Figure, Notice, Sheet, Stage, Weight

MARKED = 4.0
"""Seconds for which a figure that just changed carries a mark."""


Worked = tuple[Plan, Sheet]
"""A plan and what follows from it."""


class Marks:
    """Figures that went up (1) or down (-1) a moment ago, each until that is forgotten."""

    def __init__(self) -> None:
        self._until: dict[str, tuple[int, float]] = {}
        self._before: Worked | None = None
        self._texts: dict[str, FigureText] = {}
        """What was printed of it: one entry is held against the same sheet key by key."""

    def put(self, before: Worked, after: Worked, now: float) -> None:
        """Mark what moved from one plan to another, from a second on."""
        if self._before is None or before[1] is not self._before[1]:
            self._before, self._texts = before, {}
        old = {figure.id: figure for figure in before[1].figures}
        for figure in after[1].figures:
            change = self._went(old.get(figure.id), figure, before[0], after[0])
            self._until.pop(figure.id, None)
            if change:
                self._until[figure.id] = (change, now + MARKED)

    def _went(self, before: Figure | None, after: Figure, old: Plan, new: Plan) -> int:
        """Say in which direction a figure moved, as far as anyone can see; 0 if it stayed."""
        if before is None or before.value == after.value:
            return 0
        if before.id not in self._texts:
            self._texts[before.id] = figure_text(before, old)
        if self._texts[before.id] == figure_text(after, new):
            return 0
        return 1 if after.value > before.value else -1

    def at(self, now: float) -> Mapping[str, int]:
        """Give what is marked at a second, and in which direction it moved."""
        self._until = {key: item for key, item in self._until.items() if item[1] > now}
        return {key: direction for key, (direction, _) in self._until.items()}


class Noticed:
    """What is to be looked out for, worked out anew for another state or sheet, or minute of the vat."""

    def __init__(self) -> None:
        self._known: tuple[State, Sheet, float, tuple[Notice, ...]] | None = None

    def at(self, state: State, sheet: Sheet, now: Moment) -> tuple[Notice, ...]:
        """Give it: of the plan, and of the live vat as it was read and as it stands by the clock."""
        if state.tending.account is None and not state.waits:
            return sheet.notices
        known, minute = self._known, shown_minute(state, now)
        if known is None or known[0] is not state or known[1] is not sheet or known[2] != minute:
            known = self._known = (state, sheet, minute, self._worked_out(state, sheet, now))
        return known[3]

    @staticmethod
    def _worked_out(state: State, sheet: Sheet, now: Moment) -> tuple[Notice, ...]:
        vat = () if state.tending.account is None else vat_notices(state, sheet, now)
        return (*vat, *_left_running(state), *sheet.notices)


def _left_running(state: State) -> Iterator[Notice]:
    """Waits of a bath or a jar that is gone: they are hers to end, for its pot may be hot."""
    keys = {bath.key for bath in baths(state.plan)}
    for wait in state.waits:
        stage, key, *_ = f"{wait.step or ''}..".split(".")
        if stage == Stage.SCOUR.value and key not in keys:
            yield _to_end(wait, Stage.SCOUR, "the plan no longer has its bath")
        if stage == Stage.STOCK.value and STOCK_IN in state.done:
            yield _to_end(wait, Stage.STOCK, "the stock is in the vat")


def _to_end(wait: Wait, stage: Stage, why: str) -> Notice:
    text = f"“{wait.label}” still runs, and {why}: once its heat is off, end it too (its number, then e)."
    return Notice(stage, Weight.CARE, text)
