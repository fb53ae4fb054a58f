"""What the disk is asked: one event made durable, and the list of many saved sessions."""

from __future__ import annotations

import os
from datetime import UTC, datetime
from pathlib import Path

from attrs import evolve
from tests.bench.long_log import long_session
from tests.bench.measure import Pairs, interleaved, wall_ms
from tests.bench.run import Run, workplace
from tests.clocks.virtual_clock import VirtualClock
from tests.plan.plans import wool_plan

from vatside.log.events.day import NoteWritten
from vatside.storage.folder import list_sessions
from vatside.storage.journal import entry_record
from vatside.storage.session_file import SessionFile
from vatside.storage.session_text import encode

EVENTS_EACH = 25
"""Entries of each saved session."""


def durable_beside_bare(run: Run) -> Pairs:
    """Logging one event against writing its bytes to an open file and waiting for the disk."""
    clock = VirtualClock(datetime(2026, 5, 2, 8, 0, tzinfo=UTC))
    with workplace() as folder:
        file = SessionFile.create(folder / "day.json", wool_plan(), clock.now())
        event = NoteWritten("Third skein in, liquor clear, 47 °C")
        data = entry_record(file.session.id, file.append(event, clock.now()))
        bare = os.open(folder / "bare", os.O_WRONLY | os.O_CREAT | os.O_APPEND)

        def write() -> None:
            os.write(bare, data)
            os.fsync(bare)

        pairs = interleaved(
            run.rounds(200, 50, 20), lambda: wall_ms(lambda: file.append(event, clock.now())), lambda: wall_ms(write)
        )
        os.close(bare)
        file.close()
    return pairs


def shelf_beside_reading(run: Run) -> Pairs:
    """The list of many saved sessions, as it is on every day but the first, against reading as many small files."""
    with workplace() as folder:
        names = _save_many(folder, run.rounds(2000, 500))

        def read_all() -> None:
            for name in names:
                with open(name, "rb") as file:  # noqa: PTH123  (the plainest way there is)
                    file.read()

        def listed() -> None:
            assert len(list_sessions(folder)) == len(names)

        return interleaved(run.rounds(7, 3), lambda: wall_ms(listed), lambda: wall_ms(read_all))


def _save_many(folder: Path, number: int) -> list[str]:
    """Save sessions of a usual length, each under its own name."""
    one = long_session(EVENTS_EACH)
    names = []
    for turn in range(number):
        path = folder / f"day-{turn}.json"
        path.write_bytes(encode(evolve(one, id=f"bench{turn}")))
        names.append(str(path))
    return names
