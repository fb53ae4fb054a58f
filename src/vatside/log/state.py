"""How things stand in a session, as frozen values: the session itself, its pieces, its vat, and which entries count."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from typing import TypeVar

from attrs import evolve, field, frozen

from vatside.chemistry.bath import Bath
from vatside.dips.depth import Seen
from vatside.dips.own_results import OnPiece
from vatside.dips.rotation import Place
from vatside.log.events.day import OF_LOOKING, DayLaid, Entry, Event
from vatside.log.events.vat import CorrectionMade, VatKept, VatLetGo
from vatside.log.persistent import AppendOnly, Waits
from vatside.log.waits import Moment, Wait
from vatside.plan.plan import Plan
from vatside.vat.account import Account
from vatside.vat.account_changes import Keeping
from vatside.vat.reading import Reading


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


@frozen
class PieceState:
    """Where a piece is, and what it has on it."""

    place: Place
    dips: int
    """Begun, the running one included."""
    since: Moment
    """When it came there."""
    wait: str | None = None
    """The wait that counts its dip or its air."""
    on: OnPiece = field(factory=OnPiece)
    """By the account of the vat."""


@frozen
class Entered:
    """One piece's time in the vat."""

    piece: str
    start: Moment
    end: Moment | None = None
    """None while it is in."""
    celsius: float | None = None
    """How warm the vat was by the clock when it went in; None where that was not known."""


@frozen
class Recorded:
    """A swatch and when it was recorded."""

    at: Moment
    piece: str
    """The piece, or a lot's id."""
    seen: Seen


@frozen
class Dipping:
    """The pieces from the first dip to the finish."""

    pieces: Mapping[str, PieceState] = field(factory=dict)
    """By piece id; one that is not here has not been in yet."""
    entered: tuple[Entered, ...] = ()
    """In the order in which they went in."""
    names: Mapping[str, str] = field(factory=dict)
    """Names that the dyer gave, by piece id."""
    swatches: tuple[Recorded, ...] = ()
    at_least: Mapping[str, int] = field(factory=dict)
    """Dips in all that the dyer wants a piece to have, however few its depth takes; by piece id."""


@frozen
class TakenReading:
    """A reading and when it was taken."""

    at: Moment
    reading: Reading


@frozen
class Clocked:
    """What it takes to follow the vat by the clock."""

    at: Moment
    """When the account stood so."""
    per_minute: float = 0.0
    """At which the vat cools by its own readings [Newton]; 0 while none tell."""
    error: float = 0.0
    """Share by which that may be off."""
    undisturbed: int = 0
    """Readings before the last thing that warmed or cooled it: two after them tell how fast it cools."""
    lid: bool = False
    """It was covered, to be kept."""
    colder: float = 0.0
    """K by which it may be colder than its account says: since its temperature was read, time has gone by."""
    warmer: float = 0.0
    """K by which it may be warmer."""


@frozen
class Stood:
    """The vat from a moment on, as long as nothing but the clock changes it."""

    account: Account
    """As it began."""
    known: Clocked
    how: Keeping


def changes_pH(event: CorrectionMade) -> bool:
    """Tell whether something went in that a pH read before knows nothing of."""
    return any(item is not None for item in (event.amount, event.stock, event.water))


@frozen
class MadeCorrection:
    """A correction, when it was made, and how many readings had been taken by then."""

    at: Moment
    event: CorrectionMade
    readings: int
    before: Account | None = None
    """The vat as it stood before; None where none was known."""


