"""What can happen to a live vat, its pieces and its stock: past-tense, frozen payloads, each with a hand-written kind.

A piece goes by `LOT.NUMBER`, counted from 1. A stock, or a vat, comes from one day and goes to another.
"""

from __future__ import annotations

from datetime import datetime
from typing import ClassVar

from attrs import frozen

from vatside.plan.plan import Learned, StockKept
from vatside.units import Amount
from vatside.vat.kept_vat import KeptVat
from vatside.vat.reading import Reading


@frozen
class VatMade:
    """The stock went into the tub: from here on the account of the vat runs."""

    kind: ClassVar[str] = "vat_made"
    volume: Amount | None = None
    """Liquor in the tub as measured; None: as planned."""
    temperature: Amount | None = None
    """As measured, or as a stock that was read made it; None: as planned."""


@frozen
class ReadingTaken:
    """The dyer measured and looked."""

    kind: ClassVar[str] = "reading_taken"
    reading: Reading


@frozen
class PHTrusted:
    """A pH that was read counts as the true one: the account's alkali is put right by it."""

    kind: ClassVar[str] = "ph_trusted"
    pH: float  # noqa: N815  (chemistry's own symbol)
    temperature: Amount | None = None
    """Of the sample; None: as warm as the vat."""


@frozen
class DyeSeen:
    """A reading that leaves no doubt says how the dye stands: the account follows it."""

    kind: ClassVar[str] = "dye_seen"
    reduced: bool
    """All of it, and the reducer alive; else all of it blue and the reducer spent."""


@frozen
class CorrectionMade:
    """Something was done to the vat; what went in, if anything, in the order of the fields."""

    kind: ClassVar[str] = "correction_made"
    finding: str = ""
    """Id of the finding it was for; empty for an addition of her own."""
    remedy: str = ""
    taken_out: Amount | None = None
    """Liquor taken out first."""
    material: str = ""
    """A material's id or a role of the method."""
    amount: Amount | None = None
    """Of the material: a mass, spoons, or a volume of a liquid."""
    stock: Amount | None = None
    """Volume of stock brought in."""
    water: Amount | None = None
    water_temperature: Amount | None = None
    """None: as warm as the vat."""
    insisted: bool = False
    """The tool had refused, and the dyer said twice that it is to be done."""
    warmed_to: Amount | None = None
    """How warm the vat was made first, by what adds nothing to it: a hot bath, a hob."""


@frozen
class VolumeMeasured:
    """The dyer measured how much liquor stands in the tub: what is dissolved in it stays."""

    kind: ClassVar[str] = "volume_measured"
    volume: Amount


@frozen
class LotDipped:
    """Pieces of a lot went through the vat once."""

    kind: ClassVar[str] = "lot_dipped"
    lot: str
    pieces: int
    minutes: float
    """In the vat, each."""


@frozen
class VatSpent:
    """The dyer stirred the vat in the air until it stayed blue."""

    kind: ClassVar[str] = "vat_spent"


@frozen
class VatLetGo:
    """The vat was got rid of; the record that is kept of it."""

    kind: ClassVar[str] = "vat_let_go"
    volume: Amount
    pH_before: float | None  # noqa: N815  (chemistry's own symbol)
    """Before the acid."""
    acid: str
    """A material's id; empty if none was needed."""
    acid_amount: Amount | None
    pH_after: float | None  # noqa: N815  (chemistry's own symbol)
    where: str
    """In the dyer's words."""


CareEvent = (
    VatMade | ReadingTaken | DyeSeen | PHTrusted | CorrectionMade | VolumeMeasured | LotDipped | VatSpent | VatLetGo
)  # fmt: skip


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


@frozen
class VatKept:
    """The vat is kept for another day."""

    kind: ClassVar[str] = "vat_kept"
    vat: KeptVat


@frozen
class VatCarriedOn:
    """The session carries on from the vat that another one kept."""

    kind: ClassVar[str] = "vat_carried_on"
    session: str
    """Id of the session that kept it."""
    title: str
    """What that day was called."""
    kept: datetime
    """When it was kept; aware, in UTC."""
    vat: KeptVat


@frozen
class VatToppedUp:
    """The day's water, sharpening and stock went into the vat that was kept, as the plan has them."""

    kind: ClassVar[str] = "vat_topped_up"


KeptEvent = VatKept | VatCarriedOn | VatToppedUp
