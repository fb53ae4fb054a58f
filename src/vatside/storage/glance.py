"""A session file at a glance: what a list of sessions shows, without working anything out, and what was seen before.

Only JSON is read: neither units nor catalogue nor figures are touched, so that a long list comes at once. A file in
which anything is odd asks for a closer look. What a long folder's files said is remembered, so that only those that
changed are read again; a help and nothing else: whatever is wrong with it, the files themselves are read.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import Any

from attrs import frozen

from vatside.plan.hours import is_hour
from vatside.storage import file_format
from vatside.storage.file_format import VERSION, check_head, migrate, read_utc, show_utc, unseal
from vatside.storage.files import OWN_MODE, Fs, Stamp
from vatside.storage.flaws import SessionError
from vatside.storage.places import JOURNAL, journal_path
from vatside.storage.snapshot import discard, write_all

LONGEST_TITLE = 80
"""Characters of a title that the form lets through."""


class Odd(Exception):
    """The file is not as plain as a glance needs it."""


@frozen
class Glance:
    """What a list shows of a session."""

    title: str
    created: datetime
    last: datetime | None
    entries: int
    waits: int
    """Waits that are open."""
    ready_by: str | None = None
    """When the vat is wanted."""
    over: bool = False
    """Its vat was kept or let go."""


def glance(fs: Fs, path: Path) -> Glance:
    """Look at a session and its journal; Odd, SessionError or OSError if it needs a closer look."""
    journal = _journal(fs, path)
    raw = file_format.parse_json(fs.read(path)[0])
    if check_head(raw) > VERSION:
        raise Odd
    raw = migrate(raw)
    try:
        events = [*raw["events"], *_beyond(journal, raw["id"], len(raw["events"]))]
        if [event["seq"] for event in events] != list(range(1, len(events) + 1)):
            raise Odd
        undone = _undone(events)
        counting = [event for event in events if event["seq"] not in undone]
        if may_wait(counting):
            raise Odd
        return _looked_at(raw, counting, events)
    except (KeyError, TypeError, AttributeError, ValueError) as error:
        raise Odd from error


def _looked_at(raw: dict[str, Any], counting: list[dict[str, Any]], events: list[dict[str, Any]]) -> Glance:
    return Glance(
        title=_title(raw["plan"]["title"], counting),
        created=read_utc(raw["created"]),
        last=_last_act(events),
        entries=len(events),
        waits=_open_waits(counting),
        ready_by=_ready_by(raw["plan"]["ready_by"], counting),
        over=any(event["kind"] in ENDS for event in counting),
    )


def _last_act(events: list[dict[str, Any]]) -> datetime | None:
    """When something was done last; a look at a day months later does not put it on top of the list."""
    times = [read_utc(event["at"]) for event in events]
    return next((at for at, event in zip(times[::-1], events[::-1], strict=True) if event["kind"] not in LOOKS), None)


def _journal(fs: Fs, path: Path) -> list[bytes]:
    try:
        return fs.read(journal_path(path))[0].splitlines()
    except FileNotFoundError:
        return []


def _beyond(lines: Iterable[bytes], session: str, seq: int) -> list[dict[str, Any]]:
    """Events that only the journal holds; Odd if one does not follow the other."""
    events = []
    for line in lines:
        record = unseal(line)
        if record is None or record.session != session or record.seq > seq + 1:
            raise Odd
        if record.seq == seq + 1:
            events.append(file_format.parse_json(record.event))
            seq += 1
    return events


def _undone(events: list[dict[str, Any]]) -> set[int]:
    undone: set[int] = set()
    for event in reversed(events):
        if event["kind"] == "undone" and event["seq"] not in undone and event["event"] < event["seq"]:
            undone.add(event["event"])
    return undone


def _title(title: str, events: list[dict[str, Any]]) -> str:
    for event in events:
        if event["kind"] == "plan_changed" and event["path"] == "title" and _fits(event["value"]):
            title = event["value"]
    if not isinstance(title, str):
        raise Odd
    return title


def _ready_by(wanted: str | None, events: list[dict[str, Any]]) -> str | None:
    for event in events:
        if event["kind"] == "plan_changed" and event["path"] == "ready_by" and _is_wanted(event["value"]):
            wanted = event["value"]
    if not _is_wanted(wanted):
        raise Odd
    return wanted


def _is_wanted(hour: object) -> bool:
    return hour is None or (isinstance(hour, str) and is_hour(hour))


def _fits(title: object) -> bool:
    return isinstance(title, str) and title.isprintable() and title.strip() != "" and len(title) <= LONGEST_TITLE


def _open_waits(events: list[dict[str, Any]]) -> int:
    waits = set()
    for event in events:
        if event["kind"] == "wait_started":
            waits.add(event["wait"])
        elif event["kind"] == "wait_ended":
            waits.discard(event["wait"])
    return len(waits)


IN_VAT, AIRING, OUT, DONE = "in the vat", "airing", "out", "done"
ENDS = ("vat_kept", "vat_let_go")
LOOKS = ("clock_slept", "clock_stepped", "clock_corrected", "session_reopened", "day_laid")
"""Events of a day that somebody only looks at."""
DIPS = ("dip_started", "dip_ended", "piece_done", "piece_back")
CHANGES = ("lot_added", "lot_removed")
"""Events after which a piece may no longer be there, or be there anew."""


def may_wait(events: Iterable[dict[str, Any]]) -> bool:
    """Tell whether the wait of a piece may be open after these events (taken-back ones left out).

    False is sure. True may be wrong: pieces that the plan does not have are counted, and after a change of the lots
    nothing is sure any more.
    """
    places: dict[str, str] = {}
    waits: dict[str, str] = {}
    counts: dict[str, int] = {}
    for event in events:
        if event["kind"] in DIPS:
            _move(event, places, waits, counts)
        elif event["kind"] == "wait_ended":
            waits = {piece: wait for piece, wait in waits.items() if wait != event["wait"]}
        elif counts and _changes_lots(event):
            return True
    return bool(waits)


def _changes_lots(event: dict[str, Any]) -> bool:
    return event["kind"] in CHANGES or (event["kind"] == "plan_changed" and event["path"].startswith("lots."))


def _move(event: dict[str, Any], places: dict[str, str], waits: dict[str, str], counts: dict[str, int]) -> None:
    """Move a piece as the session's own effects do; what does not fit changes nothing."""
    piece, kind = event["piece"], event["kind"]
    place = places.get(piece, OUT)
    if kind == "dip_started" and place in (OUT, AIRING):
        counts[piece] = counts.get(piece, 0) + 1
        places[piece], waits[piece] = IN_VAT, f"{piece}:dip{counts[piece]}"
    elif kind == "dip_ended" and place == IN_VAT:
        places[piece], waits[piece] = AIRING, f"{piece}:air{counts[piece]}"
    elif kind == "piece_done" and place != IN_VAT:
        places[piece] = DONE
        waits.pop(piece, None)
    elif kind == "piece_back" and place == DONE:
        places[piece] = OUT


