"""What can happen to a stock between two days: past-tense, frozen payloads, each with a hand-written kind."""

from __future__ import annotations

from datetime import datetime
from typing import ClassVar

from attrs import frozen

from vatside.plan.plan import StockKept


@frozen
class StockTaken:
    """Another day took what stood in the jar; the jar is no longer this day's."""

    kind: ClassVar[str] = "stock_taken"
    session: str
    """Id of the session that took it."""
    title: str
    """What that day is called."""
    stock: StockKept


@frozen
class StockCarriedOn:
    """The stock that another day left stands ready for this one's vat."""

    kind: ClassVar[str] = "stock_carried_on"
    session: str
    """Id of the session that left it."""
    title: str
    """What that day was called."""
    taken: datetime
    """When; aware, in UTC."""
    stock: StockKept


StockEvent = StockTaken | StockCarriedOn
