"""Leaving: by key, by a signal, by a crash; the session is safe in every case."""

from __future__ import annotations

import asyncio
import signal
import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from vatside.ui.app import VatsideApp
    from vatside.ui.desk import Desk

SIGNALS = ("SIGTERM", "SIGHUP")


def listen(app: VatsideApp) -> None:
    """Leave in order when the system or a closed window says so."""
    if sys.platform == "win32":
        return
    loop = asyncio.get_running_loop()
    for name in SIGNALS:
        number = getattr(signal, name)
        try:
            loop.add_signal_handler(number, _told, app, number)
        except (ValueError, RuntimeError):
            return


def _told(app: VatsideApp, number: int) -> None:
    app.words = put_away(app.desk)
    app.exit(return_code=128 + number)


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
