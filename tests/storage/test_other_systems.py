"""What other systems do differently, with their calls and answers put in place of ours."""

from __future__ import annotations

import errno
import os
import sys
from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import CREATED

from vatside.log.events.day import NoteWritten
from vatside.plan.starter import starter_plan
from vatside.storage.files import Busy, Fs, Lock, _by_library
from vatside.storage.flaws import reason
from vatside.storage.folder import new_path, slug
from vatside.storage.places import make_folder
from vatside.storage.session_file import SessionFile

NOW = VirtualClock(CREATED).now()
DEVICES = {"con", "prn", "aux", "nul", *(f"{name}{number}" for name in ("com", "lpt") for number in range(1, 10))}
"""Names that no file of Windows can have, whatever ends them (Microsoft, Naming Files, Paths, and Namespaces)."""


class Windows(Fs):
    """Locks by the library; a file that is open can be neither taken away nor replaced."""

    def __init__(self) -> None:
        self.open_paths: dict[int, Path] = {}

    def lock(self, path: Path, mode: int = 0o600) -> Lock:
        """Take the lock as the library does."""
        return _by_library(path)

    def open_new(self, path: Path, mode: int) -> int:
        """Remember what is open."""
        fd = super().open_new(path, mode)
        self.open_paths[fd] = path
        return fd

    def open_append(self, path: Path, mode: int) -> int:
        """Remember what is open."""
        fd = super().open_append(path, mode)
        self.open_paths[fd] = path
        return fd

    def close(self, fd: int) -> None:
        """Forget it."""
        del self.open_paths[fd]
        super().close(fd)

    def _refuse_open(self, path: Path) -> None:
        if path in self.open_paths.values():
            raise PermissionError(errno.EACCES, "The process cannot access the file")

    def unlink(self, path: Path) -> None:
        """Take a name away that nobody has open."""
        self._refuse_open(path)
        super().unlink(path)

    def replace(self, source: Path, target: Path) -> None:
        """Replace what nobody has open."""
        self._refuse_open(source)
        self._refuse_open(target)
        super().replace(source, target)


def test_a_day_on_windows(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without modes, and where what is open stays, a day is begun, logged, tidied, closed and opened again."""
    _by_library(tmp_path / "first").release()  # the library looks for the system's own means when it is imported
    monkeypatch.setattr(sys, "platform", "win32")
    monkeypatch.delattr(os, "fchmod")
    fs, path = Windows(), tmp_path / "new" / "sessions" / "day.json"
    file = SessionFile.create(path, starter_plan(), NOW, fs)
    for number in range(3):
        file.append(NoteWritten(str(number)), NOW)
    assert file.trouble is None
    assert SessionFile.open(path, fs=fs).readonly == "it is open in another window"
    assert file.close() is None
    again = SessionFile.open(path, fs=fs)
    assert (again.readonly, again.session.seq) == (None, 3)
    again.file.close()
    assert fs.open_paths == {}


@pytest.mark.parametrize("title", ["con", "NUL", "com1", "aux.", "a<b>|c?", "x" * 300, "…", "trailing. "])
def test_names_of_files_that_windows_takes(tmp_path: Path, title: str) -> None:
    """No device, none of its forbidden characters, no full stop or space at the end, and short enough."""
    name = new_path(tmp_path, title, NOW).name
    assert name.partition(".")[0].casefold() not in DEVICES
    assert not set(name) & set('<>:"/\\|?*')
    assert name == name.rstrip(". ")
    assert len(name) < 80
    assert slug(title)


def test_a_disk_of_macos_is_asked_to_really_write(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Its plain call leaves the bytes in the drive's own memory (Apple, fsync(2)): the other one is made."""
    fcntl = pytest.importorskip("fcntl")
    asked: list[int] = []
    monkeypatch.setattr(sys, "platform", "darwin")
    monkeypatch.setattr(fcntl, "F_FULLFSYNC", 51, raising=False)
    monkeypatch.setattr(fcntl, "fcntl", lambda _fd, number: asked.append(number))
    SessionFile.create(tmp_path / "day.json", starter_plan(), NOW).close()
    assert asked
    assert set(asked) == {51}


def _open_files() -> int:
    return sum(1 for _ in Path("/dev/fd").iterdir())


@pytest.mark.parametrize("number", [errno.ENOLCK, errno.EIO, errno.EPERM, errno.ENOSPC, errno.EINTR, errno.EDEADLK])
def test_a_lock_that_the_system_refuses(tmp_path: Path, number: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever it answers, the day is shown, it is said that nothing can be added and why, and no number stays open."""
    fcntl = pytest.importorskip("fcntl")

    def refuse(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    path = tmp_path / "day.json"
    SessionFile.create(path, starter_plan(), NOW).close()
    monkeypatch.setattr(fcntl, "flock", refuse)
    held = _open_files()
    opened = SessionFile.open(path)
    assert opened.readonly == f"its folder takes no lock: {reason(OSError(number, os.strerror(number)))}"
    assert _open_files() == held


def test_a_lock_file_that_is_a_folder(tmp_path: Path) -> None:
    """What stands in the lock's place is left alone, and the day is shown."""
    path = tmp_path / "day.json"
    SessionFile.create(path, starter_plan(), NOW).close()
    (tmp_path / "day.json.lock").unlink()
    make_folder(tmp_path / "day.json.lock")
    assert str(SessionFile.open(path).readonly).startswith("its folder takes no lock: ")


def test_the_library_keeps_a_second_one_out(tmp_path: Path) -> None:
    """Where the system has no call of its own, the library's lock is one."""
    held = _by_library(tmp_path / "lock")
    with pytest.raises(Busy):
        _by_library(tmp_path / "lock")
    held.release()
    _by_library(tmp_path / "lock").release()
