"""What follows from the shelf's log: what there is, how much is left, what things cost, and what was noted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import datetime
from typing import Any, TypeVar, cast

from attrs import evolve, frozen

from vatside.catalogue.load import materials
from vatside.plan.figure_text import show_weighed
from vatside.plan.grouping import gathered
from vatside.shelf import events
from vatside.shelf.item_fields import DETAILS, PRICES, fits_detail, fits_price, item_problem
from vatside.units import Amount, Kind, to_base

T = TypeVar("T")


@frozen
class Prices:
    """What does not stand on the shelf and costs all the same; None where the dyer named no price."""

    currency: str = ""
    kwh: float | None = None
    """A kilowatt-hour."""
    water: float | None = None
    """A cubic metre."""
    hour: float | None = None
    """An hour of the dyer's work."""


@frozen
class Owned:
    """An item as it stands."""

    item: events.Item
    left: float
    """g, never below zero."""
    over: float
    """g used beyond what was there: the jar held more, or a spoon less, than is written down."""
    finished: bool
    uses: tuple[events.PowderUsed, ...]
    """Every use that counts, in the order of the log."""
    number: int = 0
    """Tells bags of one name apart, counted from 1 as they were bought; 0 for the only one of its name."""

    @property
    def name(self) -> str:
        """What the shelf calls it."""
        return substance(self.item) + self.which

    @property
    def which(self) -> str:
        """What tells it from other bags of the same substance, to be put after its name; empty if nothing does."""
        return _lot(self.item) + (f", bag {self.number}" if self.number else "")

    @property
    def opened(self) -> str | None:
        """Local day, `YYYY-MM-DD`: as written down, or else of its first use; None for a bag that is still whole."""
        used = [use.used for use in self.uses if use.grams > 0]
        return self.item.opened or (f"{min(used).astimezone():%Y-%m-%d}" if used else None)

    @property
    def purity(self) -> float:
        """Share of the active substance that it is dosed by: the label's, put right by its strike; at most 1."""
        return min(self._by_strike, 1.0)

    @property
    def purer_than_pure(self) -> bool:
        """The strips say more than any dye can hold: the old lot holds more than is written down."""
        return self._by_strike > 1.0

    @property
    def _by_strike(self) -> float:
        return share_of(self.item.purity) * share_of(self.item.strike)

    @property
    def active(self) -> float:
        """Active substance left, g."""
        return self.left * self.purity

    @property
    def price_per_gram(self) -> float | None:
        """In the shelf's currency; None without a price."""
        grams = to_base(self.item.mass, Kind.MASS)
        return self.item.price.value / grams if self.item.price is not None and grams > 0 else None


@frozen
class Shelf:
    """Everything owned."""

    owned: tuple[Owned, ...] = ()
    prices: Prices = Prices()
    noted: tuple[events.Noted, ...] = ()
    """The log that it follows from."""
    elsewhere: tuple[events.PowderUsed, ...] = ()
    """Uses that came from no bag of this shelf, as the dyer said."""

    def __getitem__(self, item: str) -> Owned:
        """Give one item; KeyError if there is none of that id."""
        for owned in self.owned:
            if owned.item.id == item:
                return owned
        raise KeyError(item)

    @property
    def there(self) -> tuple[Owned, ...]:
        """Items of which something is left."""
        return tuple(owned for owned in self.owned if not owned.finished and owned.left > 0)


def substance(item: events.Item) -> str:
    """Name what an item holds."""
    known = materials().get(item.material)
    return known.name if known else item.material


def _lot(item: events.Item) -> str:
    return f", {item.lot}" if item.lot else ""


def share_of(percent: Amount) -> float:
    """Turn a percentage into a share of one."""
    return to_base(percent, Kind.PERCENT) / 100


def shelf(noted: tuple[events.Noted, ...]) -> Shelf:
    """Work out the shelf from its log; what does not fit stays in the log and changes nothing."""
    counts = _counting(noted)
    weighed = _weighed(counts)
    uses = _uses(counts)
    finished, by_item = _finished(counts), gathered((use.item, use) for use in uses.values())
    items = _items(counts).values()
    owned = _numbered(
        [_owned(item, weighed.get(item.id), by_item.get(item.id, ()), item.id in finished) for item in items]
    )
    return Shelf(owned, _prices(counts), noted, tuple(use for use in uses.values() if not use.item))


def _counting(noted: tuple[events.Noted, ...]) -> tuple[events.Noted, ...]:
    """Leave out what was taken back, wherever in the log that is said."""
    dropped = {entry.event.note for entry in noted if isinstance(entry.event, events.NoteDropped)}
    return tuple(entry for entry in noted if entry.id not in dropped) if dropped else noted


