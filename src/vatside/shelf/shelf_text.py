"""The shelf as the text of its file, and back; as strict as a session's."""

from __future__ import annotations

import re
from datetime import datetime
from typing import Any, get_args

from attrs import frozen

from vatside.log.events.day import Unknown
from vatside.shelf.events import Noted, ShelfEvent
from vatside.storage import strict_json
from vatside.storage.converter import converter
from vatside.storage.flaws import Flaw, SessionError, sentences, shown, told
from vatside.storage.utc import show_utc

FORMAT = "vatside-shelf"
VERSION = 1
KEYS = {"format", "version", "events"}
_ID = re.compile(r"[A-Za-z0-9_-]{1,64}")
_HEAD = ("seq", "id", "at", "kind")

KINDS: dict[str, type[ShelfEvent]] = {cls.kind: cls for cls in get_args(ShelfEvent) if cls is not Unknown}
"""Every kind of event that this version knows, by the name written in the file."""


@frozen
class ShelfText:
    """A log and the version of the file it came from."""

    noted: tuple[Noted, ...]
    version: int = VERSION

    @property
    def newer(self) -> str | None:
        """Say that a newer Vatside wrote it; None if not."""
        if self.version <= VERSION:
            return None
        return f"a newer Vatside wrote this shelf (version {self.version}; this one writes version {VERSION})"


def encode(noted: tuple[Noted, ...]) -> bytes:
    """Write the shelf, one event a line."""
    events = ",\n".join(strict_json.dump(to_json(entry)) for entry in noted)
    head = f'"format": {strict_json.dump(FORMAT)},\n"version": {VERSION},'
    return "\n".join(["{", head, '"events": [', *([events] if events else []), "]}", ""]).encode("utf-8")


def decode(data: bytes) -> ShelfText:
    """Read the shelf; SessionError with every problem found, each naming its place."""
    raw = strict_json.parse(data)
    if type(raw) is not dict or raw.get("format") != FORMAT:
        raise SessionError("this is not a Vatside shelf")
    version = raw.get("version")
    if type(version) is not int or version < 1:
        raise SessionError(f"version must be a whole number from 1, not {shown(version)}")
    problems = [f"unknown entry {shown(name)}" for name in raw if name not in KEYS]
    noted = _all(raw.get("events"), problems)
    found = ShelfText(tuple(sorted(noted, key=lambda entry: entry.order)), version)
    if problems:
        raise SessionError(*([found.newer] if found.newer else []), *told(problems))
    return found


def _all(raw: object, problems: list[str]) -> list[Noted]:
    if type(raw) is not list:
        problems.append("events: must be a list")
        return []
    noted = []
    for number, item in enumerate(raw, start=1):
        try:
            noted.append(from_json(item))
        except Exception as error:
            problems.extend(sentences(error, ("event", number)))
    if len({entry.id for entry in noted}) < len(noted):
        problems.append("events: two have the same id")
    return noted


def to_json(entry: Noted) -> dict[str, Any]:
    """Give an entry as one flat JSON object; an event of an unknown kind comes out as it came in."""
    event = entry.event
    head = {"seq": entry.seq, "id": entry.id, "at": show_utc(entry.at)}
    if isinstance(event, Unknown):
        return {**head, "kind": event.name, **event.body}
    return {**head, "kind": event.kind, **converter().unstructure(event)}


def from_json(raw: object) -> Noted:
    """Read an entry from JSON values; raises what `flaws.sentences` puts into words."""
    if type(raw) is not dict:
        raise Flaw("must be an object with named values")
    missing = [name for name in _HEAD if name not in raw]
    if missing:
        raise Flaw(f"{missing[0]} is missing")
    body = {name: value for name, value in raw.items() if name not in _HEAD}
    seq = _part(raw, "seq", int)
    if seq < 1:
        raise Flaw(f"seq must be 1 or more, not {seq}")
    name = _part(raw, "id", str)
    if not _ID.fullmatch(name):
        raise Flaw(f"id must be up to 64 plain letters, digits and dashes, not {shown(name)}")
    return Noted(seq, name, _part(raw, "at", datetime), _event(_part(raw, "kind", str), body))


def _part(raw: dict[str, Any], name: str, kind: type) -> Any:
    try:
        return converter().structure(raw[name], kind)
    except Flaw as error:
        raise Flaw(f"{name} {error}") from None


def _event(kind: str, body: dict[str, Any]) -> ShelfEvent:
    if kind not in KINDS:
        if strict_json.too_deep(body) or not _can_be_written(body):
            raise Flaw(f"the unknown kind {shown(kind)} holds something that cannot be kept")
        return Unknown(kind, body)
    event: ShelfEvent = converter().structure(body, KINDS[kind])
    return event


def _can_be_written(body: dict[str, Any]) -> bool:
    try:
        strict_json.dump(body).encode("utf-8")
    except (Flaw, UnicodeEncodeError):
        return False
    return True
