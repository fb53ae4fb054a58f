"""Reading and setting one place of a plan by its path; every change gives a new plan."""

from __future__ import annotations

from enum import Enum
from functools import cache
from typing import Any, TypeVar, cast

import attrs

from vatside.catalogue.load import materials
from vatside.plan import tubs
from vatside.plan.measures import ROLES, shelf_entry, usual_entry
from vatside.plan.piece_names import parted, said
from vatside.plan.plan import Dosing, Lot, Pin, Plan, ShelfEntry
from vatside.units import Amount, Problem

FieldValue = Amount | str | int | None
"""What one field of a plan can hold."""

T = TypeVar("T")

STAGE_PREFIXES = ("scour.", "stock.", "vat.", "dip.", "finish.")
"""Paths that begin so name a figure; setting one pins it."""

OTHERS = "vessels.others"
"""The place that holds the brims of further tubs; it is set and given as one text."""
POTS = "place.pots"
"""The place that holds the brims of further pots, as those of tubs."""
AWAY = "place.away"
"""The place that holds who is not there when, as one text."""
DOSING = "dosing"
"""A choice that can stand empty: then it goes by the lots."""
NAMES = "names"
"""The place of a lot that holds the names of its pieces; it is set and given as one text."""


def is_pin(path: str) -> bool:
    """Tell a figure's path from a place in the plan."""
    return path.startswith(STAGE_PREFIXES)


def get_value(plan: Plan, path: str) -> FieldValue:
    """Give what stands at a path; None for an unpinned figure. KeyError if there is no such place."""
    if is_pin(path):
        return next((pin.amount for pin in plan.pins if pin.figure == path), None)
    if path == OTHERS:
        return tubs.said(plan.vessels.others) or None
    if path == POTS:
        return tubs.said(plan.place.pots) or None
    if path == DOSING:
        return plan.dosing.value if plan.dosing else ""
    head, _, rest = path.partition(".")
    if head == "lots":
        lot_id, _, name = rest.partition(".")
        lot = _lot(plan, lot_id)
        return (said(lot.names) or None) if name == NAMES else _get(lot, name)
    if head == "shelf":
        key, _, name = rest.partition(".")
        return _get(_entry(plan, key), name)
    return _get(plan, path)


def set_value(plan: Plan, path: str, value: FieldValue) -> Plan:
    """Give the plan with one place changed; None at a figure's path unpins it.

    KeyError if the plan has no such place, ValueError if the value does not fit it.
    """
    if is_pin(path):
        return _set_pin(plan, path, value)
    if path == OTHERS:
        return attrs.evolve(plan, vessels=attrs.evolve(plan.vessels, others=_tubs(plan, value)))
    if path == POTS:
        return attrs.evolve(plan, place=attrs.evolve(plan.place, pots=_tubs(plan, value)))
    head, _, rest = path.partition(".")
    if head == "lots":
        lot_id, _, name = rest.partition(".")
        lot = _lot(plan, lot_id)
        changed = _named(lot, value) if name == NAMES else _set(lot, name, value)
        return attrs.evolve(plan, lots=tuple(changed if lot.id == lot_id else lot for lot in plan.lots))
    if head == "shelf":
        key, _, name = rest.partition(".")
        return _set_shelf(plan, _entry(plan, key), name, value)
    return _set(plan, path, value)


def _named(lot: Lot, value: FieldValue) -> Lot:
    """Give the lot with its pieces named, from one text with commas."""
    if value is not None and not isinstance(value, str):
        raise ValueError(f"names are a text, not {value!r}")
    return attrs.evolve(lot, names=parted(value or ""))


def _tubs(plan: Plan, value: FieldValue) -> tuple[Amount, ...]:
    """Give the brims of further tubs, from one text with commas."""
    if value is not None and not isinstance(value, str):
        raise ValueError(f"brims are a text, not {value!r}")
    found = tubs.parted(value or "", plan.spoons)
    if isinstance(found, Problem):
        raise ValueError(found.text)
    return found


