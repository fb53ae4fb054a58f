"""A disk that refuses: each call fails once or for ever, for every reason, and nothing acknowledged is lost."""

from __future__ import annotations

import errno
import itertools
import os
import random
from collections.abc import Iterator
from contextlib import suppress
from functools import lru_cache, partial
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest
from attrs import evolve
from tests.clocks.virtual_clock import VirtualClock
from tests.effort import tries
from tests.log.makers import CREATED
from tests.plan.plans import wool_plan
from tests.storage.memory_fs import MemoryFs

from vatside.log.events.day import Entry, NoteWritten
from vatside.storage import session_file, snapshot
from vatside.storage.files import Fs
from vatside.storage.flaws import SessionError
from vatside.storage.session_file import SessionFile
from vatside.storage.snapshot import keep_copy
from vatside.units import Amount

PATH = Path("/sessions/day.json")
ERRORS = (errno.EIO, errno.ENOSPC, errno.EACCES, errno.EROFS, errno.EDQUOT, errno.EINTR)
USUAL = (errno.EIO, errno.ENOSPC)
"""Reasons that disks commonly give: after each failure more ways for the power to go are tried."""
SHORT = 0
"""Instead of an error: half the bytes are written, and no error is given."""
CALLS = (
    "open_new", "open_append", "write", "truncate", "sync", "close", "replace", "link", "unlink",
    "sync_folder", "stamp", "stamp_open", "read", "names", "lock", "real", "make_folder",
)  # fmt: skip


