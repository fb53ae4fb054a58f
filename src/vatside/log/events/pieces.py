"""What can happen to the pieces: past-tense, frozen payloads, each with a hand-written kind.

A piece goes by `LOT.NUMBER`, counted from 1.
"""

from __future__ import annotations

from typing import ClassVar

from attrs import frozen

from vatside.plan.plan import Learned
from vatside.units import Amount


@frozen
class DipStarted:
    """A piece was lowered into the vat."""

    kind: ClassVar[str] = "dip_started"
    piece: str
    minutes: float
    """How long it is to stay."""


@frozen
class DipEnded:
    """A piece was lifted out and hung in the air."""

    kind: ClassVar[str] = "dip_ended"
    piece: str
    air: float
    """Minutes it is to air."""


@frozen
class PieceTurned:
    """A piece was turned, or its folds opened, in the vat or in the air."""

    kind: ClassVar[str] = "piece_turned"
    piece: str


@frozen
class PieceDone:
    """A piece has had its last dip: it is as deep as wanted, or as it will be."""

    kind: ClassVar[str] = "piece_done"
    piece: str


@frozen
class PieceBack:
    """A piece that was done takes turns again."""

    kind: ClassVar[str] = "piece_back"
    piece: str


@frozen
class DipsPlanned:
    """The dyer wants a piece to have more dips than were planned for it."""

    kind: ClassVar[str] = "dips_planned"
    piece: str
    dips: int
    """In all, at least."""


@frozen
class PieceNamed:
    """The dyer gave a piece a name of its own; an empty one takes it away."""

    kind: ClassVar[str] = "piece_named"
    piece: str
    name: str


@frozen
class UptakeLearned:
    """The dips go by the dyer's own recorded colours from here on, as far as these are sure."""

    kind: ClassVar[str] = "uptake_learned"
    learned: tuple[Learned, ...]


@frozen
class SwatchRecorded:
    """The colour of a dry, finished piece: measured, picked from the ladder, or graded against a step of it."""

    kind: ClassVar[str] = "swatch_recorded"
    piece: str
    """The piece, or a lot's id where all its pieces are alike."""
    lab: tuple[float, ...] = ()
    """L*, a* and b* under D65 for the observer of 2 degrees; empty if it was not measured."""
    step: Amount | None = None
    """The depth (% on weight of fibre) of the step picked, or held against."""
    grade: float | None = None
    """Grey-scale grade of the change from that step; None: it looks the same."""
    darker: bool = False
    """Darker than the step; False: paler."""


@frozen
class DryMassTaken:
    """A lot was weighed, dry for a day in the room."""

    kind: ClassVar[str] = "dry_mass_taken"
    lot: str
    mass: Amount
    before: bool = False
    """Before the vat; False: dyed and finished."""


DipEvent = (
    DipStarted | DipEnded | PieceTurned | PieceDone | PieceBack | DipsPlanned | PieceNamed | SwatchRecorded
    | UptakeLearned
    | DryMassTaken
)  # fmt: skip