def add_lot(plan: Plan, lot: Lot) -> Plan:
    """Give the plan with one more lot; a lot of the same id is replaced."""
    return attrs.evolve(plan, lots=(*(old for old in plan.lots if old.id != lot.id), lot))


def remove_lot(plan: Plan, lot_id: str) -> Plan:
    """Give the plan without a lot; the last one stays."""
    kept = tuple(lot for lot in plan.lots if lot.id != lot_id)
    return attrs.evolve(plan, lots=kept) if kept else plan


def _set_pin(plan: Plan, figure: str, value: FieldValue) -> Plan:
    others = tuple(pin for pin in plan.pins if pin.figure != figure)
    if value is None:
        return attrs.evolve(plan, pins=others)
    if not isinstance(value, Amount):
        raise ValueError(f"{figure} takes an amount, not {value!r}")
    return attrs.evolve(plan, pins=(*others, Pin(figure, value)))


def _set_shelf(plan: Plan, entry: ShelfEntry, name: str, value: FieldValue) -> Plan:
    """Put the entry first, where it counts; another powder comes with its own purity and spoon."""
    changed = _other_powder(plan, value) if name == "material" else _set(entry, name, value)
    others = tuple(old for old in plan.shelf if old.material != changed.material)
    return attrs.evolve(plan, shelf=(changed, *others))


def _other_powder(plan: Plan, material: FieldValue) -> ShelfEntry:
    if not isinstance(material, str) or material not in materials():
        raise ValueError(f"there is no material {material!r}")
    on_shelf = (entry for entry in plan.shelf if entry.material == material)
    return next(on_shelf, usual_entry(material))


def _lot(plan: Plan, lot_id: str) -> Lot:
    if lot_id not in plan.by_id:
        raise KeyError(f"lots.{lot_id}")
    return plan.by_id[lot_id]


def _entry(plan: Plan, key: str) -> ShelfEntry:
    if key not in ROLES and key not in materials():
        raise KeyError(f"shelf.{key}")
    return shelf_entry(plan, key)


@cache
def _names(cls: type) -> frozenset[str]:
    """Names of the places in a part of the plan; none in what has no parts."""
    return frozenset(attrs.fields_dict(cls)) if attrs.has(cls) else frozenset()


def _get(owner: Any, path: str) -> FieldValue:
    for name in path.split("."):
        if name not in _names(owner.__class__):
            raise KeyError(path)
        owner = getattr(owner, name)
    return cast(FieldValue, owner.value if isinstance(owner, Enum) else owner)


def _set(owner: T, path: str, value: FieldValue) -> T:
    name, _, rest = path.partition(".")
    cls = type(owner)
    if name not in _names(cast(Any, cls)):
        raise KeyError(path)
    # As it is written in the class: reading a file puts the types themselves in the place of the fields' words.
    old, declared = getattr(owner, name), str(cls.__annotations__[name])
    new = _set(old, rest, value) if rest else _fitting(old, value, path, declared)
    return cast(T, attrs.evolve(cast(Any, owner), **{name: new}))


_OPTIONAL_CHOICES: dict[str, type[Enum]] = {"Dosing": Dosing}
"""Choices that can stand empty, by how they are declared."""

_TAKES: dict[str, tuple[type, str]] = {
    "Amount": (Amount, "an amount"),
    "int": (int, "a whole number"),
    "str": (str, "a text"),
}
"""What a place of the plan takes, by how it is declared."""


def _fitting(old: object, value: FieldValue, path: str, declared: str) -> object:
    """Give the value in the type that was declared; an optional place can also stand empty."""
    wanted = declared.removesuffix(" | None")
    if wanted != declared and value in (None, ""):
        return None
    if wanted in _OPTIONAL_CHOICES:
        return _OPTIONAL_CHOICES[wanted](value)
    if isinstance(old, Enum):
        return type(old)(value)
    kind, words = _TAKES.get(wanted, (None, "nothing as a whole"))
    if type(value) is not kind:
        raise ValueError(f"{path} takes {words}, not {value!r}")
    return value
