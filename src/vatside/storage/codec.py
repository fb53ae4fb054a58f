"""Plans and log entries to JSON and back."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from math import isfinite
from typing import Any, get_args

import attrs

from vatside.log.events.day import Entry, Event, Unknown
from vatside.log.moment import Moment
from vatside.plan.plan import Plan
from vatside.storage.converter import converter, reader
from vatside.storage.flaws import Flaw, shown
from vatside.storage.scalars import encodable, read_number, read_text, read_whole
from vatside.storage.strict_json import too_deep
from vatside.storage.utc import read_utc, show_utc

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
        seq, kind = read_whole(raw["seq"], int), read_text(raw["kind"], str)
        at = Moment(read_utc(raw["at"], None), read_number(raw["elapsed"], float), read_text(raw["boot"], str))
    except (Flaw, KeyError):
        raise _head_flaw(raw) from None
    if seq < 1:
        raise Flaw(f"seq must be 1 or more, not {seq}")
    return Entry(seq, at, _event(kind, raw))


def _head_flaw(raw: dict[str, Any]) -> Flaw:
    """Say what is wrong with an entry's own values; looked for only once something is."""
    readers: tuple[Callable[[object, Any], object], ...] = (read_whole, read_utc, read_number, read_text, read_text)
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
    quick, names = reader(converter(), cls, entry=True), frozenset((*HEAD, *attrs.fields_dict(cls)))

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
    return not isinstance(value, str) or encodable(value)
