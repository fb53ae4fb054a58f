"""What can happen in a session: past-tense, frozen payloads, each with a hand-written kind."""

from __future__ import annotations

from datetime import datetime
from typing import ClassVar

from attrs import frozen

from vatside.log.events.vat import CareEvent, DipEvent, KeptEvent, StockEvent
from vatside.log.waits import Moment
from vatside.plan.plan import FieldValue, Lot, ShelfEntry
from vatside.units import Amount


@frozen
class PlanChanged:
    """The dyer set one field of the plan."""

    kind: ClassVar[str] = "plan_changed"
    path: str
    value: FieldValue


@frozen
class PiecesWeighed(PlanChanged):
    """The dyer wrote the weight of a lot as so many pieces of so much: the pieces are as many."""

    kind: ClassVar[str] = "pieces_weighed"
    pieces: int


@frozen
class MethodChosen(PlanChanged):
    """The dyer chose another kind of vat: lots, tubs and water stay, amounts held for the other kind are let go."""

    kind: ClassVar[str] = "method_chosen"


@frozen
class LotAdded:
    """One more lot joined the plan."""

    kind: ClassVar[str] = "lot_added"
    lot: Lot


@frozen
class LotRemoved:
    """A lot left the plan."""

    kind: ClassVar[str] = "lot_removed"
    lot: str


@frozen
class PinSet:
    """The dyer fixed a figure by hand."""

    kind: ClassVar[str] = "pin_set"
    figure: str
    amount: Amount


@frozen
class PinCleared:
    """The dyer let a figure follow the plan again."""

    kind: ClassVar[str] = "pin_cleared"
    figure: str


@frozen
class Put:
    """What one place of the plan, or one figure, was set to."""

    path: str
    amount: Amount | None
    """None lets a figure follow the plan again."""


@frozen
class AdviceTaken:
    """The dyer took what a notice offered to put it right, all at once."""

    kind: ClassVar[str] = "advice_taken"
    label: str
    """What was offered, in the words she read."""
    places: tuple[Put, ...]


@frozen
class StepDone:
    """A step was finished."""

    kind: ClassVar[str] = "step_done"
    step: str


@frozen
class StepReopened:
    """A finished step turned out not to be."""

    kind: ClassVar[str] = "step_reopened"
    step: str


@frozen
class CautionAcknowledged:
    """The dyer read the cautions that stand before a step."""

    kind: ClassVar[str] = "caution_acknowledged"
    step: str
    cautions: tuple[str, ...]
    here: tuple[str, ...] = ()
    """What each of them said of this step alone; none: a log of before did not tell."""


@frozen
class ReducerFound:
    """The tub of reducer was looked into and found damp or warm: nothing of it is to go in."""

    kind: ClassVar[str] = "reducer_found"
    tub: str
    """How it was found, in words."""


@frozen
class DoneAllTheSame:
    """The dyer did what was refused or doubted; the act itself is the next entry of the same moment."""

    kind: ClassVar[str] = "done_all_the_same"
    rule: str
    """Which interlock had spoken."""
    subject: str
    """The step, piece or powder that it was about."""
    why: str
    """The reason as she read it."""


@frozen
class WaitStarted:
    """A soak, hold or rest began."""

    kind: ClassVar[str] = "wait_started"
    wait: str
    """Id of this running of the wait, unique in the session."""
    step: str | None
    """The step it belongs to; None for a free wait."""
    label: str
    minutes: float
    nudges: tuple[float, ...] = ()
    """Minutes after the start at which to stir or turn."""
    nudge_labels: tuple[str, ...] = ()
    """What each nudge asks for; a nudge beyond them asks for nothing in particular."""


@frozen
class WaitPaused:
    """A running wait was stopped for a while."""

    kind: ClassVar[str] = "wait_paused"
    wait: str


@frozen
class WaitResumed:
    """A paused wait runs on."""

    kind: ClassVar[str] = "wait_resumed"
    wait: str


@frozen
class WaitExtended:
    """Minutes were added to a wait (or, if negative, taken off)."""

    kind: ClassVar[str] = "wait_extended"
    wait: str
    minutes: float


