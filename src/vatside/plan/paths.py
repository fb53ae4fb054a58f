"""Reading and setting one place of a plan by its path, names and tubs in one text too; each gives a new plan."""

from __future__ import annotations

from enum import Enum
from functools import cache
from typing import Any, TypeVar, cast

import attrs
from attrs import evolve

from vatside.catalogue.load import materials
from vatside.plan.measures import ROLES, shelf_entry, usual_entry
from vatside.plan.plan import Dosing, FieldValue, Form, Lot, Pin, Plan, ShelfEntry
from vatside.units import Amount, Kind, Problem, Spoons, parse_amount, show_amount, to_base

LONGEST_NAME = 40
"""Letters of a piece's name."""


def piece_name(lot: Lot, number: int, given: str = "") -> str:
    """Name a piece of a lot, counted from 1; `given` is the name it got at the vat, which wins.

    Pieces of one name are numbered; a lot's pieces without names go by the lot.
    """
    if given:
        return given
    own = lot.names[number - 1] if number <= len(lot.names) else ""
    if not own:
        return lot.name if lot.pieces == 1 else f"{lot.name} {number}"
    alike = [at for at, name in enumerate(lot.names[: lot.pieces], 1) if name == own]
    return own if len(alike) == 1 else f"{own} {alike.index(number) + 1}"


def names_said(names: tuple[str, ...]) -> str:
    """Write names as a person types them; empty for none."""
    return ", ".join(names)


def names_parted(text: str) -> tuple[str, ...]:
    """Part what was typed at its commas; nothing between two of them leaves that piece without a name."""
    names = [part.strip() for part in text.split(",")]
    while names and not names[-1]:
        names.pop()
    return tuple(names)


def names_problem(names: tuple[str, ...]) -> str:
    """Say why names cannot be; empty if they can."""
    for name in names:
        if not name.isprintable() or "," in name:
            return "a name holds characters that cannot be shown, or a comma"
        if len(name) > LONGEST_NAME:
            return f"a name has {LONGEST_NAME} letters at most, not {len(name)}"
    return ""


SMALLEST_L, LARGEST_L = 0.1, 1000.0
"""Brims that a tub can have, as in the form."""
MOST_TUBS = 12
"""More tubs than this nobody owns: ours."""


def tubs_said(others: tuple[Amount, ...]) -> str:
    """Write tubs as a person types them; empty for none."""
    return ", ".join(show_amount(brim) for brim in others)


def tubs_parted(text: str, spoons: Spoons) -> tuple[Amount, ...] | Problem:
    """Read brims with commas between them, in litres where no unit stands; or say in words what is wrong."""
    brims = []
    for part in (part.strip() for part in text.split(",")):
        if not part:
            continue
        amount = parse_amount(part, Kind.VOLUME, unit="L", spoons=spoons)
        if isinstance(amount, Problem):
            return amount
        if not SMALLEST_L <= to_base(amount, Kind.VOLUME, spoons) <= LARGEST_L:
            return Problem(f"{show_amount(amount)} cannot be a tub: between 100 mL and 1000 L")
        brims.append(amount)
    return tuple(brims) if len(brims) <= MOST_TUBS else Problem(f"{len(brims)} tubs are too many; at most {MOST_TUBS}")


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


WEIGHT, PIECES = "mass", "pieces"
"""The places of a lot that hold its weight and how many pieces it is."""


def pieces_of(path: str) -> str:
    """Give the path of a lot's pieces by that of another of its places."""
    return f"{path.rpartition('.')[0]}.{PIECES}"


def is_pin(path: str) -> bool:
    """Tell a figure's path from a place in the plan."""
    return path.startswith(STAGE_PREFIXES)


def get_value(plan: Plan, path: str) -> FieldValue:
    """Give what stands at a path; None for an unpinned figure. KeyError if there is no such place."""
    if is_pin(path):
        return next((pin.amount for pin in plan.pins if pin.figure == path), None)
    if path == OTHERS:
        return tubs_said(plan.vessels.others) or None
    if path == POTS:
        return tubs_said(plan.place.pots) or None
    if path == DOSING:
        return plan.dosing.value if plan.dosing else ""
    head, _, rest = path.partition(".")
    if head == "lots":
        lot_id, _, name = rest.partition(".")
        lot = _lot(plan, lot_id)
        return (names_said(lot.names) or None) if name == NAMES else _get(lot, name)
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
        changed = _named(lot, value) if name == NAMES else _called(plan, lot, _set(lot, name, value), name)
        return attrs.evolve(plan, lots=tuple(changed if lot.id == lot_id else lot for lot in plan.lots))
    if head == "shelf":
        key, _, name = rest.partition(".")
        return _set_shelf(plan, _entry(plan, key), name, value)
    return _set(plan, path, value)


MADE_OF = ("fibre", "second", "form")
"""The places of a lot that a name nobody typed follows."""


def _called(plan: Plan, before: Lot, lot: Lot, place: str) -> Lot:
    """Give the lot with the name that a change of one place leaves it."""
    if place == "name" and lot != before:
        return attrs.evolve(lot, named=True)
    if lot.named or lot == before or place not in MADE_OF:
        return lot
    return attrs.evolve(lot, name=free_name(plan, _made_of(lot), lot.id))


def _made_of(lot: Lot) -> str:
    """Call a lot by its fibre and how it is made up: `Wool skeins`, `Loose alpaca`."""
    fibres = "-".join(key for key in (lot.fibre, lot.second) if key)
    loose = lot.form is Form.LOOSE
    return f"Loose {fibres}" if loose else f"{fibres} {lot.form.value}".capitalize()


def free_name(plan: Plan, name: str, lot_id: str = "") -> str:
    """Give a name, with a number where another lot than this one has it."""
    taken = {lot.name for lot in plan.lots if lot.id != lot_id}
    numbers = (f"{name} {number}" for number in range(2, len(taken) + 3))
    return next(free for free in (name, *numbers) if free not in taken)


def _named(lot: Lot, value: FieldValue) -> Lot:
    """Give the lot with its pieces named, from one text with commas."""
    if value is not None and not isinstance(value, str):
        raise ValueError(f"names are a text, not {value!r}")
    return attrs.evolve(lot, names=names_parted(value or ""))


def _tubs(plan: Plan, value: FieldValue) -> tuple[Amount, ...]:
    """Give the brims of further tubs, from one text with commas."""
    if value is not None and not isinstance(value, str):
        raise ValueError(f"brims are a text, not {value!r}")
    brims = tubs_parted(value or "", plan.spoons)
    if isinstance(brims, Problem):
        raise ValueError(brims.text)
    return brims


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


OF_THE_METHOD = (
    "stock.alkali", "stock.reducer", "stock.start", "stock.jug", "stock.bath", "stock.bath_temperature", "stock.stir",
    "stock.hold", "stock.look_every", "vat.alkali", "vat.reducer", "vat.soda-ash", "vat.baking-soda",
    "vat.temperature", "vat.sharpen", "vat.rest", "vat.look_every", "finish.feed", "finish.keep",
)  # fmt: skip
"""Figures that mean another powder, or another reaction, in another kind of vat."""


def with_method(plan: Plan, method: str) -> Plan:
    """Give the plan with another kind of vat: lots, vessels, water, litres and dips stay as they are held.

    An amount of lye is no amount of lime, so what is held for the powders, warmth and waits of the old kind goes.
    """
    if method == plan.method:
        return plan
    return evolve(plan, method=method, pins=tuple(pin for pin in plan.pins if pin.figure not in OF_THE_METHOD))
