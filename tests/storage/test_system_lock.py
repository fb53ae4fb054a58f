"""The lock on a file: one holder, by whatever call the system has."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest

from vatside.storage.files import Busy, lock_file

fcntl = pytest.importorskip("fcntl")


def test_one_holds_it_at_a_time(tmp_path: Path) -> None:
    """A second lock is refused at once, and taken once the first is let go."""
    held = lock_file(tmp_path / "lock")
    with pytest.raises(Busy):
        lock_file(tmp_path / "lock")
    held.release()
    lock_file(tmp_path / "lock").release()


def test_letting_go_twice_lets_nothing_else_go(tmp_path: Path) -> None:
    """The second release must not close a file that took the number of the first."""
    held = lock_file(tmp_path / "one")
    held.release()
    other = lock_file(tmp_path / "two")
    held.release()
    with pytest.raises(Busy):
        lock_file(tmp_path / "two")
    other.release()


def test_another_program_is_kept_out_and_let_in(tmp_path: Path) -> None:
    """The system's own call locks out whoever asks for it, and filelock, as earlier versions took it, likewise."""
    path = tmp_path / "lock"
    code = "import sys, filelock; filelock.FileLock(sys.argv[1], timeout=0).acquire()"
    held = lock_file(path)
    assert subprocess.run([sys.executable, "-c", code, str(path)], check=False, capture_output=True).returncode == 1
    held.release()
    assert subprocess.run([sys.executable, "-c", code, str(path)], check=False, capture_output=True).returncode == 0


def test_what_the_library_holds_is_busy(tmp_path: Path) -> None:
    """A window of an earlier version keeps its session."""
    filelock = pytest.importorskip("filelock")
    with filelock.FileLock(tmp_path / "lock"), pytest.raises(Busy):
        lock_file(tmp_path / "lock")


@pytest.mark.parametrize("number", [errno.EAGAIN, errno.EACCES])
def test_both_ways_of_saying_held_are_busy(tmp_path: Path, number: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Some network file systems refuse a held lock as a thing not allowed."""
    monkeypatch.setattr(fcntl, "flock", _refusing(number))
    with pytest.raises(Busy):
        lock_file(tmp_path / "lock")


def test_a_disk_without_such_locks_gets_another_kind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the file system knows no lock, the library finds a way, and keeps others out all the same."""
    monkeypatch.setattr(fcntl, "flock", _refusing(errno.ENOSYS))
    with pytest.warns(UserWarning, match="flock not supported"):
        held = lock_file(tmp_path / "lock")
    with pytest.warns(UserWarning, match="flock not supported"), pytest.raises(Busy):
        lock_file(tmp_path / "lock")
    held.release()


def test_no_link_is_followed(tmp_path: Path) -> None:
    """A link in the lock's place could lead to any file of hers; what refuses says why."""
    (tmp_path / "lock").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(OSError, match=os.strerror(errno.ELOOP)):
        lock_file(tmp_path / "lock")
    assert not (tmp_path / "elsewhere").exists()


def _refusing(number: int) -> object:
    def refuse(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    return refuse


@pytest.mark.parametrize("umask", [0o000, 0o022, 0o077, 0o777])
@pytest.mark.parametrize("mode", [0o600, 0o660])
def test_a_lock_is_for_those_who_may_write_the_file(tmp_path: Path, umask: int, mode: int) -> None:
    """The dyer's own file has a lock of her own; one that she shares with her group has one the group can take."""
    old = os.umask(umask)
    try:
        lock_file(tmp_path / "lock", mode).release()
    finally:
        os.umask(old)
    assert (tmp_path / "lock").stat().st_mode & 0o777 == mode


def test_a_file_that_was_shared_later_shares_its_lock(tmp_path: Path) -> None:
    """The lock of an earlier time takes the mode that its file has by now."""
    lock_file(tmp_path / "lock", 0o600).release()
    lock_file(tmp_path / "lock", 0o660).release()
    assert (tmp_path / "lock").stat().st_mode & 0o777 == 0o660


def test_a_child_that_lives_on_keeps_no_lock(tmp_path: Path) -> None:
    """Whoever came of us has the same open file: letting go must free the lock for all that."""
    code = (
        "import os, pathlib, sys; from vatside.storage.files import lock_file\n"
        "path = pathlib.Path(sys.argv[1]); held = lock_file(path); ours, theirs = os.pipe()\n"
        "if os.fork() == 0: os.close(theirs); os.read(ours, 1); os._exit(0)\n"
        "held.release(); lock_file(path).release(); print('free')"
    )
    done = subprocess.run([sys.executable, "-c", code, str(tmp_path / "lock")], capture_output=True, check=True)
    assert done.stdout == b"free\n"
