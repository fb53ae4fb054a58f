"""How things stand in a session, as frozen values."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from attrs import evolve, field, frozen

from vatside.log.events.day import Entry
from vatside.log.growing import Grown
from vatside.log.moment import Moment
from vatside.log.open_waits import Waits
from vatside.log.pieces_state import Dipping
from vatside.log.session import Session
from vatside.log.vat_state import Tending
from vatside.log.waits import Wait
from vatside.plan.plan import Plan


@frozen
class Note:
    """Free words and when they were written."""

    at: Moment
    text: str


@frozen
class Misfit:
    """An event that could not be carried out; it stays in the log and changes nothing."""

    seq: int
    text: str


@frozen
class State:
    """How things stand after some entries of a log."""

    began: Session
    """The session without its log: what never changes."""
    plan: Plan
    """The plan now, changes and pins included."""
    done: Mapping[str, Moment]
    """Finished steps, by id."""
    acknowledged: Mapping[str, Mapping[str, tuple[Moment, str | None]]]
    """Cautions read, by step: when, and what each said of that step alone (None: a log of before did not tell)."""
    waits: Waits
    """Waits not ended yet, in the order in which they were started."""
    past_waits: Grown[Wait]
    """Ended waits, in the order in which they ended."""
    notes: Grown[Note]
    entries: tuple[Entry, ...]
    """The whole log, taken-back entries included."""
    undone: frozenset[int]
    """Numbers of the entries that are taken back."""
    misfits: Grown[Misfit]
    tending: Tending = field(factory=Tending)
    """The live vat: its account, readings and corrections."""
    dipping: Dipping = field(factory=Dipping)
    """The pieces: where they are, what they have on them, their swatches."""

    @property
    def session(self) -> str:
        """Id of the session."""
        return self.began.id

    @property
    def created(self) -> datetime:
        """When the session was begun."""
        return self.began.created

    @property
    def whole(self) -> Session:
        """The session with its whole log."""
        return evolve(self.began, entries=self.entries)

    @property
    def last(self) -> Moment | None:
        """When the latest entry was made; None for an empty log."""
        return self.entries[-1].at if self.entries else None

    @property
    def seq(self) -> int:
        """Number of the latest entry; 0 for an empty log."""
        return self.entries[-1].seq if self.entries else 0

    def wait(self, wait_id: str) -> Wait:
        """Give an open wait; KeyError if there is none of that id."""
        found = self.waits.get(wait_id)
        if found is None:
            raise KeyError(wait_id)
        return found


def initial_state(session: Session) -> State:
    """Give the state before the first entry."""
    return State(session.upto(0), session.plan, {}, {}, Waits(), Grown(), Grown(), (), frozenset(), Grown())
