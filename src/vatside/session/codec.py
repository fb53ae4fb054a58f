"""Sessions to JSON and back: one configured converter, strict both ways."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from enum import Enum
from functools import cache, partial
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
    try:
        seq, kind = _whole(raw["seq"], int), _text(raw["kind"], str)
        at = Moment(read_utc(raw["at"], None), _number(raw["elapsed"], float), _text(raw["boot"], str))
    except (Flaw, KeyError):
        raise _head_flaw(raw) from None
    if seq < 1:
        raise Flaw(f"seq must be 1 or more, not {seq}")
    return Entry(seq, at, _event(kind, raw))


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


def _event(kind: str, raw: dict[str, object]) -> Event:
    if kind not in KINDS:
        return _unknown(kind, _own(raw))
    try:
        return _event_reader(kind)(raw)
    except Exception:
        return _event_in_words(kind, raw)


@cache
def _event_reader(kind: str) -> Callable[[dict[str, object]], Event]:
    """Give what reads a kind of event straight from its entry.

    Made when the first one comes, as a day holds a third of all kinds.
    """
    cls = KINDS[kind]
    quick, names = _reader(converter(), cls, entry=True), frozenset((*HEAD, *attrs.fields_dict(cls)))

    def read(raw: dict[str, object]) -> Event:
        if not raw.keys() <= names:
            raise Flaw("holds a name that is none of its kind")
        event: Event = quick(raw, cls)
        return event

    return read


def _event_in_words(kind: str, raw: dict[str, object]) -> Event:
    """Read an event the slow way, which tells every value that is wrong, each with its place."""
    event: Event = converter().structure(_own(raw), KINDS[kind])
    return event


def _unknown(kind: str, body: dict[str, object]) -> Unknown:
    if too_deep(body) or not _plain(body):
        raise Flaw(f"the unknown kind {shown(kind)} holds something that cannot be kept")
    return Unknown(kind, body)


def _own(raw: dict[str, object]) -> dict[str, object]:
    """Give the values of an entry that are its event's own."""
    return {name: value for name, value in raw.items() if name not in HEAD}


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
    made.register_structure_hook_factory(_is_tuple, lambda cls: _list_hook(made, cls))
    made.register_structure_hook_factory(attrs.has, lambda cls: _class_hook(made, cls))
    made.register_structure_hook(FieldValue, _field_hook(made))
    return made


def _is_tuple(cls: Any) -> bool:
    return get_origin(cls) is tuple


def _list_hook(made: Converter, cls: Any) -> Any:
    """Structure a `tuple[X, ...]` from a real list."""
    item = get_args(cls)[0]
    as_list = GenericAlias(list, (item,))
    one, in_words = made.get_structure_hook(item), made.get_structure_hook(as_list)

    def structure(raw: object, _type: object) -> tuple[Any, ...]:
        if type(raw) is not list:
            raise Flaw(f"must be a list, not {shown(raw)}")
        try:
            return tuple([one(value, item) for value in raw])
        except Exception:
            # Slower, and tells every value that is wrong, each with its place.
            return tuple(in_words(raw, as_list))

    return structure


def _class_hook(made: Converter, cls: Any) -> Any:
    """Structure a frozen class from a real object."""
    quick, in_words = _reader(made, cls), cache(partial(_reader, made, cls, detailed=True))

    def structure(raw: object, _type: object) -> Any:
        if type(raw) is not dict:
            raise Flaw(f"must be an object with named values, not {shown(raw)}")
        try:
            return quick(raw, cls)
        except Exception:
            return in_words()(raw, cls)

    return structure


def _reader(made: Converter, cls: Any, *, detailed: bool = False, entry: bool = False) -> Any:
    """Make what reads a class from a dict.

    `detailed` tells every value that is wrong, and is slower; `entry` lets the dict hold more than the class does.
    """
    texts = (field.name for field in attrs.fields(cls) if field.type in (str, "str"))
    own: dict[str, Any] = {name: override(struct_hook=_text) for name in texts}
    if cls is Amount:
        own["unit"] = override(struct_hook=_unit)
    return make_dict_structure_fn(
        cls, made, _cattrs_detailed_validation=detailed, _cattrs_forbid_extra_keys=not entry, **own
    )


def _field_hook(made: Converter) -> Any:
    """Structure what one field of a plan can hold."""
    amount = made.get_structure_hook(Amount)

    def structure(raw: object, _type: object) -> FieldValue:
        if type(raw) is str:
            return _text(raw, str)
        if raw is None or type(raw) is int:
            return None if raw is None else _whole(raw, int)
        value: Amount = amount(raw, Amount)
        return value

    return structure


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
    if type(raw) is not int:
        raise Flaw(f"must be a whole number, not {shown(raw)}")
    if abs(raw) > LARGEST:
        raise Flaw("is too large to be meant")
    return raw


def _number(raw: object, _type: object) -> float:
    if type(raw) is not float and type(raw) is not int:
        raise Flaw(f"must be a number, not {shown(raw)}")
    if not abs(raw) <= LARGEST:
        raise Flaw("is too large to be meant")
    return float(raw)


def _truth(raw: object, _type: object) -> bool:
    if not isinstance(raw, bool):
        raise Flaw(f"must be true or false, not {shown(raw)}")
    return raw
