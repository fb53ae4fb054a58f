"""A lock on a file that the system frees when its holder dies."""

from __future__ import annotations

import errno
import os
import sys
from contextlib import suppress
from io import FileIO
from pathlib import Path
from typing import Protocol

_NO_FLOCK = {errno.ENOSYS, errno.ENOTSUP, errno.EOPNOTSUPP}
"""What a file system answers that knows no such locks."""
_HELD = {errno.EAGAIN, errno.EACCES}
"""What it answers when somebody holds the lock; some network file systems say the second."""


OWN_MODE = 0o600
"""Mode of a file we create: the dyer's own."""


class Lock(Protocol):
    """A held lock."""

    def release(self) -> None:
        """Let it go."""
        ...


class Busy(Exception):
    """Someone else holds the lock."""


if sys.platform == "win32":

    def lock_file(path: Path, mode: int = OWN_MODE) -> Lock:  # noqa: ARG001
        """Take the lock without waiting; Busy if someone holds it."""
        return _by_library(path)

else:
    import fcntl

    class _Flock:
        def __init__(self, fd: int) -> None:
            self._held = FileIO(fd, "r+")

        def release(self) -> None:
            # The file stays: whoever comes by its name must find the same one. It is unlocked, not only closed, as a
            # process that came of this one may have it open.
            if not self._held.closed:
                fcntl.flock(self._held, fcntl.LOCK_UN)
                self._held.close()

    def lock_file(path: Path, mode: int = OWN_MODE) -> Lock:
        """Take the lock without waiting; Busy if someone holds it. `mode` is that of the file, whatever the umask is.

        By the system's own call: the library, which knows every system, needs a fiftieth of all our memory.
        """
        fd, ours = _opened(path, mode)
        try:
            fcntl.flock(fd, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as error:
            os.close(fd)
            if error.errno in _HELD:
                raise Busy from None
            if error.errno not in _NO_FLOCK:
                raise
            if ours:
                # Where there are no such locks the library takes the file itself for the lock.
                path.unlink(missing_ok=True)
            return _by_library(path)
        return _Flock(fd)

    def _opened(path: Path, mode: int) -> tuple[int, bool]:
        """Open the file, and tell whether we made it; never by a link, which could lead to any file of hers."""
        how = os.O_RDWR | os.O_NOFOLLOW | os.O_NONBLOCK
        try:
            fd, ours = os.open(path, how | os.O_CREAT | os.O_EXCL, mode), True
        except FileExistsError:
            fd, ours = os.open(path, how), False
        with suppress(OSError):  # somebody else's
            os.fchmod(fd, mode)
        return fd, ours


def _by_library(path: Path) -> Lock:
    from filelock import FileLock, Timeout

    lock = FileLock(path, timeout=0, thread_local=False)
    try:
        lock.acquire()
    except Timeout:
        raise Busy from None
    return lock
