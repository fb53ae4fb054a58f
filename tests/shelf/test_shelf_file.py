"""The shelf's file: two windows, a full disk, lost power, foreign hands."""

from __future__ import annotations

import errno
import itertools
import os
import random
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.effort import examples
from tests.shelf.shelves import EVENTS, MAY, item, used
from tests.storage.memory_fs import MemoryFs
from tests.storage.test_disk_faults import CALLS, ERRORS, SHORT, failing

from vatside.plain.say import Refusal
from vatside.plain.shelf import run_shelf
from vatside.shelf.events import ItemBought, ItemChanged, ItemWeighed, Noted, ShelfEvent
from vatside.shelf.shelf_file import PAUSE, SHELF_LOG, TRIES, ShelfFile, decode, encode, shelf_path
from vatside.storage.files import Fs
from vatside.storage.flaws import SessionError
from vatside.storage.journal import entry_record
from vatside.units import Amount

PATH = Path("/home/shelf.json")


def no_pause(_seconds: float) -> None:
    """Nobody waits in a test."""


def window(path: Path, fs: Fs | None = None) -> ShelfFile:
    """Open a window on the shelf."""
    return ShelfFile(path, fs, no_pause)


@pytest.fixture(name="path")
def _path(tmp_path: Path) -> Path:
    return tmp_path / "mine" / "shelf.json"


def on_disk(path: Path, fs: Fs | None = None) -> tuple[Noted, ...]:
    """What a reader finds."""
    return decode((fs or Fs()).read(path)[0]).noted


def events(log: tuple[Noted, ...]) -> list[ShelfEvent]:
    """The events of a log."""
    return [entry.event for entry in log]


def test_no_file_is_an_empty_shelf(path: Path) -> None:
    """Looking at it writes nothing."""
    assert window(path).shelf.owned == ()
    assert not path.parent.exists()


def test_what_was_noted_is_on_the_disk(path: Path) -> None:
    """In a file and folder that are the dyer's own."""
    assert window(path).note([ItemBought(item())], MAY)
    assert events(on_disk(path)) == [ItemBought(item(grams=100.0))]
    assert path.stat().st_mode & 0o777 == 0o600
    assert path.parent.stat().st_mode & 0o777 == 0o700


def test_it_stands_beside_the_sessions(monkeypatch: pytest.MonkeyPatch) -> None:
    """One shelf for all sessions of a person, or wherever she says."""
    monkeypatch.setenv("VATSIDE_HOME", "/somewhere")
    assert shelf_path() == Path("/somewhere/shelf.json")
    assert shelf_path(Path("x.json")) == Path("x.json")


def test_two_windows_lose_nothing_of_each_other(path: Path) -> None:
    """Both were open before either wrote; each change is there in the end, and both come to the same shelf."""
    one, other = window(path), window(path)
    one.note([ItemBought(item("i1"))], MAY)
    other.note([ItemBought(item("i2"))], MAY)
    one.note([ItemChanged("i1", "lot", "A")], MAY)
    other.note([ItemChanged("i1", "opened", "2026-05-01")], MAY)
    one.reload()
    assert one.shelf == other.shelf
    found = other.shelf["i1"].item
    assert (found.lot, found.opened, len(other.shelf.owned)) == ("A", "2026-05-01", 2)


def test_a_window_sees_what_another_noted_once_it_looks(path: Path) -> None:
    """Looking again says whether anything changed."""
    one, other = window(path), window(path)
    assert not one.reload()
    other.note([ItemBought(item())], MAY)
    assert one.reload()
    assert not one.reload()
    assert len(one.shelf.owned) == 1


def test_the_later_word_counts_in_every_window(path: Path) -> None:
    """Both set the same detail: whoever had seen the other's word has the last one."""
    one, other = window(path), window(path)
    one.note([ItemBought(item()), ItemChanged("i1", "lot", "first")], MAY)
    other.reload()
    other.note([ItemChanged("i1", "lot", "second")], MAY)
    assert window(path).shelf["i1"].item.lot == "second"


