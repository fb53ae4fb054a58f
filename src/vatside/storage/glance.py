"""A session file at a glance: what a list of sessions shows, without working anything out.

Only JSON is read: neither units nor catalogue nor figures are touched, so that a long list comes at once.
A file in which anything is odd at this glance is `Odd`; reading it in full says what. Finer flaws, such as an
amount in a unit that nobody knows, are told when the session is opened.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from pathlib import Path
from typing import Any

from attrs import frozen

from vatside.plan.wanted_hour import is_hour
from vatside.storage import strict_json
from vatside.storage.file_names import journal_path
from vatside.storage.files import Fs
from vatside.storage.migrations import VERSION, check_head, migrate
from vatside.storage.sealed_line import unseal
from vatside.storage.utc import read_utc

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


def glance(fs: Fs, path: Path) -> Glance:
    """Look at a session and its journal; Odd, SessionError or OSError if it needs a closer look."""
    journal = _journal(fs, path)
    raw = strict_json.parse(fs.read(path)[0])
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
        last=read_utc(events[-1]["at"]) if events else None,
        entries=len(events),
        waits=_open_waits(counting),
        ready_by=_ready_by(raw["plan"]["ready_by"], counting),
    )


def _journal(fs: Fs, path: Path) -> list[bytes]:
    try:
        return fs.read(journal_path(path))[0].splitlines()
    except FileNotFoundError:
        return []


def _beyond(lines: Iterable[bytes], session: str, seq: int) -> list[dict[str, Any]]:
    """Events that only the journal holds; Odd if one does not follow the other."""
    found = []
    for line in lines:
        record = unseal(line)
        if record is None or record.session != session or record.seq > seq + 1:
            raise Odd
        if record.seq == seq + 1:
            found.append(strict_json.parse(record.event))
            seq += 1
    return found


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