@frozen
class WaitEnded:
    """The dyer ended a wait, early or once it was over; its alarm is quiet from now on."""

    kind: ClassVar[str] = "wait_ended"
    wait: str


@frozen
class AlarmQuieted:
    """The dyer heard the alarm of a wait (or of its latest nudge); it stays on the screen."""

    kind: ClassVar[str] = "alarm_quieted"
    wait: str


@frozen
class NoteWritten:
    """Free words for the log."""

    kind: ClassVar[str] = "note_written"
    text: str


@frozen
class Undone:
    """An earlier event is taken back."""

    kind: ClassVar[str] = "undone"
    event: int
    """The `seq` of the event taken back."""


@frozen
class ClockSlept:
    """The machine was asleep, or the program stopped, for a while."""

    kind: ClassVar[str] = "clock_slept"
    seconds: float


@frozen
class ClockStepped:
    """The wall clock was set while a session was open."""

    kind: ClassVar[str] = "clock_stepped"
    seconds: float


@frozen
class ClockCorrected:
    """The dyer said how much more time really went by than the clocks show (or, if negative, less)."""

    kind: ClassVar[str] = "clock_corrected"
    seconds: float


@frozen
class SessionReopened:
    """The session was opened again; running waits are tied to the clocks of this run from here on."""

    kind: ClassVar[str] = "session_reopened"


@frozen
class DayLaid:
    """The day was laid out so: as it was begun, or when a better plan took the place of the one that was followed.

    Every plan of the day after it is this one, held: a day that is opened again shows what it showed.
    """

    kind: ClassVar[str] = "day_laid"
    begin: datetime
    """Minute 0; aware, in UTC."""
    starts: dict[str, int]
    """The minute at which each task begins."""
    rounds: tuple[str, ...]
    """Those that are rounds of dips, in their order."""
    nudges: dict[str, tuple[int, ...]]
    """Minutes at which the wait of a task is looked after."""
    breaks: tuple[tuple[int, int], ...]
    """Minute and length of each break; below zero one that has begun."""
    units: dict[str, int]
    """Which of several alike things is held, by the number of the span."""


@frozen
class PowderTaken:
    """A powder or liquid of the shelf went into the plan, with its purity and its spoon."""

    kind: ClassVar[str] = "powder_taken"
    place: str
    """The role that it fills in the method, or the material's id."""
    item: str
    """Its id on the shelf."""
    lot: str
    """What its lot was called then; empty if it has no name."""
    entry: ShelfEntry


@frozen
class ColourNoted:
    """The blue that a lot came out with, dry and finished; a later one for the same lot counts instead."""

    kind: ClassVar[str] = "colour_noted"
    lot: str
    words: str = ""
    depth: Amount | None = None
    """By the dyer's own swatches, % on weight of fibre."""
    lab: tuple[float, ...] = ()
    """L*, a* and b* as measured; empty if they were not."""


@frozen
class Unknown:
    """An event of a kind that a newer version wrote; carried through unchanged."""

    kind: ClassVar[str] = "unknown"
    name: str
    """The kind as written in the file."""
    body: dict[str, object]


Event = (
    PlanChanged | PiecesWeighed | MethodChosen | LotAdded | LotRemoved | PinSet | PinCleared | AdviceTaken
    | StepDone | StepReopened | CautionAcknowledged | ReducerFound | DoneAllTheSame
    | WaitStarted | WaitPaused | WaitResumed | WaitExtended | WaitEnded | AlarmQuieted
    | NoteWritten | Undone | ClockSlept | ClockStepped | ClockCorrected | SessionReopened | DayLaid
    | PowderTaken | ColourNoted | KeptEvent | StockEvent | CareEvent | DipEvent | Unknown
)  # fmt: skip
OF_LOOKING = (ClockSlept, ClockStepped, ClockCorrected, SessionReopened, DayLaid)
"""What is written of a day that somebody only looks at: nothing of it was done."""


@frozen
class Entry:
    """One line of the log: what happened, when, and in which order."""

    seq: int
    """1, 2, 3, …: order comes from here, never from the time."""
    at: Moment
    event: Event
