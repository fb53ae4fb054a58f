"""What is being typed stands beside the session file until it is logged."""

from __future__ import annotations

import stat
from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock

from vatside.log.events.day import NoteWritten
from vatside.storage.files import Fs
from vatside.storage.journal import LARGEST, SYNC_EVERY, DraftFile, drafted, forget
from vatside.storage.places import draft_path, journal_path


class Counting(Fs):
    """Counts what is brought down to the disk itself."""

    syncs = 0

    def sync(self, fd: int) -> None:
        """Count."""
        self.syncs += 1


def day(tmp_path: Path) -> Path:
    """Where the session file of the test would be."""
    return tmp_path / "day.json"


def test_the_last_record_counts(tmp_path: Path) -> None:
    """Of the letters of a word the whole word is found."""
    file, now = DraftFile(Fs(), day(tmp_path), "abc"), VirtualClock().now()
    for text in ("r", "ri", "rinse"):
        file.write(4, NoteWritten(text), now)
    assert drafted(day(tmp_path), "abc", 3) == NoteWritten("rinse")


@pytest.mark.parametrize(("session", "entries"), [("other", 3), ("abc", 4), ("abc", 2)])
def test_a_draft_of_another_state_is_none(tmp_path: Path, session: str, entries: int) -> None:
    """What belongs to another session, or was logged since, is not taken for what was being typed."""
    DraftFile(Fs(), day(tmp_path), "abc").write(4, NoteWritten("rinse"), VirtualClock().now())
    assert drafted(day(tmp_path), session, entries) is None


def test_a_draft_that_broke_off(tmp_path: Path) -> None:
    """Half a record is left out; the one before it counts."""
    DraftFile(Fs(), day(tmp_path), "abc").write(1, NoteWritten("rinse"), VirtualClock().now())
    path = draft_path(day(tmp_path))
    path.write_bytes(path.read_bytes() + b'{"seq":1,"crc":"00')
    assert drafted(day(tmp_path), "abc", 0) == NoteWritten("rinse")


def test_what_is_logged_is_no_draft_any_more(tmp_path: Path) -> None:
    """A cleared draft is none, and a closed one leaves no file."""
    file, now = DraftFile(Fs(), day(tmp_path), "abc"), VirtualClock().now()
    file.write(1, NoteWritten("rinse"), now)
    file.clear()
    assert drafted(day(tmp_path), "abc", 0) is None
    file.write(1, NoteWritten("wash"), now)
    assert drafted(day(tmp_path), "abc", 0) == NoteWritten("wash")
    file.close()
    assert not draft_path(day(tmp_path)).exists()


def test_it_is_the_owners_alone_and_stays_small(tmp_path: Path) -> None:
    """Nobody else may read it, and a long text does not let it grow for ever."""
    file, now = DraftFile(Fs(), day(tmp_path), "abc"), VirtualClock().now()
    for _ in range(3 * LARGEST // 1000):
        file.write(1, NoteWritten("x" * 900), now)
    found = draft_path(day(tmp_path)).stat()
    assert stat.S_IMODE(found.st_mode) == 0o600
    assert found.st_size < LARGEST + 2000


def test_a_burst_goes_down_to_the_disk_once(tmp_path: Path) -> None:
    """Each key is with the system at once; the disk is asked once in a while, and at last for the rest."""
    fs, clock = Counting(), VirtualClock()
    file = DraftFile(fs, day(tmp_path), "abc")
    for number in range(10):
        file.write(1, NoteWritten("x" * (number + 1)), clock.now())
    assert fs.syncs == 1
    clock.advance(SYNC_EVERY)
    file.sync(clock.now())
    file.sync(clock.now())
    assert fs.syncs == 2


def test_a_folder_that_takes_no_draft_is_no_harm(tmp_path: Path) -> None:
    """Nothing is said here: what is logged a moment later tells it."""
    file = DraftFile(Fs(), tmp_path / "gone" / "day.json", "abc")
    file.write(1, NoteWritten("rinse"), VirtualClock().now())
    file.clear()
    file.close()
    assert drafted(tmp_path / "gone" / "day.json", "abc", 0) is None


def test_forgetting_takes_all_that_lies_beside(tmp_path: Path) -> None:
    """Of a day that got another name nothing stays."""
    for path in (day(tmp_path), journal_path(day(tmp_path)), draft_path(day(tmp_path))):
        path.write_text("")
    forget(day(tmp_path))
    assert list(tmp_path.iterdir()) == []
