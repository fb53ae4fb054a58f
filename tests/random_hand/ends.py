"""A real terminal that is taken away, stopped or told to end in the middle of a burst, and a process that is killed."""

from __future__ import annotations

import os
import re
import signal
import termios
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from typing import Any

from tests.random_hand.acts import ARROWS, COMMANDS
from tests.random_hand.in_process import at_home_in
from tests.ui.terminal import Terminal

from vatside.bench.open_day import open_day
from vatside.clocks.clock import SystemClock
from vatside.plain.file_contents import problems
from vatside.storage.folder import list_sessions

END = 2.0
"""Seconds in which the process has to end once its terminal is gone, on a machine that starts it in `START`."""
START = 1.0
"""Seconds; where it takes longer to start, others keep the machine busy, and the end takes longer too."""
STUCK = 6000
"""Looks, each of a hundredth of a second at least, after which it does not end, however busy the machine is."""
LATE, TIMES = "late", 3
"""An end that comes too late counts if it does so each of so many times: a machine may be busy for just that moment."""
DRAFT, RESTS = 0.2, 4
"""Seconds without work after a key within which it is on the disk, and looks in them whether it is at work."""
Begin = Callable[..., Terminal]
"""Begins the app in a terminal."""


def _burst(random: Random) -> str:
    # Nothing that leaves: the q of ctrl+q, and the z of ctrl+z, are no letters.
    return "".join(random.choice([*COMMANDS, *ARROWS, "\x1b"]) for _ in range(random.randint(5, 200)))


def _well(home: Path) -> str:
    for path in sorted((home / "sessions").glob("*.json")):
        found = [] if path.name.startswith(".") else problems(path)
        if found:
            return f"bad file: {found[0]}"
    if (home / "errors.txt").exists():
        return f"fault: {(home / 'errors.txt').read_text().splitlines()[-2]}"
    return ""


def _ends(begin: Begin, terminal: Terminal, slower: float, *, reading: bool = False) -> str:
    """Say that it does not end in time; a machine that became busy meanwhile is asked how long a start takes now."""
    at = time.monotonic()
    for _ in range(STUCK):
        if os.waitpid(terminal.pid, os.WNOHANG)[0]:
            took = time.monotonic() - at
            if took <= END * slower or took <= END * _slower_now(begin):
                return ""
            return f"{LATE}: still there after {END * slower:.1f} s, ended after {took:.1f} s"
        if not (reading and terminal.read_for(0.05)):
            time.sleep(0.01)
    with suppress(ProcessLookupError):
        os.kill(terminal.pid, signal.SIGKILL)
    os.waitpid(terminal.pid, 0)
    return f"outlives: still there after {time.monotonic() - at:.0f} s"


def gone(begin: Begin, home: Path, random: Random) -> str:
    """Take the terminal away among keys: the process ends in time, and the file is whole."""
    terminal, slower = _begun(begin)
    terminal.read_for(random.choice([0, 0.2, 1, 1.5]))
    terminal.write(_burst(random))
    terminal.read_for(random.choice([0, 0, 0.01, 0.1, 0.5]))
    terminal.hang_up()
    return _ends(begin, terminal, slower) or _well(home)


def _slower_now(begin: Begin) -> float:
    """Tell how many times longer than usual a start takes now, in a home of its own."""
    with TemporaryDirectory(prefix="hand-", ignore_cleanup_errors=True) as name:
        terminal, slower = _begun(begin, VATSIDE_HOME=name)
        terminal.end()
    return slower


def _begun(begin: Begin, **environment: str) -> tuple[Terminal, float]:
    """Begin with a sample, and tell how many times longer than usual that took."""
    at = time.monotonic()
    terminal = begin("sample", **environment)
    terminal.until_asked(b"?2004h")
    return terminal, max((time.monotonic() - at) / START, 1.0)


