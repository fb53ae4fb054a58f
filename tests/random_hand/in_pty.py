"""Plays a random hand's acts against the app as a process of its own in a real terminal, and says what went wrong."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.random_hand.acts import KEYS, LATER, SIZE, Act
from tests.random_hand.in_process import at_home_in, laid_out
from tests.ui.terminal import Terminal

from vatside.clocks.clock import SystemClock
from vatside.plain.file_contents import problems

BEAT = 0.03
"""Seconds that the hand rests after an act: some acts come while the one before is still at work."""
ENDS = 200
"""Times that it is told to leave before it counts as deaf: a machine that others keep busy is slow."""


def trial(acts: Sequence[Act], start: str) -> str:
    """Play acts in a folder of their own; empty if all went well, else one line for what went wrong."""
    with TemporaryDirectory(prefix="hand-") as name:
        home = Path(name)
        with at_home_in(home / "home"):
            file = laid_out(start, home / "sessions", SystemClock())
            terminal = Terminal(home, *([str(file)] if file else []))
        try:
            return _played(terminal, acts) or _kept(home)
        finally:
            terminal.end()


def _played(terminal: Terminal, acts: Sequence[Act]) -> str:
    terminal.until_asked(b"\x1b[?2004h")
    terminal.read_for(0.5)
    for act in acts:
        if not _do(terminal, act):
            return _left(terminal)
    terminal.output = b""
    terminal.read_for(2.5)
    for _ in range(ENDS):
        if not terminal.write("\x11") or not terminal.read_for(0.7):
            return _left(terminal)
    return "deaf: ctrl+q does not leave"


def _do(terminal: Terminal, act: Act) -> bool:
    """Do one act; False once the app has ended."""
    if act.kind == KEYS and not terminal.write(act.text.replace("\x11", "").replace("\x1a", "")):
        return False
    if act.kind == SIZE:
        try:
            terminal.resize(int(act.one), int(act.two))
        except OSError:
            return False
    return terminal.read_for(0.3 if act.kind == LATER else BEAT)


def _left(terminal: Terminal) -> str:
    """Say how it ended: only by ctrl+q and in order is well."""
    code = terminal.wait()
    if "Traceback" in terminal.text:
        return "traceback"
    return "" if code == 0 else f"ended: with code {code}"


def _kept(home: Path) -> str:
    if (home / "errors.txt").exists():
        last = (home / "errors.txt").read_text().strip().splitlines()[-1]
        return f"fault: {last}"
    for path in sorted((home / "sessions").glob("*.json")):
        found = [] if path.name.startswith(".") else problems(path)
        if found:
            return f"bad file: {path.name}: {found[0]}"
    return ""