@examples(30)
@given(st.lists(st.tuples(st.integers(0, 2), EVENTS), max_size=15))
def test_any_three_windows_end_up_alike(deeds: list[tuple[int, ShelfEvent]]) -> None:
    """However they take turns, nothing is lost and all see the same in the end."""
    fs = MemoryFs()
    windows = [window(PATH, fs) for _ in range(3)]
    for which, event in deeds:
        assert windows[which].note([event], MAY)
    for one in windows:
        one.reload()
    assert windows[0].shelf == windows[1].shelf == windows[2].shelf
    assert len(windows[0].shelf.noted) == len(deeds)


WRITER = """
import sys, pathlib
from datetime import datetime, UTC
from vatside.shelf.shelf_file import ShelfFile
from vatside.shelf.events import ItemFinished
file = ShelfFile(pathlib.Path(sys.argv[1]))
for number in range(25):
    file.note([ItemFinished(f"{sys.argv[2]}{number}")], datetime.now(UTC))
while file.unsaved:
    file.retry()
"""


def test_three_processes_at_once_lose_nothing(path: Path) -> None:
    """Seventy-five entries by three writers that know nothing of each other are all there."""
    path.parent.mkdir()
    writers = [subprocess.Popen([sys.executable, "-c", WRITER, str(path), name]) for name in "abc"]
    assert [writer.wait(600) for writer in writers] == [0, 0, 0]
    found = [getattr(event, "item", "") for event in events(on_disk(path))]
    assert sorted(found) == sorted(f"{name}{number}" for name in "abc" for number in range(25))


def test_a_busy_lock_is_asked_for_again_and_then_told(path: Path) -> None:
    """Another window that never lets go: we ask twenty times, then say so and keep the entry."""
    path.parent.mkdir()
    pauses: list[float] = []
    file = ShelfFile(path, None, pauses.append)
    held = Fs().lock(path.with_name("shelf.json.lock"))
    assert not file.note([ItemBought(item())], MAY)
    assert file.trouble == "not saved: another window is writing to the shelf"
    assert pauses == [PAUSE] * (TRIES - 1)
    assert len(file.shelf.owned) == 1
    held.release()
    assert file.retry()
    assert file.trouble is None
    assert len(on_disk(path)) == 1


def test_a_full_disk_loses_nothing(tmp_path: Path) -> None:
    """Told, kept in memory, and written once there is room."""
    room = {"left": False}

    class Full(Fs):
        def write(self, fd: int, data: bytes | memoryview) -> int:
            if room["left"]:
                return super().write(fd, data)
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    path = tmp_path / "shelf.json"
    window(path).note([ItemBought(item())], MAY)
    before = path.read_bytes()
    file = window(path, Full())
    assert not file.note([used("i1", 6)], MAY)
    assert not file.note([used("i1", 4, 2, "s2")], MAY)
    assert file.trouble == f"not saved: the disk is full ({path})"
    assert path.read_bytes() == before
    assert file.shelf["i1"].left == 90
    assert [found.name for found in tmp_path.iterdir() if found.name.endswith(".tmp")] == []
    room["left"] = True
    assert file.retry()
    assert window(path).shelf["i1"].left == 90


@pytest.mark.parametrize("for_ever", [False, True])
@pytest.mark.parametrize("number", [*ERRORS, SHORT])
@pytest.mark.parametrize("call", CALLS)
def test_every_fault_is_told_and_healed(call: str, number: int, for_ever: bool) -> None:
    """Whichever call fails, at whichever time: the file is whole, what is not saved is told, and a retry saves it."""
    if number == SHORT and call != "write":
        return
    for at in range(1, 40):
        fs = failing(MemoryFs, call, at, number, for_ever)
        file = window(PATH, fs)
        for name in ("i1", "i2"):
            saved = file.note([ItemBought(item(name))], MAY)
            assert saved is (file.unsaved == ())
            assert saved or file.trouble
        kept = _whole(fs)
        assert kept <= {"i1", "i2"}
        assert {owned.item.id for owned in file.shelf.owned} == {"i1", "i2"}
        reached = fs.failed()
        fs.healed = True
        assert file.retry()
        assert _whole(fs) == {"i1", "i2"}
        if not reached:
            return


def _whole(fs: MemoryFs) -> set[str]:
    """Items in the file, which must be whole or not there."""
    data = fs.files().get(PATH.name)
    return (
        {entry.event.item.id for entry in decode(data).noted if isinstance(entry.event, ItemBought)} if data else set()
    )