def failing(base: type[Fs], call: str, at: int, number: int, for_ever: bool) -> Any:
    """A file system whose `at`-th call of one kind fails, once or from then on."""

    class Failing(base):  # type: ignore[misc, valid-type]
        count = 0
        healed = False

        def failed(self) -> bool:
            """Whether it has failed by now."""
            return self.count >= at

    def method(self: Any, *args: Any, **more: Any) -> Any:
        self.count += 1
        fails = not self.healed and (self.count == at or (for_ever and self.count > at))
        real = getattr(super(Failing, self), call)
        if not fails:
            return real(*args, **more)
        if number == SHORT:
            return real(args[0], args[1][: len(args[1]) // 2])
        raise OSError(number, os.strerror(number))

    setattr(Failing, call, method)
    return Failing()


class Bench:
    """Somebody who logs notes and remembers which were shown as logged."""

    def __init__(self, fs: Any, path: Path = PATH) -> None:
        self.fs = fs
        self.path = path
        self.clock = VirtualClock(CREATED)
        self.shown: list[Entry] = []
        self.file: SessionFile | None = None

    def log(self, count: int) -> None:
        """Log notes; whatever is not shown as saved must be told."""
        assert self.file is not None
        for _ in range(count):
            self.clock.advance(1)
            self.file.append(NoteWritten("a note"), self.clock.now())
            assert bool(self.file.unsaved) <= bool(self.file.trouble)
            self.shown = [entry for entry in self.file.session.entries if entry not in self.file.unsaved]

    def day(self) -> None:
        """Create, log, close, open, log, close; go on where the disk allows it."""
        with suppress(SessionError):
            self.file = SessionFile.create(self.path, wool_plan(), self.clock.now(), self.fs)
        if self.file is None:
            return
        self.log(4)
        told = self.file.close()
        assert bool(self.file.unsaved) <= bool(told)
        with suppress(SessionError):
            self.reopen()

    def reopen(self) -> None:
        """Open again and log two more, if it is not read-only for a reason."""
        opened = SessionFile.open(self.path, fs=self.fs)
        if opened.readonly is None:
            self.file = opened.file
            self.log(2)
            self.file.close()


def cases() -> Iterator[Any]:
    """Each kind of call with each reason; half a write beside them."""
    for number in ERRORS:
        marks = () if number in USUAL else (pytest.mark.long,)
        yield from (pytest.param(call, number, marks=marks) for call in CALLS)
    yield ("write", SHORT)


@pytest.mark.parametrize("for_ever", [False, True], ids=["once", "for ever"])
@pytest.mark.parametrize(("call", "number"), list(cases()), ids=lambda item: errno.errorcode.get(item, str(item)))
def test_nothing_shown_as_logged_is_lost(
    call: str, number: int, for_ever: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whichever call fails, what was shown as logged can be read afterwards, even after a power cut, and it is told."""
    monkeypatch.setattr(session_file, "TIDY_EVERY", 3)
    cuts = tries(12 if number in USUAL else 3)
    reached = 0
    for at in range(1, 200):
        _name_by_numbers(monkeypatch)
        fs = failing(MemoryFs, call, at, number, for_ever)
        bench = Bench(fs)
        chance = random.Random(at)
        fs.watch = partial(_look_now_and_then, fs, bench, chance)
        bench.day()
        if not fs.failed():
            break
        reached += 1
        for files in fs.states(cuts, chance):
            _all_there(files, bench)
    assert reached > 0
    assert at < 199


def _name_by_numbers(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the names of a day be the same each time: what is left behind after one fault is known at the next."""
    numbers = itertools.count(1)
    for module in (session_file, snapshot):
        monkeypatch.setattr(module, "uuid4", lambda: UUID(int=next(numbers) << 96))


def _look_now_and_then(fs: MemoryFs, bench: Bench, chance: random.Random) -> None:
    if chance.random() < 0.1:
        for files in fs.states(2, chance):
            _all_there(files, bench)


def _all_there(files: dict[str, bytes], bench: Bench) -> None:
    if bench.file is None:
        return
    found = _entries(tuple(files.items()))
    assert found[: len(bench.shown)] == tuple(bench.shown)


@lru_cache(maxsize=4096)
def _entries(files: tuple[tuple[str, bytes], ...]) -> tuple[Entry, ...]:
    """What is read from a disk: power that goes at another moment often leaves the same bytes behind."""
    return SessionFile.open(PATH, readonly=True, fs=MemoryFs(dict(files))).session.entries


def appending() -> Iterator[tuple[str, int]]:
    """The calls that every entry goes through, with each reason."""
    yield from ((call, number) for call in ("write", "sync", "open_append", "sync_folder") for number in ERRORS)
    yield ("write", SHORT)


@pytest.mark.parametrize(("call", "number"), list(appending()), ids=lambda item: errno.errorcode.get(item, str(item)))
def test_once_the_disk_is_well_again_everything_is_saved(call: str, number: int) -> None:
    """Entries that the disk refused are kept in memory and brought to it as soon as it takes them."""
    fs = failing(MemoryFs, call, 1, number, for_ever=True)
    fs.healed = True
    bench = Bench(fs)
    bench.file = SessionFile.create(PATH, wool_plan(), bench.clock.now(), fs)
    fs.healed, fs.count = False, 0
    bench.log(3)
    assert len(bench.file.unsaved) == 3
    fs.healed = True
    assert bench.file.retry()
    assert not bench.file.unsaved
    assert bench.file.trouble is None
    assert SessionFile.open(PATH, readonly=True, fs=MemoryFs(fs.files())).session == bench.file.session


def test_after_a_failed_sync_the_same_bytes_are_not_trusted() -> None:
    """A second sync of the same file may lie: the next try writes everything into a new file."""
    fs = failing(MemoryFs, "sync", 4, errno.EIO, for_ever=False)
    bench = Bench(fs)
    bench.file = SessionFile.create(PATH, wool_plan(), bench.clock.now(), fs)
    bench.log(2)
    assert len(bench.file.unsaved) == 1
    before = fs.stamp(PATH)
    assert bench.file.retry()
    assert not fs.stamp(PATH).same_file(before)
    assert fs.files()[f"{PATH.name}.journal"] == b""


def test_a_failed_creation_leaves_no_trace_and_a_sentence(tmp_path: Path) -> None:
    """A full disk at the very beginning is told, and no half file stays."""
    fs = failing(Fs, "write", 1, errno.ENOSPC, for_ever=True)
    with pytest.raises(SessionError, match="the disk is full"):
        SessionFile.create(tmp_path / "day.json", wool_plan(), VirtualClock().now(), fs)
    assert [path.name for path in tmp_path.iterdir()] == ["day.json.lock"]


def test_a_full_disk_is_told_and_nothing_is_half_written(tmp_path: Path) -> None:
    """Half a record is cut off again, the entry stays in memory, the reason is said in words."""
    fs = failing(Fs, "write", 6, SHORT, for_ever=True)
    bench = Bench(fs, tmp_path / "day.json")
    bench.file = SessionFile.create(bench.path, wool_plan(), bench.clock.now(), fs)
    bench.log(2)
    assert [entry.seq for entry in bench.file.unsaved] == [2]
    assert bench.file.trouble == f"not saved: the disk is full ({bench.path})"
    journal = (tmp_path / "day.json.journal").read_bytes()
    assert journal.count(b"\n") == 1
    assert journal.endswith(b"\n")


def test_saving_elsewhere_rescues_what_is_in_memory(tmp_path: Path) -> None:
    """With a disk that refuses, the whole session goes to another place and on from there."""
    fs = failing(Fs, "write", 6, errno.EROFS, for_ever=True)
    bench = Bench(fs, tmp_path / "day.json")
    bench.file = SessionFile.create(bench.path, wool_plan(), bench.clock.now(), fs)
    bench.log(3)
    assert len(bench.file.unsaved) == 2
    fs.healed = True
    bench.file.save_elsewhere(tmp_path / "rescued" / "day.json")
    bench.log(1)
    assert bench.file.close() is None
    assert len(SessionFile.open(tmp_path / "rescued" / "day.json").session.entries) == 4


def test_saving_elsewhere_that_fails_changes_nothing(tmp_path: Path) -> None:
    """If the other place refuses as well, the session stays where it was, entries in memory included."""
    bench = Bench(Fs(), tmp_path / "day.json")
    bench.file = SessionFile.create(bench.path, wool_plan(), bench.clock.now(), Fs())
    bench.log(1)
    (tmp_path / "taken.json").write_text("mine")
    with pytest.raises(SessionError, match="already"):
        bench.file.save_elsewhere(tmp_path / "taken.json")
    assert (tmp_path / "taken.json").read_text() == "mine"
    bench.log(1)
    assert bench.file.close() is None
    assert len(SessionFile.open(bench.path).session.entries) == 2


def test_a_copy_that_breaks_off_is_taken_away_again(tmp_path: Path) -> None:
    """What is half written must not pass for the copy of an older format the next time."""
    fs = failing(Fs, "write", 1, SHORT, for_ever=True)
    with pytest.raises(OSError, match="No space"):
        keep_copy(fs, b"a day of an older format", tmp_path / "day.json.bak.v1")
    assert list(tmp_path.iterdir()) == []
    fs.healed = True
    keep_copy(fs, b"a day of an older format", tmp_path / "day.json.bak.v1")
    assert (tmp_path / "day.json.bak.v1").read_bytes() == b"a day of an older format"


def test_a_plan_that_could_not_be_read_again_makes_no_file(tmp_path: Path) -> None:
    """It is told at once, with the day still in memory, rather than at the next opening."""
    plan = evolve(wool_plan(), lots=(evolve(wool_plan().lots[0], mass=Amount(0.5, "g")),))
    with pytest.raises(SessionError, match=r"Dry weight: 0.5 g cannot be"):
        SessionFile.create(tmp_path / "day.json", plan, VirtualClock().now())
    assert list(tmp_path.iterdir()) == []
