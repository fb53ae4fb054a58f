"""The session itself: a plan and a log."""

from __future__ import annotations

from datetime import datetime

from attrs import evolve, frozen

from vatside.log.events.day import Entry
from vatside.plan.plan import Plan


@frozen
class Session:
    """Everything a session file holds; all else follows from it and the clock."""

    id: str
    created: datetime
    """Aware, in UTC."""
    plan: Plan
    """The plan as the session began with; what changed on the fly is in the log."""
    entries: tuple[Entry, ...] = ()

    @property
    def seq(self) -> int:
        """Number of the latest entry; 0 for an empty log."""
        return self.entries[-1].seq if self.entries else 0

    def upto(self, seq: int) -> Session:
        """Give the session as it was after entry number `seq`; 0 for the bare plan."""
        return evolve(self, entries=self.entries[: max(seq, 0)])