NAME = ".list.json"
KEPT_FROM = 100
"""Sessions in a folder from which on it is worth keeping; fewer are read in no time. Ours, measured."""
FORMAT = f"vatside-list 4 of files {VERSION}"
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
    new = {name: _row(stamps, name, seen_file) for name, seen_file in seen.items() if seen_file}
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
    rest = [seen.entries, seen.waits, seen.ready_by, seen.over]
    return [_mark(stamps, name), seen.title, show_utc(seen.created), last, *rest]


def _seen_in(rows: Mapping[str, Row], stamps: Stamps, name: str) -> Glance | None:
    """Give what a file said, if it still is as it was then."""
    try:
        mark, title, created, last, entries, waits, ready_by, over = rows[name]
        if (
            not mark
            or mark != _mark(stamps, name)
            or not isinstance(title, str)
            or not (ready_by is None or is_hour(ready_by))
        ):
            return None
        at = read_utc(last) if last else None
        return Glance(title, read_utc(created), at, int(entries), int(waits), ready_by, bool(over))
    except (KeyError, TypeError, ValueError):
        return None


def _mark(stamps: Stamps, name: str) -> list[int]:
    pair = (stamps[name], stamps.get(f"{name}{JOURNAL}"))
    return [number for stamp in pair if stamp for number in (stamp.number, stamp.size, stamp.changed_ns)]
