"""Sessions to JSON and back: one configured converter, strict both ways."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from enum import Enum
from functools import cache
from math import isfinite
from types import GenericAlias
from typing import Any, TypeVar, get_args, get_origin

import attrs
from cattrs import Converter
from cattrs.gen import make_dict_structure_fn, make_dict_unstructure_fn, override

from vatside.recipe.plan import Plan
from vatside.session.events import Entry, Event, FieldValue, Moment, Unknown
from vatside.session.flaws import Flaw, shown
from vatside.session.jsontext import too_deep
from vatside.session.moments import read_utc, show_utc
from vatside.units import UNITS, Amount

T = TypeVar("T")

__all__ = [
    "HEAD", "KINDS", "LARGEST", "converter", "entry_from_json", "entry_to_json", "plan_from_json", "plan_to_json",
    "read_utc", "show_utc",
]  # fmt: skip

LARGEST = 1e12
"""No quantity of a dye day is larger; keeps dates and countdowns computable."""
HEAD = ("seq", "at", "elapsed", "boot", "kind")
"""The names in an entry that are not its event's own."""

KINDS: dict[str, type[Event]] = {cls.kind: cls for cls in get_args(Event) if cls is not Unknown}
"""Every kind of event that this version knows, by the name written in the file."""


def plan_to_json(plan: Plan) -> dict[str, Any]:
    """Give the plan as JSON values."""
    result: dict[str, Any] = converter().unstructure(plan)
    return result


def plan_from_json(raw: object) -> Plan:
    """Read a plan from JSON values; raises what `flaws.sentences` puts into words."""
    return converter().structure(raw, Plan)


def entry_to_json(entry: Entry) -> dict[str, Any]:
    """Give an entry as one flat JSON object; an event of an unknown kind comes out as it came in."""
    at, event = entry.at, entry.event
    head = {"seq": entry.seq, "at": show_utc(at.utc), "elapsed": at.elapsed, "boot": at.boot}
    if isinstance(event, Unknown):
        return {**head, "kind": event.name, **event.body}
    return {**head, "kind": event.kind, **converter().unstructure(event)}


def entry_from_json(raw: object) -> Entry:
    """Read an entry from JSON values; raises what `flaws.sentences` puts into words."""
    if type(raw) is not dict:
        raise Flaw("an event must be an object with named values")
    body = dict(raw)
    try:
        seq = _whole(body.pop("seq"), int)
        utc, elapsed = read_utc(body.pop("at"), None), _number(body.pop("elapsed"), float)
        boot, kind = _text(body.pop("boot"), str), _text(body.pop("kind"), str)
    except (Flaw, KeyError):
        raise _head_flaw(raw) from None
    if seq < 1:
        raise Flaw(f"seq must be 1 or more, not {seq}")
    return Entry(seq, Moment(utc, elapsed, boot), _event(kind, body))


def _head_flaw(raw: dict[str, Any]) -> Flaw:
    """Say what is wrong with an entry's own values; looked for only once something is."""
    readers: tuple[Callable[[object, Any], object], ...] = (_whole, read_utc, _number, _text, _text)
    for name, read in zip(HEAD, readers, strict=True):
        if name not in raw:
            return Flaw(f"{name} is missing")
        try:
            read(raw[name], None)
        except Flaw as error:
            return Flaw(f"{name} {error}")
    raise AssertionError("an entry was refused whose own values are sound")


def _event(kind: str, body: dict[str, object]) -> Event:
    if kind in KINDS:
        event: Event = _event_hook(kind)(body, KINDS[kind])
        return event
    if too_deep(body) or not _plain(body):
        raise Flaw(f"the unknown kind {shown(kind)} holds something that cannot be kept")
    return Unknown(kind, body)


@cache
def _event_hook(kind: str) -> Any:
    """Give what reads a kind of event; made when the first one comes, as a day holds a third of all kinds."""
    return converter().get_structure_hook(KINDS[kind])


def _plain(value: object) -> bool:
    """Tell whether an unknown value can be written out again just as it is."""
    if isinstance(value, dict):
        return all(_plain(key) and _plain(item) for key, item in value.items())
    if isinstance(value, list):
        return all(_plain(item) for item in value)
    if isinstance(value, float):
        return isfinite(value)
    return not isinstance(value, str) or _encodable(value)


