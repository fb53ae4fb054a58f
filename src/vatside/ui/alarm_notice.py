"""An alarm told outside the app, once for each wait that begins to ring: by the terminal, by a command of her own."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Callable, Mapping, Sequence

from vatside.storage.settings import Escape, Settings
from vatside.ui.text.rows import clip
from vatside.units.show import plain

LONGEST = 60
"""Letters of a notice. Ours, no source."""
BEGIN = "Vatside: "
"""Before each notice: no text of a session stands first, where it could be taken for an option or a number."""


def notice_text(label: str) -> str:
    """Say that a wait is over; what a terminal could take for more than words is left out."""
    safe = plain(label).replace(";", ",").replace("\\", "/")
    return clip(f"{BEGIN}{' '.join(safe.split())} is due", LONGEST)


def sequence(how: Escape, text: str, environment: Mapping[str, str] = os.environ) -> str:
    """Give what a terminal takes for a notice: OSC 9 or OSC 777, by the terminals' own habit, no standard (memory).

    tmux lets it through where its owner allows that (`allow-passthrough`), wrapped and with its escapes doubled.
    """
    if how is Escape.OFF:
        return ""
    body = f"9;{text}" if how is Escape.OSC_9 else f"777;notify;Vatside;{text.removeprefix(BEGIN)}"
    escape = f"\x1b]{body}\x07"
    return f"\x1bPtmux;{escape.replace(chr(27), chr(27) * 2)}\x1b\\" if environment.get("TMUX") else escape


class AlarmNotice:
    """Knows what it has told; a wait that is heard and rings again is told again."""

    def __init__(
        self,
        settings: Settings,
        write: Callable[[str], object],
        launch: Callable[[Sequence[str]], str] | None = None,
    ) -> None:
        """`write` brings a sequence to the terminal; `launch` runs a command and says why it could not."""
        self._settings = settings
        self._write = write
        self._launch = launch or Launcher().run
        self._told: dict[str, frozenset[str]] = {}

    def look(self, where: str, ringing: Mapping[str, str]) -> str:
        """Tell what has begun to ring, by the id of its wait, on the bench or in days that were left.

        Gives a sentence where the command cannot be run.
        """
        new = [label for ident, label in ringing.items() if ident not in self._told.get(where, ())]
        self._told[where] = frozenset(ringing)
        troubles = [self._tell(notice_text(label)) for label in new]
        return next(filter(None, troubles), "")

    def _tell(self, text: str) -> str:
        escape = sequence(self._settings.notice, text)
        if escape:
            self._write(escape)
        return self._launch((*self._settings.command, text)) if self._settings.command else ""


class Launcher:
    """Runs a command without waiting for it, away from the terminal and without a shell."""

    def __init__(self) -> None:
        self._running: list[subprocess.Popen[bytes]] = []

    def run(self, words: Sequence[str]) -> str:
        """Run it; say why it cannot be run, or nothing."""
        self._running = [process for process in self._running if process.poll() is None]
        try:
            started = subprocess.Popen(
                list(words),
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
                start_new_session=True,
            )
        except (OSError, ValueError) as error:
            why = error.strerror if isinstance(error, OSError) else ""
            return f"The command of settings.toml cannot be run: {plain(words[0])}: {(why or 'it is refused').lower()}."
        self._running.append(started)
        return ""
