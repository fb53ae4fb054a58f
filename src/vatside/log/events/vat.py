"""What can happen to a live vat: past-tense, frozen payloads, each with a hand-written kind."""

from __future__ import annotations

from typing import ClassVar

from attrs import frozen

from vatside.units import Amount
from vatside.vat.reading import Reading


@frozen
class VatMade:
    """The stock went into the tub: from here on the account of the vat runs."""

    kind: ClassVar[str] = "vat_made"
    volume: Amount | None = None
    """Liquor in the tub as measured; None: as planned."""
    temperature: Amount | None = None
    """As measured; None: as planned."""


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
    VatMade | ReadingTaken | PHTrusted | CorrectionMade | VolumeMeasured | LotDipped | VatSpent | VatLetGo
)  # fmt: skip