@cache
def converter() -> Converter:
    """Build the converter at first use."""
    made = Converter(forbid_extra_keys=True, detailed_validation=True)
    made.register_structure_hook(str, _text_or_choice)
    made.register_structure_hook(int, _whole)
    made.register_structure_hook(float, _number)
    made.register_structure_hook(bool, _truth)
    made.register_structure_hook(datetime, read_utc)
    made.register_unstructure_hook(datetime, show_utc)
    # A plan that stands on no kept vat names none.
    made.register_unstructure_hook(Plan, make_dict_unstructure_fn(Plan, made, kept=override(omit_if_default=True)))
    made.register_structure_hook(FieldValue, lambda raw, _: _field_value(made, raw))
    made.register_structure_hook_factory(_is_tuple, lambda cls: _list_hook(made, cls))
    made.register_structure_hook_factory(attrs.has, lambda cls: _class_hook(made, cls))
    return made


def _is_tuple(cls: Any) -> bool:
    return get_origin(cls) is tuple


def _list_hook(made: Converter, cls: Any) -> Any:
    """Structure a `tuple[X, ...]` from a real list."""
    as_list = GenericAlias(list, (get_args(cls)[0],))
    inner = made.get_structure_hook(as_list)

    def structure(raw: object, _type: object) -> tuple[Any, ...]:
        if type(raw) is not list:
            raise Flaw(f"must be a list, not {shown(raw)}")
        return tuple(inner(raw, as_list))

    return structure


def _class_hook(made: Converter, cls: Any) -> Any:
    """Structure a frozen class from a real object; only known units for an amount."""
    if cls is Amount:
        inner: Any = make_dict_structure_fn(cls, made, unit=override(struct_hook=_unit))
    else:
        inner = make_dict_structure_fn(cls, made)

    def structure(raw: object, _type: object) -> Any:
        if type(raw) is not dict:
            raise Flaw(f"must be an object with named values, not {shown(raw)}")
        return inner(raw, cls)

    return structure


def _field_value(made: Converter, raw: object) -> FieldValue:
    if raw is None or type(raw) is int:
        return None if raw is None else _whole(raw, int)
    return _text(raw, str) if type(raw) is str else made.structure(raw, Amount)


def _text_or_choice(raw: object, cls: type[str]) -> str | Enum:
    """Read text; cattrs asks the hook of str for every StrEnum as well."""
    return _text(raw, cls) if cls is str else _choice(raw, cls)


def _choice(raw: object, cls: Any) -> Enum:
    item: Enum
    for item in cls:
        if item.value == raw and type(raw) is str:
            return item
    raise Flaw(f"must be one of {', '.join(str(item.value) for item in cls)}, not {shown(raw)}")


def _unit(raw: object, _type: object) -> str:
    text = _text(raw, str)
    if text not in UNITS:
        raise Flaw(f"{shown(text)} is no unit that Vatside knows")
    return text


def _encodable(text: str) -> bool:
    """Tell whether the text has no half characters (lone surrogates)."""
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


def _text(raw: object, _type: object) -> str:
    if not isinstance(raw, str):
        raise Flaw(f"must be text, not {shown(raw)}")
    if not raw.isascii() and not _encodable(raw):
        raise Flaw("holds half a character")
    return raw


def _whole(raw: object, _type: object) -> int:
    if not isinstance(raw, int) or isinstance(raw, bool):
        raise Flaw(f"must be a whole number, not {shown(raw)}")
    if abs(raw) > LARGEST:
        raise Flaw("is too large to be meant")
    return raw


def _number(raw: object, _type: object) -> float:
    if not isinstance(raw, int | float) or isinstance(raw, bool):
        raise Flaw(f"must be a number, not {shown(raw)}")
    if not abs(raw) <= LARGEST:
        raise Flaw("is too large to be meant")
    return float(raw)


def _truth(raw: object, _type: object) -> bool:
    if not isinstance(raw, bool):
        raise Flaw(f"must be true or false, not {shown(raw)}")
    return raw
