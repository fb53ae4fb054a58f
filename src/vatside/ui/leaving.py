"""Leaving: by key, by a signal, by a crash; the session is safe in every case."""

from __future__ import annotations

import asyncio
import os
import signal
import sys
import threading
from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from vatside.bench.desk import Desk

DRAINED = 0.6
"""Seconds at most for working off keys that came before the signal. Ours, as the next."""
AT_LATEST = 1.7
"""Seconds after which the process ends by force."""
HANGUP = 129
"""The exit code when the terminal is gone: that of the signal that says so, where the system has it."""
SIGNALS = ("SIGTERM", "SIGHUP")


def listen(leave: Callable[[int], None]) -> None:
    """Leave in order when the system or a closed window says so."""
    if sys.platform == "win32":
        return
    loop = asyncio.get_running_loop()
    for name in SIGNALS:
        number = getattr(signal, name)
        try:
            loop.add_signal_handler(number, leave, 128 + number)
        except (ValueError, RuntimeError):
            return


def end_in_any_case(code: int, give_back: Callable[[], None]) -> None:
    """End the process after a while, whatever it is waiting for: every key is on the disk by then."""

    def end() -> None:
        give_back()
        os._exit(code)

    last = threading.Timer(AT_LATEST, end)
    last.daemon = True
    last.start()


def put_away(desk: Desk | None) -> str:
    """Log what was typed and close the file; say where the session is."""
    if desk is None:
        return ""
    try:
        if not desk.keeping.readonly:
            desk.leave()
            if desk.put_down is not None:
                desk.put_down()
    finally:
        trouble = desk.keeping.close()
    if trouble:
        return f"Vatside: {trouble}"
    return f"Everything is in {desk.keeping.path}" if desk.keeping.path else ""
