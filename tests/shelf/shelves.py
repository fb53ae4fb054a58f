"""Shelves for the tests."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from hypothesis import strategies as st
from tests.log.strategies import AMOUNTS, JSON, TEXT, UTC_TIMES, VALUES

from vatside.log.events.day import Unknown
from vatside.shelf.events import (
    Item,
    ItemBought,
    ItemChanged,
    ItemFinished,
    ItemWeighed,
    Noted,
    NoteDropped,
    PowderUsed,
    PriceSet,
    ShelfEvent,
)
from vatside.shelf.shelf import Shelf, shelf
from vatside.shelf.shelf_file import SHELF_LOG
from vatside.units import Amount

MAY = datetime(2026, 5, 1, 8, 0, tzinfo=UTC)


def item(name: str = "i1", material: str = "indigo", grams: float = 100, **more: object) -> Item:
    """A bag of something."""
    return Item(name, material, Amount(grams, "g"), Amount(40, "%"), **more)  # type: ignore[arg-type]


def used(name: str, grams: float, day: int = 1, session: str = "s1", step: str = "stock.paste") -> PowderUsed:
    """A step that used some of an item, on a day of May."""
    return PowderUsed(name, session, "Day", step, "stock.pigment", grams, MAY + timedelta(days=day - 1))


def noted(*events: ShelfEvent, day: int = 1) -> tuple[Noted, ...]:
    """Note events one after another, an hour apart."""
    return tuple(
        Noted(number, f"e{number}", MAY + timedelta(days=day - 1, hours=number), event)
        for number, event in enumerate(events, start=1)
    )


def of(*events: ShelfEvent) -> Shelf:
    """The shelf after these events."""
    return shelf(noted(*events))


IDS = st.sampled_from(["i1", "i2", "i3"])
ITEMS = st.builds(
    Item, IDS, st.sampled_from(["indigo", "lye", "soap", "moon dust"]), AMOUNTS, AMOUNTS, TEXT, AMOUNTS | st.none(),
    AMOUNTS | st.none(), TEXT | st.none(), TEXT | st.none(), AMOUNTS,
)  # fmt: skip
EVENTS: st.SearchStrategy[ShelfEvent] = st.one_of(
    st.builds(ItemBought, ITEMS | st.builds(item, IDS, st.sampled_from(["indigo", "lye"]), st.floats(1, 1000))),
    st.builds(ItemChanged, IDS, st.sampled_from(["lot", "mass", "purity", "strike", "id", "price", "x"]), VALUES),
    st.builds(ItemWeighed, IDS, AMOUNTS | st.floats(0, 1000).map(lambda grams: Amount(grams, "g"))),
    st.builds(ItemFinished, IDS),
    st.builds(PowderUsed, IDS, IDS, TEXT, IDS, IDS, st.floats(-10, 100), UTC_TIMES),
    st.builds(NoteDropped, st.integers(0, 10**6).map(lambda number: f"n{number}")),
    st.builds(PriceSet, st.sampled_from(["currency", "kwh", "water", "hour", "x"]), VALUES),
    st.builds(
        Unknown,
        st.sampled_from(["item_lent", "unknown"]),
        st.dictionaries(TEXT.filter(lambda name: name not in SHELF_LOG.head), JSON, max_size=3),
    ),
)


@st.composite
def logs(draw: st.DrawFn, most: int = 12) -> tuple[Noted, ...]:
    """Logs that one window wrote: numbers rise, ids differ."""
    events = draw(st.lists(EVENTS, max_size=most))
    seqs = sorted(draw(st.lists(st.integers(1, 30), min_size=len(events), max_size=len(events))))
    ids = draw(st.lists(st.integers(0, 10**6), min_size=len(events), max_size=len(events), unique=True))
    pairs = zip(seqs, ids, events, strict=True)
    return tuple(Noted(seq, f"n{number}", draw(UTC_TIMES), event) for seq, number, event in pairs)