def _numbered(owned: list[Owned]) -> tuple[Owned, ...]:
    """Number the bags of which there are, or were, several of one name."""
    names = [substance(bag.item) + _lot(bag.item) for bag in owned]
    of_name, so_far = Counter(names), Counter[str]()
    numbered = []
    for bag, name in zip(owned, names, strict=True):
        so_far[name] += 1
        numbered.append(evolve(bag, number=so_far[name] if of_name[name] > 1 else 0))
    return tuple(numbered)


def _items(noted: tuple[events.Noted, ...]) -> dict[str, events.Item]:
    items: dict[str, events.Item] = {}
    for entry in noted:
        event = entry.event
        if isinstance(event, events.ItemBought) and item_problem(event.item) is None:
            items.setdefault(event.item.id, event.item)
        elif isinstance(event, events.ItemChanged) and event.item in items and fits_detail(event.detail, event.value):
            items[event.item] = _with(items[event.item], event.detail, event.value)
    return items


def _with(owner: T, name: str, value: object) -> T:
    return cast(T, evolve(cast(Any, owner), **{name: value}))


@frozen
class _Weighing:
    """What was there at a time."""

    grams: float
    at: datetime


def _weighed(noted: tuple[events.Noted, ...]) -> dict[str, _Weighing]:
    """The latest weighing of each item, by the time of day: only that tells which uses came after it."""
    latest: dict[str, _Weighing] = {}
    for entry in noted:
        event = entry.event
        if not isinstance(event, events.ItemWeighed) or not fits_detail("mass", event.left, empty=True):
            continue
        if event.item not in latest or entry.at >= latest[event.item].at:
            latest[event.item] = _Weighing(to_base(event.left, Kind.MASS), entry.at)
    return latest


def _uses(noted: tuple[events.Noted, ...]) -> dict[tuple[str, str, str], events.PowderUsed]:
    """The use that counts for each step and figure of each session."""
    latest: dict[tuple[str, str, str], events.PowderUsed] = {}
    for entry in noted:
        if isinstance(entry.event, events.PowderUsed) and entry.event.grams >= 0:
            latest[entry.event.session, entry.event.step, entry.event.figure] = entry.event
    return latest


def _owned(item: events.Item, base: _Weighing | None, mine: Sequence[events.PowderUsed], finished: bool) -> Owned:
    since = [use.grams for use in mine if base is None or use.used > base.at]
    there = base.grams if base else to_base(item.mass, Kind.MASS)
    rest = there - sum(since)
    return Owned(item, max(rest, 0.0), max(-rest, 0.0), finished, tuple(mine))


def _finished(noted: tuple[events.Noted, ...]) -> set[str]:
    """What is finished; a weighing after it was called so says that it is not."""
    finished: set[str] = set()
    for entry in noted:
        if isinstance(entry.event, events.ItemFinished):
            finished.add(entry.event.item)
        elif isinstance(entry.event, events.ItemWeighed):
            finished.discard(entry.event.item)
    return finished


def _prices(noted: tuple[events.Noted, ...]) -> Prices:
    prices = Prices()
    for entry in noted:
        event = entry.event
        if isinstance(event, events.PriceSet) and fits_price(event.name, event.value):
            value = event.value.value if isinstance(event.value, Amount) else event.value
            prices = _with(prices, event.name, "" if event.name == "currency" and value is None else value)
    return prices


_LABELS = {row.path: row.label for row in (*DETAILS, *PRICES)}


def event_words(event: events.ShelfEvent, shelf: Shelf) -> str:
    """Say what an event notes, on the shelf as it was before; empty for what this version does not know."""
    if isinstance(event, events.ItemBought):
        item = event.item
        return f"{substance(item)}, {show_weighed(item.material, to_base(item.mass, Kind.MASS))}, put on the shelf"
    if isinstance(event, events.PriceSet):
        return _LABELS.get(event.name, event.name)
    if not isinstance(event, events.ItemChanged | events.ItemFinished | events.ItemWeighed | events.PowderUsed):
        return ""
    name = next((owned.name for owned in shelf.owned if owned.item.id == event.item), "a bag that is not here")
    return f"{name}: {_said(event)}"


def _said(event: events.ItemChanged | events.ItemFinished | events.ItemWeighed | events.PowderUsed) -> str:
    if isinstance(event, events.ItemChanged):
        return _LABELS.get(event.detail, event.detail)
    return {events.ItemFinished: "finished", events.ItemWeighed: "weighed"}.get(type(event), "booked")
