"""Writes to the terminal in a thread of its own; leaves what a terminal that is gone or stands still does not take."""

from __future__ import annotations

import threading
from collections.abc import Callable
from queue import Full, Queue
from typing import IO

MOST = 200
"""Writes that may wait. Ours: several screens full."""
HELD_UP = 1.0
"""Seconds that a terminal may stand still before what it does not take is left. Ours, no source."""


class Writer(threading.Thread):
    """Takes text and writes it, in order."""

    def __init__(self, file: IO[str], gone: Callable[[], None], free: Callable[[], None]) -> None:
        super().__init__(daemon=True, name="textual-output")
        self._file = file
        self._gone = gone
        self._free = free
        self._queue: Queue[str | None] = Queue(MOST)
        self._lost = False
        self._stands_still = False
        """The terminal takes nothing; what should be written meanwhile is left."""

    def write(self, text: str) -> None:
        """Take a text; one that the terminal does not take for a while is left, so that nothing else stands still."""
        if self._lost or (self._stands_still and not self._queue.empty()):
            return
        if self._stands_still:
            self._stands_still = False
            self._free()
        try:
            self._queue.put(text, timeout=HELD_UP)
        except Full:
            self._stands_still = True

    def isatty(self) -> bool:
        """Tell that this is a terminal."""
        return True

    def fileno(self) -> int:
        """Give the number of the file behind it."""
        return self._file.fileno()

    def flush(self) -> None:
        """Do nothing: the thread does so."""

    def run(self) -> None:
        """Write until there is nothing more to come."""
        try:
            while (text := self._queue.get()) is not None:
                self._file.write(text)
                if self._queue.empty():
                    self._file.flush()
            self._file.flush()
        except (OSError, ValueError):
            self._lost = True
            self._gone()
            self._forget()

    def _forget(self) -> None:
        """Let nobody wait for room."""
        while not self._queue.empty():
            self._queue.get_nowait()

    def stop(self) -> None:
        """Write what is left, for a moment at most."""
        if self._lost or self._stands_still:
            return
        try:
            self._queue.put(None, timeout=HELD_UP)
        except Full:
            return
        self.join(HELD_UP)
