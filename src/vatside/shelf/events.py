"""What can happen to the shelf: past-tense, frozen payloads, each with a hand-written kind; and how a new lot strikes.

A new lot of pigment is dosed so that it strikes like the one that the dyer knows: two strips side by side.
"""

from __future__ import annotations

import re
from datetime import datetime
from typing import ClassVar

from attrs import frozen

from vatside.catalogue.dyeing import ladder
from vatside.chemistry.colour import Lab
from vatside.chemistry.shade import Strip, k_over_s_of, nearly_alike, strength_beside
from vatside.dips.depth import Picked
from vatside.log.events.day import Unknown
from vatside.plan.plan import FieldValue
from vatside.units import Amount, Problem, show_concentration, show_percent

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
    by_id = {entry.id: entry for entry in sorted((*one, *other), key=repr)}
    return tuple(sorted(by_id.values(), key=lambda entry: entry.order))


WEAKEST, STRONGEST = 0.1, 10.0
"""Beyond these the strips were not dyed alike, or one of them is no indigo. Ours, no source."""
HOW_TO_WRITE = "a swatch of your ladder (0.8 %, medium), or L* a* b* as measured (40 -2 -24)"
_NUMBER = r"[-−+]?\d+(?:[.,]\d+)?"
_LAB = re.compile(rf"(?:L\*?\s*a\*?\s*b\*?\s*:?\s*)?({_NUMBER})[\s;,/]+({_NUMBER})[\s;,/]+({_NUMBER})", re.IGNORECASE)
_DEPTH = re.compile(r"(\d+(?:[.,]\d+)?)\s*%")


@frozen
class Dyed:
    """What the dyer did with one lot, and what came of it."""

    powder: float
    """Of the lot in the bath, as weighed, g/L."""
    purity: float
    """Share that the lot counts as: the old one as it is dosed, the new one by its label."""
    seen: Lab | Picked

    @property
    def strip(self) -> Strip:
        """The strip as the arithmetic takes it. Raises `OutOfRange` for a bath or a colour of nothing."""
        colour = self.seen.depth if isinstance(self.seen, Picked) else k_over_s_of(self.seen)
        return Strip(self.powder * self.purity, colour)


@frozen
class Strike:
    """How a new lot strikes beside the old one."""

    factor: float
    """1.1: a tenth more colour from what should be as much indigotin."""
    working: tuple[str, ...]
    """In words, a line for each step."""
    caution: str
    """Why it is less sure than it could be; empty if it is not."""

    @property
    def percent(self) -> Amount:
        """As the shelf writes it down."""
        return Amount(round(100 * self.factor, 1), "%")


def strike(old: Dyed, new: Dyed) -> Strike:
    """Work out how a new lot strikes from two strips dyed alike; ValueError, in words, if they cannot say it.

    Same fibre, same dips, same recipe but for the lot [KubelkaMunk].
    """
    if type(old.seen) is not type(new.seen):
        raise ValueError("both strips by L*a*b*, or both by a swatch: one of each cannot be compared")
    one, other = old.strip, new.strip
    factor = strength_beside(one, other)
    if not WEAKEST <= factor <= STRONGEST:
        raise ValueError("one strip is more than ten times the other: dip both again, alike")
    counts = new.purity * factor
    if counts > 1:
        raise ValueError(
            f"{show_percent(100 * factor)} would make it {show_percent(100 * counts)} pure, more than pure dye: "
            "is the old batch's purity right, and were the strips dipped alike?"
        )
    working = (
        _line("Old", old, one),
        _line("New", new, other),
        f"{other.each:.3g} ÷ {one.each:.3g} = {show_percent(100 * factor)}: "
        f"{show_percent(100 * new.purity)} by its label counts as {show_percent(100 * counts)}",
    )
    return Strike(factor, working, _caution(old, new, factor))


def _line(name: str, dyed: Dyed, strip: Strip) -> str:
    what = f"K/S {strip.colour:.3g} at L* {dyed.seen.L:g}" if isinstance(dyed.seen, Lab) else f"{strip.colour:.3g} %"
    bath = f"{show_concentration(dyed.powder)} × {show_percent(100 * dyed.purity)} = {show_concentration(strip.bath)}"
    return f"{name}: {what}; {bath}; {strip.each:.3g} for each g/L"


def _caution(old: Dyed, new: Dyed, factor: float) -> str:
    if nearly_alike(old.strip, new.strip):
        return ""
    again = old.powder * old.purity / (new.purity * factor)
    return f"The strips are far apart: dip the new batch once more at {show_concentration(again)}; two alike tell most."


def struck(item: str, outcome: Strike) -> ItemChanged:
    """Give the event that lets an item be dosed to match the old lot."""
    return ItemChanged(item, "strike", outcome.percent)


def read_seen(text: str) -> Lab | Picked | Problem:
    """Read the colour of a strip: a depth in % or in words, or L*a*b*."""
    typed = " ".join(text.split())
    rung = next((rung for rung in ladder() if rung.name == typed.casefold()), None)
    if rung is not None:
        return Picked(rung.depth)
    lab, depth = _LAB.fullmatch(typed), _DEPTH.fullmatch(typed)
    if lab:
        lightness, a, b = (_number(part) for part in lab.groups())
        return (
            Lab(lightness, a, b) if 0 <= lightness <= 100 else Problem(f"L* lies between 0 and 100, not {lightness:g}")
        )
    return Picked(_number(depth[1])) if depth else Problem(f"Write {HOW_TO_WRITE}")


def _number(text: str) -> float:
    return float(text.replace(",", ".").replace("−", "-"))