def stopped(begin: Begin, home: Path, random: Random) -> str:
    """Stop and continue it without a shell, some times, among keys: one reader, signals obeyed, a sane terminal."""
    terminal = begin("sample")
    terminal.until("Saturday class")  # its reader has begun by then
    threads = _settled_threads(terminal)
    for _ in range(random.randint(1, 4)):
        terminal.write(random.choice(["", "f", "l", "\x1b", "v"]))
        terminal.send(signal.SIGSTOP)
        terminal.read_for(random.choice([0.02, 0.2]))
        terminal.send(signal.SIGCONT)
        terminal.read_for(random.choice([0.05, 0.3]))
    after = _settled_threads(terminal)
    for _ in range(STUCK // 100):  # what lays the day comes to its end, a second reader does not
        if after <= threads:
            break
        after = _settled_threads(terminal)
    if after > threads:
        return f"threads: {threads} before, {after} after"
    how = random.choice([signal.SIGTERM, signal.SIGHUP, None])
    if how is None:
        terminal.write("\x1b\x1b\x11")
        terminal.read_for(0.3)
        terminal.write("\x11")
    else:
        terminal.send(how)
    terminal.read_for(END)
    code = terminal.wait()
    if code != (128 + how if how else 0):
        return f"ended: with code {code}"
    left = termios.tcgetattr(terminal.fd)
    return "raw: the terminal is not as it was" if left[:4] != _ways_at_first()[:4] else _well(home)


def _ways_at_first() -> list[Any]:
    """The ways of a terminal that nobody has used yet."""
    ends = os.openpty()
    try:
        return termios.tcgetattr(ends[0])
    finally:
        for end in ends:
            os.close(end)


def _threads(pid: int) -> int:
    return len(list(Path(f"/proc/{pid}/task").iterdir()))


def _settled_threads(terminal: Terminal) -> int:
    """Count its threads once it writes nothing any more and none has come or gone for a while."""
    counts = [0]
    while counts[-4:] != [counts[-1]] * 4:
        seen = len(terminal.output)
        terminal.read_for(0.2)
        counts.append(_threads(terminal.pid) if len(terminal.output) == seen else -len(counts))
    return counts[-1]


def told(begin: Begin, home: Path, random: Random) -> str:
    """Tell it to end in the middle of a burst: what was on the screen is in the file."""
    terminal, shown, slower = _typed(begin, random)
    terminal.send(random.choice([signal.SIGTERM, signal.SIGHUP]))
    found = _ends(begin, terminal, slower, reading=True)
    return found or _same(home, shown)


def killed(begin: Begin, home: Path, random: Random) -> str:
    """Kill it outright a moment after a key: what was on the screen is there again when the day is opened."""
    terminal, shown, _ = _typed(begin, random)
    _read_at_rest(terminal, DRAFT)
    terminal.send(signal.SIGKILL)
    terminal.wait()
    return _same(home, shown)


def _read_at_rest(terminal: Terminal, seconds: float) -> None:
    """Read until it has been at rest for some seconds: what it had to do was done within them, if it was let."""
    rested = 0
    for _ in range(STUCK):
        terminal.read_for(seconds / RESTS)
        rested = rested + 1 if terminal.is_at_rest else 0
        if rested == RESTS:
            return


def _typed(begin: Begin, random: Random) -> tuple[Terminal, str, float]:
    """Begin a day and type some of its name; give what was on the screen of it, and how slow the machine is."""
    at = time.monotonic()
    terminal = begin()
    terminal.until("None yet")
    slower = max((time.monotonic() - at) / START, 1.0)
    terminal.type("a")
    terminal.until("Enter next")
    # A letter of its own for each place, so that what is shown is known from what was written.
    text = "".join(random.choice("bcdfghjklmnpqrstvwxyz") for _ in range(random.randint(2, 12)))
    terminal.type(text)
    if random.random() < 0.5:
        terminal.until(text, times=2)
        return terminal, text, slower
    terminal.read_for(random.choice([0.02, 0.05, 0.1, 0.3]))
    shown = [text[:length] for length in range(len(text), 1, -1) if re.search(rf"\b{text[:length]}\b", terminal.text)]
    return terminal, shown[0] if shown else "", slower


def _same(home: Path, shown: str) -> str:
    cards = list_sessions(home / "sessions")
    if not cards:
        return f"lost: {shown!r} was shown, and there is no day" if shown else ""
    desk = open_day(cards[0].path, SystemClock())
    title = desk.plan.title
    desk.keeping.close()
    kept = title.startswith(shown) and len(title) >= len(shown)
    return "" if not shown or kept else f"lost: {shown!r} was shown, {title!r} is kept"


Kind = Callable[[Begin, Path, Random], str]
KINDS: dict[str, Kind] = {
    "gone": gone,
    "stopped": stopped,
    "told": told,
    "killed": killed,
}


def trial(kind: str, seed: int) -> str:
    """Do one of these with a seed; empty if all went well, else one line for what went wrong."""
    for _ in range(TIMES):
        found = _once(kind, seed)
        if not found.startswith(LATE):
            break
    return found


def _once(kind: str, seed: int) -> str:
    begun: list[Terminal] = []
    with (
        TemporaryDirectory(prefix="hand-", ignore_cleanup_errors=True) as name,
        at_home_in(Path(name) / "home"),
    ):

        def terminal(*words: str, **environment: str) -> Terminal:
            begun.append(Terminal(Path(name), *words, **environment))
            return begun[-1]

        try:
            return KINDS[kind](terminal, Path(name), Random(seed))
        except AssertionError as error:
            return f"stuck: {str(error)[:200]}"
        finally:
            for one in begun:
                one.end()
