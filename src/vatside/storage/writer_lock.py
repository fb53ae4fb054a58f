"""The writer's lock on a session: who may write, and why somebody else may not."""

from __future__ import annotations

from pathlib import Path

from vatside.storage.file_names import lock_path
from vatside.storage.files import Fs, Stamp
from vatside.storage.flaws import why
from vatside.storage.system_lock import OWN_MODE, Busy, Lock

BUSY = "it is open in another window"
"""Why a second window can only look."""


def try_lock(fs: Fs, path: Path, found: Stamp | None) -> tuple[Lock | None, str | None]:
    """Take the writer's lock, or say why not."""
    if found is None or not found.regular:
        return None, "there is no such file"
    if not found.mode & 0o222:
        return None, "the file is write-protected"
    try:
        return fs.lock(lock_path(path), found.mode & 0o666 | OWN_MODE), None
    except Busy:
        return None, BUSY
    except (OSError, NotImplementedError) as error:
        return None, f"its folder takes no lock: {why(error)}"


def is_free(path: Path, fs: Fs | None = None) -> bool:
    """Tell whether a session that was open in another window can be written to again."""
    fs = fs or Fs()
    try:
        lock, _ = try_lock(fs, path, fs.stamp(path))
    except OSError:
        return False
    if lock is None:
        return False
    lock.release()
    return True
