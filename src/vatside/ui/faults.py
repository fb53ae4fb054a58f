"""A fault of the program, written into a file that can be sent on."""

from __future__ import annotations

import os
import traceback
from datetime import UTC, datetime
from pathlib import Path

NAME = "errors.txt"
LARGEST = 500_000
"""Bytes after which the file begins anew; the one before is kept beside it. Ours, no source."""


def write_down(folder: Path, error: BaseException) -> Path | None:
    """Add a fault to the file of faults, for the owner's eyes alone; None if that cannot be."""
    path = folder / NAME
    when = datetime.now(UTC).isoformat(timespec="seconds")
    text = f"{when}\n{''.join(traceback.format_exception(error))}\n"
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        if path.is_file() and path.stat().st_size > LARGEST:
            path.replace(path.with_suffix(".old.txt"))
        file = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600)
        try:
            os.write(file, text.encode("utf-8", "replace"))
        finally:
            os.close(file)
    except OSError:
        return None
    return path
