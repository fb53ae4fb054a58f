"""Power loss at every step: what was acknowledged is there afterwards, whatever reached the disk in which order."""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import CREATED
from tests.plan.plans import wool_plan
from tests.storage.memory_fs import MemoryFs

from vatside.log.events.day import Entry, NoteWritten
from vatside.storage import session_file
from vatside.storage.flaws import SessionError
from vatside.storage.session_file import SessionFile

PATH = Path("/sessions/day.json")
MOST_STATES = 60
"""Ways of losing power tried at one step, where there are more."""

Run = Callable[["Day"], None]


class Day:
    """A session in memory, with what has been acknowledged so far."""

    def __init__(self, fs: MemoryFs) -> None:
        self.fs = fs
        self.clock = VirtualClock(CREATED)
        self.file: SessionFile | None = None
        self.acknowledged: list[Entry] = []
        self.appended: list[Entry] = []
        """Acknowledged or just on the way."""

    def create(self) -> None:
        """Begin."""
        self.file = SessionFile.create(PATH, wool_plan(), self.clock.now(), self.fs)

    def open(self) -> None:
        """Open again."""
        self.file = SessionFile.open(PATH, fs=self.fs).file

    def append(self, count: int = 1) -> None:
        """Log some notes."""
        assert self.file is not None
        for _ in range(count):
            self.clock.advance(1)
            event = NoteWritten(f"note {len(self.appended) + 1}")
            self.appended.append(Entry(len(self.appended) + 1, self.clock.now(), event))
            entry = self.file.append(event, self.clock.now())
            assert entry == self.appended[-1]
            if not self.file.unsaved:
                self.acknowledged = list(self.appended)

    def close(self) -> None:
        """Put away."""
        assert self.file is not None
        assert self.file.close() is None


def day_of_all(day: Day) -> None:
    """Create, log beyond two tidyings, close, open again, log, close."""
    day.create()
    day.append(5)
    day.close()
    day.open()
    day.append(1)
    day.close()


def reopened(files: dict[str, bytes], day: Day) -> int:
    """Open what the power left; check it, and that the session goes on from there. Gives the entries found."""
    fs = MemoryFs(files)
    opened = SessionFile.open(PATH, fs=fs)
    assert opened.readonly is None, opened.readonly
    found = list(opened.session.entries)
    assert found[: len(day.acknowledged)] == day.acknowledged
    assert found == day.appended[: len(found)]
    entry = opened.file.append(NoteWritten("after"), day.clock.now())
    assert opened.file.unsaved == ()
    assert opened.file.close() is None
    assert SessionFile.open(PATH, fs=MemoryFs(fs.files())).session.entries == (*found, entry)
    return len(found)


def survives(files: dict[str, bytes], day: Day) -> bool:
    """Tell whether everything acknowledged is there."""
    try:
        return SessionFile.open(PATH, fs=MemoryFs(files)).session.entries[: len(day.acknowledged)] == tuple(
            day.acknowledged
        )
    except SessionError:
        return False


@pytest.mark.parametrize("tidy", [2, 500])
def test_nothing_acknowledged_is_lost(tidy: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """At every step of a day and for every combination of what reached the disk, the acknowledged log is whole."""
    monkeypatch.setattr(session_file, "TIDY_EVERY", tidy)
    fs = MemoryFs()
    day = Day(fs)
    chance = random.Random(5)
    tried = 0

    def lose_power() -> None:
        nonlocal tried
        if day.file is None:
            return
        for files in fs.states(MOST_STATES, chance):
            reopened(files, day)
            tried += 1

    fs.watch = lose_power
    day_of_all(day)
    assert len(day.acknowledged) == 6
    assert tried > 100


def test_while_a_session_is_being_created_nothing_half_is_left() -> None:
    """Power lost before the creation was acknowledged leaves a whole empty session, or none."""
    fs = MemoryFs()
    day = Day(fs)
    seen: set[int | None] = set()

    def lose_power() -> None:
        for files in fs.states(200, random.Random(1)):
            if PATH.name in files:
                seen.add(reopened(files, day))
            else:
                with pytest.raises(SessionError):
                    SessionFile.open(PATH, fs=MemoryFs(files))
                seen.add(None)

    fs.watch = lose_power
    day.create()
    assert seen == {None, 0}


def test_power_lost_while_recovering() -> None:
    """Losing power again while a torn record is being put aside loses neither the log nor the torn bytes."""
    fs = MemoryFs()
    day = Day(fs)
    day.create()
    day.append(2)
    torn = b'{"seq":3,"crc":"0000'
    files = {**fs.files()}
    files[f"{PATH.name}.journal"] += torn
    again = MemoryFs(files)
    tried = 0

    def lose_power() -> None:
        nonlocal tried
        for left in again.states(200, random.Random(1)):
            kept = [content for name, content in left.items() if ".torn-" in name or ".journal" in name]
            assert any(torn in content for content in kept)
            reopened(left, day)
            tried += 1

    again.watch = lose_power
    opened = SessionFile.open(PATH, fs=again)
    assert len(opened.notices) == 1
    assert tried > 10


def test_the_model_does_lose_what_was_not_synced() -> None:
    """The file system of these tests really loses, tears and reorders: a store that never syncs is found out."""

    class Careless(MemoryFs):
        def sync(self, fd: int) -> None:
            self.watch()

    fs = Careless()
    day = Day(fs)
    day.create()
    day.append(2)
    assert not all(survives(files, day) for files in fs.states(500, random.Random(2)))


def test_the_model_does_lose_names() -> None:
    """A store that syncs files but never their folder is found out as well."""

    class Careless(MemoryFs):
        def sync_folder(self, folder: Path) -> None:
            self.watch()

    fs = Careless()
    day = Day(fs)
    day.create()
    day.append(1)
    assert not all(survives(files, day) for files in fs.states(500, random.Random(2)))
