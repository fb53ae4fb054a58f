"""Whether pieces may still be waiting in a log, told from its JSON alone: nothing heavy is touched."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

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
