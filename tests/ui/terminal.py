"""A real terminal for tests: the app as a process of its own behind a pseudo-terminal."""

from __future__ import annotations

import fcntl
import os
import pty
import re
import select
import signal
import struct
import sys
import termios
import time
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path

LOOK, LOOKS = 0.05, 6000
"""Seconds for which one look waits, and looks until the app has taken too long for anything: five minutes. They are
counted, since a clock goes on while a virtual machine stands still."""
RESTS = 4
"""Looks whether the app is at work, before it counts as being at rest."""
_CONTROLS = re.compile(rb"\x1b\[[0-9;?>=<]*[a-zA-Z]|\x1b[()][A-Z0-9]|\x1b[=>]")


class Terminal:
    """One run of the app."""

    COMMAND: tuple[str, ...] = ("-m", "vatside")
    """What Python runs."""

    def __init__(self, home: Path, *words: str, **environment: str) -> None:
        self.output = b""
        self.pid, self._fd = pty.fork()
        if self.pid == 0:
            settings = {"TERM": "xterm-256color", "VATSIDE_HOME": str(home), "LANG": "C.UTF-8"} | environment
            program = self.program(words)
            os.execvpe(program[0], program, {**os.environ, **settings})
        self.resize(80, 24)

    def program(self, words: Sequence[str]) -> list[str]:
        """What runs in the terminal."""
        return [sys.executable, *self.COMMAND, *words]

    @property
    def app(self) -> int:
        """The process of the app."""
        return self.pid

    @property
    def is_at_rest(self) -> bool:
        """Whether every thread of the app waits, by the kernel's own account: a busy machine leaves it at work."""
        states = (task.read_text("utf-8", "replace") for task in Path(f"/proc/{self.app}/task").glob("*/stat"))
        return all(state.rpartition(") ")[2].startswith("S") for state in states)

    @property
    def is_sane(self) -> bool:
        """Whether its ways are those of a terminal that nobody has used yet."""
        ends = os.openpty()
        try:
            return termios.tcgetattr(self._fd)[:4] == termios.tcgetattr(ends[0])[:4]
        finally:
            for end in ends:
                os.close(end)

    @property
    def text(self) -> str:
        """Everything written so far, without the terminal's controls."""
        return _CONTROLS.sub(b"", self.output).decode("utf-8", "replace")

    def until(self, words: str, times: int = 1) -> None:
        """Read until some words have been written so many times; AssertionError if they never are."""
        self._look_for(words, lambda: self.text.count(words) >= times)

    def until_asked(self, control: bytes) -> None:
        """Read until the terminal has been asked for something; AssertionError if it never is."""
        self._look_for(control, lambda: control in self.output)

    def _look_for(self, what: str | bytes, there: Callable[[], bool]) -> None:
        for _ in range(LOOKS):
            if there():
                return
            if not self._read():
                break
        assert there(), f"{what!r} never came: {self.text[-2000:]}"

    def _read(self) -> bool:
        ready, _, _ = select.select([self._fd], [], [], LOOK)
        if not ready:
            return True
        try:
            part = os.read(self._fd, 65536)
        except OSError:
            return False
        self.output += part
        return bool(part)

    @property
    def fd(self) -> int:
        """The keyboard's and screen's end of the terminal."""
        return self._fd

    def write(self, keys: str) -> bool:
        """Press keys; False once nobody takes them any more."""
        try:
            os.write(self._fd, keys.encode("utf-8", "surrogatepass"))
        except OSError:
            return False
        return True

    def read_for(self, seconds: float) -> bool:
        """Read for some seconds; False once the app has ended."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            if not self._read():
                return False
        return True

    def rest(self, seconds: float) -> None:
        """Read until it has been at rest for some seconds: what it had to do was done within them, if it was let."""
        rested = 0
        for _ in range(LOOKS):
            self.read_for(seconds / RESTS)
            rested = rested + 1 if self.is_at_rest else 0
            if rested == RESTS:
                return

    def type(self, keys: str) -> None:
        """Press keys; what was written before is forgotten."""
        self.output = b""
        os.write(self._fd, keys.encode())

    def resize(self, width: int, height: int) -> None:
        """Give the window another size."""
        fcntl.ioctl(self._fd, termios.TIOCSWINSZ, struct.pack("HHHH", height, width, 0, 0))

    def send(self, number: signal.Signals) -> None:
        """Send a signal."""
        os.kill(self.app, number)

    def hang_up(self) -> None:
        """Close the window."""
        if self._fd >= 0:
            os.close(self._fd)
        self._fd = -1

    def end(self) -> None:
        """End it by force, if it has not ended, and close the window."""
        with suppress(ProcessLookupError, ChildProcessError):
            if not os.waitpid(self.pid, os.WNOHANG)[0]:
                os.kill(self.pid, signal.SIGKILL)
                os.waitpid(self.pid, 0)
        self.hang_up()

    def wait(self) -> int:
        """Wait for the end and give the exit code, negative for a signal that killed it."""
        for _ in range(LOOKS):
            if self._fd < 0 or not self._read():
                time.sleep(LOOK)
            pid, status = os.waitpid(self.pid, os.WNOHANG)
            if pid:
                while self._fd >= 0 and self._read() and select.select([self._fd], [], [], 0)[0]:
                    pass
                return os.waitstatus_to_exitcode(status)
        os.kill(self.pid, signal.SIGKILL)
        raise AssertionError(f"it never ended: {self.text[-2000:]}")
