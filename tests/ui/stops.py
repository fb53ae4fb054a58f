"""A terminal for the stops of the app: it tells how many threads read the keys, and can have a shell around it."""

from __future__ import annotations

import os
import re
import shlex
import signal
import termios
import time
from contextlib import suppress
from pathlib import Path
from typing import Any

from tests.ui.terminal import LOOK, LOOKS, Terminal

PROMPT = "the-shell> "
TAKEN = b"\x1b[?1049h"
"""What the app asks for when it takes the terminal, and no shell does."""


class Watched(Terminal):
    """The app, which writes down what its threads do when it is asked by a signal."""

    COMMAND = (
        "-c", "import faulthandler, os, signal, sys; home = os.environ['VATSIDE_HOME']; "
        "faulthandler.register(signal.SIGUSR2, open(home + '/stacks', 'w')); "
        "open(home + '/pid', 'w').write(str(os.getpid())); from vatside.__main__ import main; sys.exit(main())",
    )  # fmt: skip

    def __init__(self, home: Path, *words: str, **environment: str) -> None:
        self.home = home
        super().__init__(home, *words, **environment)

    @property
    def readers(self) -> int:
        """How many threads read from the terminal."""
        path, before = self.home / "stacks", "none"
        start = path.stat().st_size
        self.send(signal.SIGUSR2)
        for _ in range(LOOKS):
            self.read_for(LOOK)
            text = path.read_text()[start:]
            if text and text == before:
                return text.count("in run_input_thread")
            before = text
        raise AssertionError(f"it says nothing of its threads: {self.text[-2000:]}")

    def stop(self, how: signal.Signals, seconds: float) -> None:
        """Stop it for a while, and continue it."""
        self.send(how)
        self.read_for(seconds)
        self.send(signal.SIGCONT)

    def left(self) -> tuple[int, bool]:
        """Give the exit code, and whether the terminal is sane."""
        code = self.wait()
        return code, self.is_sane


class InShell(Watched):
    """The app as a job of a shell that takes the terminal back when it stops."""

    def __init__(self, home: Path, *words: str, **environment: str) -> None:
        super().__init__(home, *words, PS1=PROMPT, ENV="", HISTFILE="", **environment)
        self.until(PROMPT)
        self._ways = self._now
        self.type(shlex.join(super().program(words)) + "\n")

    def program(self, words: object) -> list[str]:
        """What runs in the terminal."""
        return ["sh", "-i"]

    @property
    def app(self) -> int:
        """The process of the app."""
        return int((self.home / "pid").read_text())

    @property
    def _now(self) -> list[Any]:
        return termios.tcgetattr(self.fd)[:4]

    def stop(self, how: signal.Signals, seconds: float) -> None:
        """Stop it, by its key for the signal that this would be, and have the shell bring it back."""
        self.output = b""
        if how == signal.SIGTSTP:
            self.write("\x1a")
        else:
            self.send(how)
        self.until(PROMPT)
        self.read_for(seconds)
        self.type("fg\n")
        self.until_asked(TAKEN)

    def left(self) -> tuple[int, bool]:
        """Give the exit code, as the shell tells it, and whether the terminal is as the shell had it before."""
        self.until(PROMPT)
        self.type("echo code $?\n")
        self._look_for("a code", lambda: re.search(r"code \d+\s", self.text) is not None)
        found = re.search(r"code (\d+)", self.text)
        sane = self._now == self._ways
        self.type("exit\n")
        self.wait()
        return int(found[1]) if found else -1, sane

    def end(self) -> None:
        """End the app by force, if the shell still has it, and then the shell."""
        with suppress(OSError, ValueError):
            stat = Path(f"/proc/{self.app}/stat").read_text()
            if int(stat.rpartition(") ")[2].split()[1]) == self.pid:
                os.kill(self.app, signal.SIGKILL)
                time.sleep(LOOK)
        super().end()
