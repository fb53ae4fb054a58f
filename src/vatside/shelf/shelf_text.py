"""The shelf as the text of its file, and back; as strict as a session's."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from attrs import frozen

from vatside.shelf.events import Noted, ShelfEvent
from vatside.storage import strict_json
from vatside.storage.codec import Log, kinds_of
from vatside.storage.flaws import SessionError, shown, told
from vatside.storage.migrations import check_head
from vatside.storage.scalars import read_identity, read_text, read_whole
from vatside.storage.utc import read_utc, show_utc

FORMAT = "vatside-shelf"
VERSION = 1
KEYS = {"format", "version", "events"}


def _of_the_shelf(raw: dict[str, Any]) -> tuple[int, str, datetime]:
    return read_whole(raw["seq"], int), read_identity(raw["id"]), read_utc(raw["at"], None)


SHELF_LOG = Log(
    entry=Noted,
    head={"seq": read_whole, "id": read_identity, "at": read_utc, "kind": read_text},
    read=_of_the_shelf,
    write=lambda entry: {"seq": entry.seq, "id": entry.id, "at": show_utc(entry.at)},
    kinds=kinds_of(ShelfEvent),
)
"""The log of the shelf."""


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
    return SHELF_LOG.document({"format": FORMAT, "version": VERSION}, noted)


def decode(data: bytes) -> ShelfText:
    """Read the shelf; SessionError with every problem found, each naming its place."""
    raw: Any = strict_json.parse(data)
    version = check_head(raw, "shelf")
    problems = [f"unknown entry {shown(name)}" for name in raw if name not in KEYS]
    noted = [entry for _, entry in SHELF_LOG.all_from_json(raw.get("events"), problems)]
    if len({entry.id for entry in noted}) < len(noted):
        problems.append("events: two have the same id")
    text = ShelfText(tuple(sorted(noted, key=lambda entry: entry.order)), version)
    if problems:
        raise SessionError(*([text.newer] if text.newer else []), *told(problems))
    return text
