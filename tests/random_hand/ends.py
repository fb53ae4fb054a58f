"""A real terminal that is taken away, stopped or told to end in the middle of a burst, and a process that is killed."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Callable, Mapping
from contextlib import suppress
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from typing import TypeVar

from tests.random_hand.acts import ARROWS, COMMANDS
from tests.random_hand.in_process import at_home_in, laid_out
from tests.random_hand.typed import TYPINGS, Typed, typed
from tests.random_hand.ways import PLACES, keys_of
from tests.ui.stops import TAKEN, InShell, Watched
from tests.ui.terminal import Terminal

from vatside.clocks.clock import SystemClock
from vatside.log.events.day import Entry
from vatside.plain.file_contents import problems
from vatside.storage.files import Fs
from vatside.storage.session_text import load
from vatside.ui.base.host import SIGNALS
from vatside.ui.driver import SEQUENCE_ENDS

END = 2.0
"""Seconds in which the process has to end once its terminal is gone, on a machine that starts it in `START`."""
START = 1.0
"""Seconds; where it takes longer to start, others keep the machine busy, and the end takes longer too."""
STUCK = 6000
"""Looks, each of a hundredth of a second at least, after which it does not end, however busy the machine is."""
LATE, TIMES = "late", 3
"""An end that comes too late counts if it does so each of so many times: a machine may be busy for just that moment."""
PASTED = b"\x1b[?2004h"
"""What the app asks for last when it takes the terminal."""
DRAFT = 0.2
"""Seconds without work after a key within which it is on the disk."""
FEWEST, MOST = 5, 3000
"""Keys of a burst."""
Kept = Mapping[Path, tuple[Entry, ...]]
"""What is in the files of the days."""
OneTerminal = TypeVar("OneTerminal", bound=Terminal)


class Stage:
    """Where a trial plays: a home of its own, and the terminals that were begun in it."""

    def __init__(self, home: Path, random: Random) -> None:
        self.home = home
        self.random = random
        self.slower = 1.0
        """How many times longer than usual a start takes."""
        self._begun: list[Terminal] = []

    @property
    def sessions(self) -> Path:
        """Where the days are."""
        return self.home / "sessions"

    def begin(self, of: type[OneTerminal], day: Path | None, home: Path | None = None) -> OneTerminal:
        """Begin on a day, or in the list of days, and see how long it takes."""
        at = time.monotonic()
        terminal = of(home or self.home, *([str(day)] if day else []))
        self._begun.append(terminal)
        terminal.until_asked(TAKEN)
        terminal.until_asked(PASTED)
        self.slower = max((time.monotonic() - at) / START, 1.0)
        return terminal

    def somewhere(self, of: type[OneTerminal]) -> OneTerminal:
        """Begin, and go the way to any screen of any day."""
        start, way = self.random.choice(PLACES)
        terminal = self.begin(of, laid_out(start, self.sessions, SystemClock()))
        for key in keys_of(way):
            terminal.rest(0.1)
            terminal.write(key)
        terminal.rest(self.random.choice([0, 0.1]))
        return terminal

    def typing(self) -> tuple[Terminal, Typed]:
        """Begin, and type at one of the places where every key is kept."""
        at = self.random.choice(TYPINGS)
        day = laid_out(at.start, self.sessions, SystemClock()) if at.start else None  # a new day is the only one
        terminal = self.begin(Terminal, day)
        return terminal, typed(terminal, at, day, self.random)

    def burst(self) -> str:
        """Give few keys or many; there are as often 5 to 50 as 300 to 3,000."""
        # Nothing that leaves: the q of ctrl+q, and the z of ctrl+z, are no letters.
        count = int(FEWEST * (MOST / FEWEST) ** self.random.random())
        return "".join(self.random.choice([*COMMANDS, *ARROWS, "\x1b"]) for _ in range(count))

    def ends(self, terminal: Terminal, code: int | None = None, *, reading: bool = False) -> str:
        """Say that it does not end in time; how busy the machine is by then, the time that a start takes tells."""
        at, most = time.monotonic(), END * self.slower
        for _ in range(STUCK):
            pid, status = os.waitpid(terminal.pid, os.WNOHANG)
            took = time.monotonic() - at
            if pid and code is not None and os.waitstatus_to_exitcode(status) != code:
                return f"ended: with code {os.waitstatus_to_exitcode(status)}, not {code}"
            if pid:
                late = took > most and took > END * self._slower_now()
                return f"{LATE}: still there after {most:.1f} s, ended after {took:.1f} s" if late else ""
            if not (reading and terminal.read_for(0.05)):
                time.sleep(0.01)
        return f"outlives: still there after {time.monotonic() - at:.0f} s"

    def _slower_now(self) -> float:
        with TemporaryDirectory(prefix="hand-", ignore_cleanup_errors=True) as name:
            self.begin(Terminal, None, Path(name)).end()
        return self.slower

    def well(self, before: Kept | None = None) -> str:
        """Say what is wrong with the files, or was in them before and is not now."""
        for path in _days(self.sessions):
            found = problems(path)
            if found:
                return f"bad file: {found[0]}"
        for path, entries in (before or {}).items():
            if entries and load(Fs(), path).session.entries[: len(entries)] != entries:
                return f"lost: {path.name} had {len(entries)} entries"
        if (self.home / "errors.txt").exists():
            return f"fault: {(self.home / 'errors.txt').read_text().splitlines()[-2]}"
        return ""

    def close(self) -> None:
        """End what still runs."""
        for one in self._begun:
            with suppress(OSError):
                one.end()


def _days(sessions: Path) -> list[Path]:
    return [path for path in sorted(sessions.glob("*.json")) if not path.name.startswith(".")]


def _kept(sessions: Path) -> Kept:
    return {path: tuple(load(Fs(), path).session.entries) for path in _days(sessions)}


def gone(stage: Stage) -> str:
    """Take the terminal away among keys: the process ends in time, and the file is whole."""
    terminal, random = stage.somewhere(Terminal), stage.random
    before = _kept(stage.sessions)
    terminal.write(stage.burst())
    terminal.read_for(random.choice([0, 0, 0.01, 0.1, 0.5]))
    terminal.hang_up()
    return stage.ends(terminal) or stage.well(before)


def told(stage: Stage) -> str:
    """Tell it to end in the middle of a burst or of a word: it does so in order, and what was shown is kept."""
    number = getattr(signal, stage.random.choice(SIGNALS))
    if stage.random.random() < 0.5:
        terminal, word = stage.typing()
        before: Kept = {}
    else:
        terminal, word = stage.somewhere(Terminal), None
        before = _kept(stage.sessions)
        terminal.write(stage.burst())
        terminal.read_for(stage.random.choice([0, 0, 0.01, 0.1, 0.5]))
    terminal.send(number)
    found = stage.ends(terminal, 128 + number, reading=True)
    raw = "" if terminal.is_sane else "raw: the terminal is not as it was"
    return found or raw or stage.well(before) or (word.lost(stage.sessions) if word else "")


def killed(stage: Stage) -> str:
    """Kill it outright a moment after a key: what was on the screen is there again when the day is opened."""
    terminal, word = stage.typing()
    terminal.rest(DRAFT)
    terminal.send(signal.SIGKILL)
    terminal.wait()
    return word.lost(stage.sessions)


def stopped(stage: Stage) -> str:
    """Stop and continue it some times, by itself or as a job of a shell: one reader, keys heard, a sane terminal."""
    random = stage.random
    in_shell = random.random() < 0.5
    terminal = stage.somewhere(InShell if in_shell else Watched)
    for _ in range(random.randint(1, 3)):
        terminal.write(stage.burst())
        if in_shell:  # what the app has not read by then would be the shell's
            terminal.read_for(SEQUENCE_ENDS)
            terminal.rest(0.2)
        how = random.choice([signal.SIGSTOP, signal.SIGTSTP]) if in_shell else signal.SIGSTOP
        terminal.stop(how, random.choice([0.02, 0.2]))
        terminal.read_for(random.choice([0.05, 0.3]))
    return _hears(terminal) or _leaves(terminal, random) or stage.well()


def _hears(terminal: Watched) -> str:
    """Go back from wherever it stands and ask for help; say that more than one thread reads."""
    terminal.read_for(SEQUENCE_ENDS)
    for _ in range(8):
        terminal.write("\x1b")
        terminal.rest(0.1)
    terminal.type("\x1bOP")
    terminal.until("Keys")
    readers = terminal.readers
    return "" if readers == 1 else f"readers: {readers}"


def _leaves(terminal: Watched, random: Random) -> str:
    """Leave by the key or by a signal; say what is not in order."""
    how = random.choice([None, *SIGNALS])
    terminal.output = b""
    if how is None:
        terminal.write("\x11")
    else:
        terminal.send(getattr(signal, how))
    code, sane = terminal.left()
    wanted = 128 + getattr(signal, how) if how else 0
    if code != wanted:
        return f"ended: with code {code}, not {wanted}"
    return "" if sane else "raw: the terminal is not as it was"


KINDS: dict[str, Callable[[Stage], str]] = {"gone": gone, "stopped": stopped, "told": told, "killed": killed}


def trial(kind: str, seed: int) -> str:
    """Do one of these with a seed; empty if all went well, else one line for what went wrong."""
    for _ in range(TIMES):
        found = _once(kind, seed)
        if not found.startswith(LATE):
            break
    return found


def _once(kind: str, seed: int) -> str:
    with (
        TemporaryDirectory(prefix="hand-", ignore_cleanup_errors=True) as name,
        at_home_in(Path(name) / "home"),
    ):
        stage = Stage(Path(name), Random(seed))
        try:
            return KINDS[kind](stage)
        except AssertionError as error:
            return f"stuck: {str(error)[:200]}"
        finally:
            stage.close()
