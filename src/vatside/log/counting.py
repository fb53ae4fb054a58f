"""Which entries of a log count."""

from __future__ import annotations

from collections.abc import Iterator

from vatside.log.events.day import Entry, Event
from vatside.log.state import State


def counted(state: State) -> Iterator[Entry]:
    """Entries that count: neither taken back nor without effect."""
    out = state.undone | {misfit.seq for misfit in state.misfits}
    return (entry for entry in state.entries if entry.seq not in out)


def happened(state: State, kind: type[Event]) -> tuple[Entry, ...]:
    """Give the entries of one kind that count."""
    return tuple(entry for entry in counted(state) if isinstance(entry.event, kind))
