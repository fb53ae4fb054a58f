"""Real faults of a real system: a full device, a limit on file sizes, and a process killed again and again."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import NoReturn

import pytest
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import CREATED
from tests.plan.plans import wool_plan

from vatside.log.events.day import NoteWritten
from vatside.storage import session_file
from vatside.storage.files import Fs
from vatside.storage.session_file import SessionFile

NOW = VirtualClock(CREATED).now()


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="Linux has this device")
def test_a_full_device(tmp_path: Path) -> None:
    """A device that is always full refuses every entry in words; all stay in memory and are saved elsewhere."""

    class FullDevice(Fs):
        def write(self, fd: int, data: bytes | memoryview) -> int:
            full = os.open("/dev/full", os.O_WRONLY)
            try:
                return os.write(full, data)
            finally:
                os.close(full)

    path = tmp_path / "day.json"
    SessionFile.create(path, wool_plan(), NOW).close()
    file = SessionFile.open(path, fs=FullDevice()).file
    for _ in range(3):
        file.append(NoteWritten("x"), NOW)
    assert len(file.unsaved) == 3
    assert file.trouble == f"not saved: the disk is full ({path})"
    assert SessionFile.open(path, readonly=True).session.seq == 0


LIMITED = """
import resource, signal, sys, pathlib
from vatside.storage.session_file import SessionFile
from vatside.log.events.day import NoteWritten
from vatside.clocks.clock import SystemClock
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
file = SessionFile.open(pathlib.Path(sys.argv[1])).file
resource.setrlimit(resource.RLIMIT_FSIZE, (3000, resource.RLIM_INFINITY))
for _ in range(30):
    file.append(NoteWritten("x" * 100), SystemClock().now())
print(len(file.session.entries) - len(file.unsaved), file.trouble)
resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
print(file.retry(), file.close())
"""


def test_a_limit_on_file_sizes(tmp_path: Path) -> None:
    """When files may not grow any further, the journal ends on a whole record; lifted, everything is saved."""
    path = tmp_path / "day.json"
    SessionFile.create(path, wool_plan(), NOW).close()
    done = subprocess.run([sys.executable, "-c", LIMITED, str(path)], capture_output=True, text=True, check=True)
    first, second = done.stdout.splitlines()
    saved, _, told = first.partition(" ")
    assert 0 < int(saved) < 30
    assert told.startswith("not saved: ")
    assert second == "True None"
    assert SessionFile.open(path).session.seq == 30


KILLS = 60
"""Kills of one session; there are five sessions."""


@pytest.mark.long
@pytest.mark.parametrize("seed", range(3))
def test_killed_again_and_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int) -> None:
    """A writer killed at any instant while it logs as fast as it can loses nothing that it acknowledged."""
    monkeypatch.setattr(session_file, "TIDY_EVERY", 7)
    path = tmp_path / "day.json"
    SessionFile.create(path, wool_plan(), NOW).close()
    chance = random.Random(seed)
    acknowledged = 0
    for kill in range(KILLS):
        while_opening = kill % 4 == 0
        seen = _write_and_be_killed(path, chance.uniform(0.0, 0.01), while_opening=while_opening)
        assert seen or while_opening
        acknowledged = max([acknowledged, *seen])
        found = SessionFile.open(path, readonly=True)
        assert found.session.seq in (acknowledged, acknowledged + 1)
        assert found.notices == ()
        acknowledged = found.session.seq
    assert acknowledged > KILLS / 2
    assert SessionFile.open(path).readonly is None


def _write_and_be_killed(path: Path, seconds: float, *, while_opening: bool) -> list[int]:
    """Let a process of its own log for a moment, kill it, and give the numbers that it acknowledged.

    The moment begins with its first acknowledgement, or else with its birth.
    """
    ours, theirs = os.pipe()
    child = os.fork()
    if child == 0:
        _write_for_ever(path, theirs)
    os.close(theirs)
    with os.fdopen(ours, "rb") as pipe:
        first = b"" if while_opening else pipe.readline()
        time.sleep(seconds)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        told = first + pipe.read()
    assert b"trouble" not in told, told
    return [int(line) for line in told.rpartition(b"\n")[0].split()]


def _write_for_ever(path: Path, told: int) -> NoReturn:
    """Log as fast as possible, telling each number once it is acknowledged; never comes back to the tests."""
    try:
        file = SessionFile.open(path).file
        while file.trouble is None:
            entry = file.append(NoteWritten("kill me"), NOW)
            os.write(told, b"%d\n" % entry.seq)
        os.write(told, b"trouble %s" % file.trouble.encode())
    except BaseException as error:
        os.write(told, b"trouble %s" % repr(error).encode())
    finally:
        os._exit(1)