@frozen
class Tending:
    """The vat from its making to its end."""

    account: Account | None = None
    """What is believed to be in it; None before it is made and after it is let go."""
    readings: tuple[TakenReading, ...] = ()
    corrections: tuple[MadeCorrection, ...] = ()
    seen_spent: bool = False
    """The dyer saw it stay blue; anything but acid that goes in takes that back."""
    let_go: VatLetGo | None = None
    jar: Bath | None = None
    """What is left of the stock once the vat is let go; until then its account has it."""
    gone: Account | None = None
    """What was in it when it was let go."""
    topped_up: bool = False
    """A vat carried on from another day has got this day's water, powders and stock."""
    clocked: Clocked | None = None
    """None without an account."""
    stood: AppendOnly[Stood] = field(factory=AppendOnly)
    """The vat as it stood before: each until the next begins, the last until `clocked`, or for one let go its end."""

    @property
    def made_since(self) -> tuple[MadeCorrection, ...]:
        """The corrections made since the latest reading."""
        return tuple(made for made in self.corrections if made.readings == len(self.readings))

    @property
    def put_in_since(self) -> bool:
        """Something went in since the latest reading, so that its pH is not that of the vat any more."""
        return any(changes_pH(made.event) for made in self.made_since)


def waits_for(tending: Tending, waits: Iterable[Wait]) -> tuple[Wait, ...]:
    """Give the open waits that were started with a correction: a reading answers what they wait for."""
    moments = {made.at for made in tending.corrections}
    return tuple(wait for wait in waits if wait.step is None and wait.started in moments)


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
    done: Mapping[str, Moment] = field(factory=dict)
    """Finished steps, by id."""
    acknowledged: Mapping[str, Mapping[str, tuple[Moment, str | None]]] = field(factory=dict)
    """Cautions read, by step: when, and what each said of that step alone (None: a log of before did not tell)."""
    waits: Waits = field(factory=Waits)
    """Waits not ended yet, in the order in which they were started."""
    past_waits: AppendOnly[Wait] = field(factory=AppendOnly)
    """Ended waits, in the order in which they ended."""
    notes: AppendOnly[Note] = field(factory=AppendOnly)
    entries: AppendOnly[Entry] = field(factory=AppendOnly)
    """The whole log, taken-back entries included."""
    undone: frozenset[int] = frozenset()
    """Numbers of the entries that are taken back."""
    misfits: AppendOnly[Misfit] = field(factory=AppendOnly)
    tending: Tending = field(factory=Tending)
    """The live vat: its account, readings and corrections."""
    dipping: Dipping = field(factory=Dipping)
    """The pieces: where they are, what they have on them, their swatches."""
    laid: DayLaid | None = None
    """The plan of the day that is followed; None before the first step, and in a log of before."""

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
        return evolve(self.began, entries=tuple(self.entries))

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
        wait = self.waits.get(wait_id)
        if wait is None:
            raise KeyError(wait_id)
        return wait


def initial_state(session: Session) -> State:
    """Give the state before the first entry."""
    return State(session.upto(0), session.plan)


def last_act(entries: Sequence[Entry]) -> Entry | None:
    """Give the entry of the last thing that was done, not of a look at the day; None if nothing was."""
    return next((entry for entry in reversed(entries) if not isinstance(entry.event, OF_LOOKING)), None)


def counted(state: State) -> Iterator[Entry]:
    """Entries that count: neither taken back nor without effect."""
    out = state.undone | {misfit.seq for misfit in state.misfits}
    return (entry for entry in state.entries if entry.seq not in out)


Kind = TypeVar("Kind")


def events_of(state: State, kind: type[Kind]) -> tuple[Kind, ...]:
    """Give the events of one kind that count, in their order."""
    return tuple(entry.event for entry in counted(state) if isinstance(entry.event, kind))


def last_event(state: State, kind: type[Kind]) -> Kind | None:
    """Give the latest event of one kind that counts; None if there is none."""
    return next(reversed(events_of(state, kind)), None)


def happened(state: State, kind: type[Event]) -> tuple[Entry, ...]:
    """Give the entries of one kind that count."""
    return tuple(entry for entry in counted(state) if isinstance(entry.event, kind))


def is_over(state: State) -> bool:
    """Tell whether the vat of a day was kept or let go."""
    return any(isinstance(entry.event, VatKept | VatLetGo) for entry in counted(state))
