"""What a long folder's files said when they were last looked at, so that only those that changed are read again.

A help and nothing else: whatever is wrong with it, the files themselves are read.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any

from vatside.plan.wanted_hour import is_hour
from vatside.storage.file_names import JOURNAL
from vatside.storage.files import Fs, Stamp
from vatside.storage.flaws import SessionError
from vatside.storage.glance import Glance, Odd, glance
from vatside.storage.migrations import VERSION as FILE_VERSION
from vatside.storage.snapshot import discard, write_all
from vatside.storage.system_lock import OWN_MODE
from vatside.storage.utc import read_utc, show_utc

NAME = ".list.json"
KEPT_FROM = 100
"""Sessions in a folder from which on it is worth keeping; fewer are read in no time. Ours, measured."""
FORMAT = f"vatside-list 2 of files {FILE_VERSION}"
"""Another version of the list, or of the files, begins anew."""

Row = list[Any]
Stamps = Mapping[str, Stamp | None]
"""Stamps by file name."""


def glanced(fs: Fs, path: Path) -> Glance | None:
    """Look at one file; None if it needs a closer look."""
    try:
        return glance(fs, path)
    except (Odd, SessionError, OSError):
        return None


def glances(fs: Fs, folder: Path, names: Sequence[str], stamps: Stamps) -> dict[str, Glance | None]:
    """Look at files of a folder; in a long one, at those that have not changed only in its list."""
    if len(names) < KEPT_FROM:
        return {name: glanced(fs, folder / name) for name in names}
    rows = _recall(fs, folder)
    seen = {name: _seen_in(rows, stamps, name) or glanced(fs, folder / name) for name in names}
    new = {name: _row(stamps, name, one) for name, one in seen.items() if one}
    if new != rows:
        _remember(fs, folder, new)
    return seen


def _recall(fs: Fs, folder: Path) -> dict[str, Row]:
    """Give the rows of the list by file name; none if there is no list that can be read."""
    with suppress(OSError, SessionError, ValueError, RecursionError):
        raw = json.loads(fs.read(folder / NAME)[0])
        if isinstance(raw, dict) and raw.get("format") == FORMAT and isinstance(raw.get("rows"), dict):
            return dict(raw["rows"])
    return {}


def _remember(fs: Fs, folder: Path, rows: Mapping[str, Row]) -> None:
    """Keep the rows; a folder that cannot be written to is no harm."""
    data = json.dumps({"format": FORMAT, "rows": rows}, ensure_ascii=False, separators=(",", ":"))
    spare = folder / f"{NAME}.tmp"
    discard(fs, spare)
    with suppress(OSError):
        fd = fs.open_new(spare, OWN_MODE)
        try:
            write_all(fs, fd, data.encode("utf-8", "replace"))
        finally:
            fs.close(fd)
        fs.replace(spare, folder / NAME)
        return
    discard(fs, spare)


def _row(stamps: Stamps, name: str, seen: Glance) -> Row:
    """Write down what a file said, and what tells this state of it, and of its journal, from any other."""
    last = show_utc(seen.last) if seen.last else None
    return [_mark(stamps, name), seen.title, show_utc(seen.created), last, seen.entries, seen.waits, seen.ready_by]


def _seen_in(rows: Mapping[str, Row], stamps: Stamps, name: str) -> Glance | None:
    """Give what a file said, if it still is as it was then."""
    try:
        mark, title, created, last, entries, waits, ready_by = rows[name]
        if (
            not mark
            or mark != _mark(stamps, name)
            or not isinstance(title, str)
            or not (ready_by is None or is_hour(ready_by))
        ):
            return None
        return Glance(title, read_utc(created), read_utc(last) if last else None, int(entries), int(waits), ready_by)
    except (KeyError, TypeError, ValueError):
        return None


def _mark(stamps: Stamps, name: str) -> list[int]:
    found = (stamps[name], stamps.get(f"{name}{JOURNAL}"))
    return [number for stamp in found if stamp for number in (stamp.number, stamp.size, stamp.changed_ns)]