def test_lost_power_loses_nothing_acknowledged() -> None:
    """At every step, whatever reached the disk, the shelf holds all that was acknowledged."""
    fs = MemoryFs()
    acknowledged: set[str] = set()
    chance = random.Random(7)
    tried = itertools.count()

    def lose_power() -> None:
        for files in fs.states(40, chance):
            found = {owned.item.id for owned in window(PATH, MemoryFs(files)).shelf.owned}
            assert acknowledged <= found
            next(tried)

    fs.watch = lose_power
    file = window(PATH, fs)
    for name in ("i1", "i2", "i3", "i4"):
        assert file.note([ItemBought(item(name))], MAY)
        acknowledged.add(name)
    assert next(tried) > 100


def left_behind(path: Path, *entries: Noted, torn: bytes = b"") -> Path:
    """A shelf with one bag, and a journal that a writer left who was cut off before it was brought into the file."""
    window(path).note([ItemBought(item("i1"))], MAY)
    journal = path.with_name(f"{path.name}.journal")
    journal.write_bytes(b"".join(entry_record("shelf", entry, SHELF_LOG) for entry in entries) + torn)
    return journal


def test_what_a_writer_left_in_the_journal_is_read_and_brought_into_the_file(path: Path) -> None:
    """It counts at once; with the next note it stands in the file, once, and the journal is gone."""
    journal = left_behind(path, Noted(2, "e2", MAY, ItemBought(item("i2"))))
    file = window(path)
    assert {owned.item.id for owned in file.shelf.owned} == {"i1", "i2"}
    assert file.note([ItemBought(item("i3"))], MAY)
    assert [entry.seq for entry in on_disk(path)] == [1, 2, 3]
    assert not journal.exists()


def test_a_journal_that_was_brought_in_and_not_emptied_counts_once(path: Path) -> None:
    """The writer was cut off between the two."""
    left_behind(path)
    (entry,) = on_disk(path)
    left_behind(path.with_name("other.json"), entry).rename(path.with_name(f"{path.name}.journal"))
    file = window(path)
    assert file.note([used("i1", 6)], MAY)
    assert (len(on_disk(path)), file.shelf["i1"].left) == (2, 94)


def test_a_record_that_broke_off_is_kept_aside(path: Path) -> None:
    """Half a record is no entry; it is put aside, and the shelf goes on."""
    whole = Noted(2, "e2", MAY, ItemBought(item("i2")))
    left_behind(path, whole, torn=b'{"seq":3,"crc":')
    file = window(path)
    assert file.note([ItemBought(item("i3"))], MAY)
    assert {owned.item.id for owned in window(path).shelf.owned} == {"i1", "i2", "i3"}
    assert path.with_name(f"{path.name}.torn-1").read_bytes() == b'{"seq":3,"crc":'


def test_a_damaged_journal_is_told_and_left_alone(path: Path) -> None:
    """Good records behind a broken one: what can be read is shown, and nothing is written."""
    journal = left_behind(path, Noted(2, "e2", MAY, ItemBought(item("i2"))))
    journal.write_bytes(b"rubbish\n" + journal.read_bytes())
    before = path.read_bytes(), journal.read_bytes()
    file = window(path)
    assert file.readonly == "record 1 of its journal is damaged, with 1 good one behind it"
    assert not file.note([ItemBought(item("i3"))], MAY)
    assert (path.read_bytes(), journal.read_bytes()) == before


def test_a_damaged_file_is_shown_from_its_backup_and_never_written_over(path: Path) -> None:
    """What is readable is shown, the reason is told, and the damaged file stays as it is."""
    file = window(path)
    file.note([ItemBought(item("i1"))], MAY)
    file.note([ItemBought(item("i2"))], MAY)
    path.write_bytes(path.read_bytes()[:-30])
    damaged = path.read_bytes()
    opened = window(path)
    assert [owned.item.id for owned in opened.shelf.owned] == ["i1"]
    assert opened.readonly is not None
    assert "shown is its backup, shelf.json.bak" in opened.readonly
    assert not opened.note([ItemBought(item("i3"))], MAY)
    assert opened.trouble is not None
    assert path.read_bytes() == damaged
    assert len(opened.unsaved) == 1


