"""What was noted on the shelf, in a few words."""

from __future__ import annotations

from vatside.shelf.events import (
    ItemBought,
    ItemChanged,
    ItemFinished,
    ItemWeighed,
    PowderUsed,
    PriceSet,
    ShelfEvent,
)
from vatside.shelf.item_fields import DETAILS, PRICES, show_weighed
from vatside.shelf.shelf import Shelf, substance
from vatside.units import Kind, to_base

_LABELS = {row.path: row.label for row in (*DETAILS, *PRICES)}


def told(event: ShelfEvent, shelf: Shelf) -> str:
    """Say what an event notes, on the shelf as it was before; empty for what this version does not know."""
    if isinstance(event, ItemBought):
        item = event.item
        return f"{substance(item)}, {show_weighed(item.material, to_base(item.mass, Kind.MASS))}, put on the shelf"
    if isinstance(event, PriceSet):
        return _LABELS.get(event.name, event.name)
    if not isinstance(event, ItemChanged | ItemFinished | ItemWeighed | PowderUsed):
        return ""
    name = next((owned.name for owned in shelf.owned if owned.item.id == event.item), "a bag that is not here")
    return f"{name}: {_said(event)}"


def _said(event: ItemChanged | ItemFinished | ItemWeighed | PowderUsed) -> str:
    if isinstance(event, ItemChanged):
        return _LABELS.get(event.detail, event.detail)
    return {ItemFinished: "finished", ItemWeighed: "weighed"}.get(type(event), "booked")
