"""What can happen to the shelf: past-tense, frozen payloads, each with a hand-written kind."""

from __future__ import annotations

from datetime import datetime
from typing import ClassVar

from attrs import frozen

from vatside.log.events.day import Unknown
from vatside.plan.paths import FieldValue
from vatside.units import Amount

FULL_STRIKE = Amount(100, "%")


@frozen
class Item:
    """One bag, tin or bottle."""

    id: str
    material: str
    """A material id of the catalogue."""
    mass: Amount
    """What it held when it was bought."""
    purity: Amount
    """Share of the active substance by its label, %."""
    lot: str = ""
    """What its lot is called; empty if it has no name."""
    spoon_mass: Amount | None = None
    """Grams in one level teaspoon, weighed by the dyer."""
    price: Amount | None = None
    """Paid for all of it, a plain number in the shelf's currency."""
    bought: str | None = None
    """Local day, `YYYY-MM-DD`."""
    opened: str | None = None
    strike: Amount = FULL_STRIKE
    """How it strikes beside the lot it is held against, at the same weight of indigotin by the label, %."""


@frozen
class ItemBought:
    """Something new stands on the shelf."""

    kind: ClassVar[str] = "item_bought"
    item: Item


@frozen
class ItemChanged:
    """One detail of an item was set."""

    kind: ClassVar[str] = "item_changed"
    item: str
    detail: str
    """`material`, `lot`, `mass`, `purity`, `spoon_mass`, `price`, `bought`, `opened` or `strike`."""
    value: FieldValue


@frozen
class ItemWeighed:
    """The dyer weighed what is left; whatever was used before no longer counts."""

    kind: ClassVar[str] = "item_weighed"
    item: str
    left: Amount


@frozen
class ItemFinished:
    """Nothing is left of it, or it was thrown away."""

    kind: ClassVar[str] = "item_finished"
    item: str


@frozen
class PowderUsed:
    """A step of a session used some of an item; a later event for the same step and figure takes its place."""

    kind: ClassVar[str] = "powder_used"
    item: str
    """Its id; empty if it came from no bag of this shelf."""
    session: str
    title: str
    """What that day was called."""
    step: str
    figure: str
    grams: float
    """As weighed; 0 if it turned out that nothing was used."""
    used: datetime
    """When the step was done; aware, in UTC."""


@frozen
class PriceSet:
    """A price that belongs to no item was set."""

    kind: ClassVar[str] = "price_set"
    name: str
    """`currency`, `kwh`, `water` (a cubic metre) or `hour` (of work)."""
    value: FieldValue


@frozen
class NoteDropped:
    """An entry of this log was written by mistake: everything follows as if it were not there."""

    kind: ClassVar[str] = "note_dropped"
    note: str
    """Id of that entry; what drops another cannot be dropped itself."""


ShelfEvent = ItemBought | ItemChanged | ItemWeighed | ItemFinished | PowderUsed | PriceSet | NoteDropped | Unknown


@frozen
class Noted:
    """One line of the shelf's log."""

    seq: int
    """One more than the highest that its writer had seen; two windows may write the same."""
    id: str
    """Unique; tells two entries of one number apart, in an order that is the same everywhere."""
    at: datetime
    """Aware, in UTC."""
    event: ShelfEvent

    @property
    def order(self) -> tuple[int, str]:
        """Where it stands in the log, whoever reads it."""
        return self.seq, self.id


def merged(one: tuple[Noted, ...], other: tuple[Noted, ...]) -> tuple[Noted, ...]:
    """Put two logs of one shelf together: every entry once, in the order that each window comes to."""
    found = {entry.id: entry for entry in sorted((*one, *other), key=repr)}
    return tuple(sorted(found.values(), key=lambda entry: entry.order))