def test_a_file_damaged_while_we_run_is_not_written_over(path: Path) -> None:
    """An editor broke it: what we know stays on the screen, and it is told."""
    file = window(path)
    file.note([ItemBought(item("i1"))], MAY)
    path.write_bytes(b"{}")
    assert not file.note([ItemBought(item("i2"))], MAY)
    assert path.read_bytes() == b"{}"
    assert [owned.item.id for owned in file.shelf.owned] == ["i1", "i2"]


def test_a_mended_file_goes_on(path: Path) -> None:
    """Once somebody put the file right, the pending entry goes in."""
    file = window(path)
    file.note([ItemBought(item("i1"))], MAY)
    good = path.read_bytes()
    path.write_bytes(b"{}")
    file.note([ItemBought(item("i2"))], MAY)
    path.write_bytes(good)
    assert file.retry()
    assert len(window(path).shelf.owned) == 2


def test_a_newer_shelf_is_only_looked_at(path: Path) -> None:
    """A file of version 2 is shown, named and left alone."""
    window(path).note([ItemBought(item())], MAY)
    newer = path.read_bytes().replace(b'"version": 1', b'"version": 2')
    path.write_bytes(newer)
    file = window(path)
    assert file.readonly is not None
    assert file.readonly.startswith("a newer Vatside wrote this shelf")
    assert not file.note([ItemWeighed("i1", Amount(5, "g"))], MAY)
    assert path.read_bytes() == newer


def test_a_file_that_vanished_is_written_anew(path: Path) -> None:
    """Deleted while we ran: everything we know goes into a new one."""
    file = window(path)
    file.note([ItemBought(item("i1"))], MAY)
    path.unlink()
    assert file.note([ItemBought(item("i2"))], MAY)
    assert len(on_disk(path)) == 2


def test_a_missing_file_with_a_backup_is_taken_from_it(path: Path) -> None:
    """Lost or renamed by accident: the backup says what was there."""
    file = window(path)
    file.note([ItemBought(item("i1"))], MAY)
    file.note([ItemBought(item("i2"))], MAY)
    path.unlink()
    assert [owned.item.id for owned in window(path).shelf.owned] == ["i1"]


@pytest.mark.skipif(sys.platform == "win32", reason="no links there")
def test_a_link_is_followed_and_kept(tmp_path: Path) -> None:
    """The shelf in a synchronised folder, reached by a link."""
    real = tmp_path / "cloud.json"
    link = tmp_path / "shelf.json"
    link.symlink_to(real)
    window(link).note([ItemBought(item())], MAY)
    window(link).note([used("i1", 5)], MAY)
    assert link.is_symlink()
    assert len(on_disk(real)) == 2


@pytest.mark.parametrize("kind", ["folder", "pipe"])
def test_what_is_no_file_is_told(tmp_path: Path, kind: str) -> None:
    """A folder or a pipe in its place is no reason to hang or to fail."""
    path = tmp_path / "shelf.json"
    path.mkdir() if kind == "folder" else os.mkfifo(path)
    file = window(path)
    assert file.readonly is not None
    assert not file.note([ItemBought(item())], MAY)
    assert file.unsaved
    with pytest.raises(Refusal, match="is no plain file"):
        run_shelf(["--shelf", str(path)])


def test_an_event_that_could_not_be_read_back_is_refused(path: Path) -> None:
    """Before anything is kept of it."""
    file = window(path)
    with pytest.raises(ValueError, match="event, grams: is too large"):
        file.note([used("i1", 1e300)], MAY)
    assert file.unsaved == ()
    assert not path.exists()


def test_half_characters_become_question_marks(path: Path) -> None:
    """What a broken paste brings is kept as far as it can be."""
    file = window(path)
    assert file.note([ItemBought(item(lot="x\ud800y"))], MAY)
    assert file.shelf["i1"].item.lot == "x?y"
    assert window(path).shelf == file.shelf


def test_no_shelf_of_a_session_file(path: Path) -> None:
    """Pointed at a session by mistake, it is left alone."""
    path.parent.mkdir()
    path.write_bytes(b'{"format":"vatside-session"}')
    assert window(path).readonly == "this is not a Vatside shelf"
    with pytest.raises(SessionError):
        on_disk(path)
    assert encode(()) != path.read_bytes()
