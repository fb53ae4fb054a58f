"""A program in a pseudo terminal: what it has painted so far, and what it costs."""

from __future__ import annotations

import os
import re
import select
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from types import TracebackType

from tests.bench.measure import NotHere
from tests.bench.run import PLAIN_INSTALL

COLUMNS, ROWS = 80, 24
PATIENCE = 30.0
"""Seconds after which a program that paints nothing is given up."""

_CONTROL = re.compile(
    rb"\x1b\[[0-?]*[ -/]*[@-~]"  # colours, cursor, modes
    rb"|\x1b[\]P^_].*?(?:\x07|\x1b\\)"  # titles and questions to the terminal
    rb"|\x1b[ -/]*[0-~]",
    re.DOTALL,
)
_WORD = re.compile(r"[^\W\d_]{3,}")


class Terminal:
    """One run of a program in a terminal of 80 columns and 24 rows."""

    def __init__(self, command: Sequence[str], environment: Mapping[str, str] | None = None) -> None:
        self._screen, other = _open_terminal()
        self._seen = b""
        self.started = time.perf_counter()
        self._process = subprocess.Popen(
            command, stdin=other, stdout=other, stderr=other, env=_environment(environment), start_new_session=True
        )
        os.close(other)

    def __enter__(self) -> Terminal:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._process.send_signal(signal.SIGKILL)
        self._process.wait()
        os.close(self._screen)

    @property
    def text(self) -> str:
        """Everything painted so far, without what only steers the terminal."""
        return _CONTROL.sub(b" ", self._seen).decode("utf-8", "replace")

    def until_any_words(self) -> float:
        """Wait for the first word; seconds since the process was started."""
        return self._until(lambda: _WORD.search(self.text) is not None, "any word")

    def until(self, words: str) -> float:
        """Wait for some words that are painted in one go; seconds since the process was started."""
        return self._until(lambda: words in self.text, repr(words))

    def _until(self, seen: Callable[[], bool], what: str) -> float:
        while not seen():
            left = self.started + PATIENCE - time.perf_counter()
            if not self._read(left):
                raise RuntimeError(f"{what} was not painted; the screen has: {self.text[-500:]!r}")
        return time.perf_counter() - self.started

    def listen(self, seconds: float) -> None:
        """Let the program go on for a while, reading what it paints."""
        end = time.perf_counter() + seconds
        while (left := end - time.perf_counter()) > 0:
            self._read(left)

    def _read(self, wait: float) -> bool:
        ready, _, _ = select.select([self._screen], [], [], max(wait, 0))
        if not ready:
            return False
        try:
            part = os.read(self._screen, 1 << 16)
        except OSError:
            return False
        self._seen += part
        return bool(part)

    def memory(self) -> tuple[float, float]:
        """Resident memory now and at its highest, MiB."""
        found = dict(re.findall(r"^(VmRSS|VmHWM):\s+(\d+) kB$", self._proc("status"), re.MULTILINE))
        return int(found["VmRSS"]) / 1024, int(found["VmHWM"]) / 1024

    def cpu_seconds(self) -> float:
        """Processor time of all its threads so far."""
        fields = self._proc("stat").rpartition(")")[2].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

    def _proc(self, name: str) -> str:
        try:
            return Path(f"/proc/{self._process.pid}/{name}").read_text("ascii", "replace")
        except OSError as error:
            raise NotHere(f"no /proc: {error}") from None


def _open_terminal() -> tuple[int, int]:
    if sys.platform == "win32":
        raise NotHere("no pseudo terminals")
    import termios

    ours, theirs = os.openpty()
    termios.tcsetwinsize(theirs, (ROWS, COLUMNS))
    return ours, theirs


def _environment(more: Mapping[str, str] | None) -> dict[str, str]:
    # An installed program has its bytecode on the disk: a setting that keeps it from being written is not taken over.
    other = ("TEXTUAL", "NO_COLOR", "PYTHONDONTWRITEBYTECODE")
    kept = {name: value for name, value in os.environ.items() if not name.startswith(other)}
    return {**kept, "TERM": "xterm-256color", "LC_ALL": "C.UTF-8", "PYTHONPATH": str(PLAIN_INSTALL), **(more or {})}
