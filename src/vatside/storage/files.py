"""The few things we ask of the file system, as one small object that tests can replace, and a lock on a file.

The system frees the lock when its holder dies.
"""

from __future__ import annotations

import errno
import os
import stat
import sys
from contextlib import suppress
from io import FileIO
from pathlib import Path
from typing import Protocol

from attrs import frozen

from vatside.storage.flaws import SessionError
from vatside.storage.places import make_folder

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


LARGEST_FILE = 50_000_000
"""Bytes; a session of ten thousand entries has 1.5 million. Ours, no source."""

_BINARY: int = getattr(os, "O_BINARY", 0)
NO_WAITING: int = getattr(os, "O_NONBLOCK", 0)
"""Opening a pipe must not hang."""


@frozen
class Stamp:
    """What tells one state of a file from another."""

    device: int
    number: int
    size: int
    changed_ns: int
    mode: int
    links: int

    @property
    def regular(self) -> bool:
        """A plain file, not a folder, pipe or device."""
        return stat.S_ISREG(self.mode)

    def same_file(self, other: Stamp | None) -> bool:
        """Tell whether both name one file, changed or not."""
        return other is not None and (self.device, self.number) == (other.device, other.number)

    def same_content(self, other: Stamp | None) -> bool:
        """Tell whether nobody has written in between."""
        if other is None or not self.same_file(other):
            return False
        return (self.size, self.changed_ns) == (other.size, other.changed_ns)


class ForeignChange(Exception):
    """Another program changed a file since we last read or wrote it; we do not write over that."""


class Fs:
    """The real file system. Every method raises OSError as the system does."""

    def real(self, path: Path) -> Path:
        """Follow links, so that a link is kept and its target replaced."""
        return Path(os.path.realpath(path))

    def stamp(self, path: Path) -> Stamp | None:
        """Give a file's stamp; None if there is no such file."""
        try:
            return _stamp(path.stat())
        except (FileNotFoundError, NotADirectoryError):
            return None

    def stamp_open(self, fd: int) -> Stamp:
        """Give the stamp of an open file."""
        return _stamp(os.fstat(fd))

    def read(self, path: Path) -> tuple[bytes, Stamp]:
        """Read a whole file; SessionError if it is no plain file or too large."""
        fd = os.open(path, os.O_RDONLY | _BINARY | NO_WAITING)
        try:
            before = self.stamp_open(fd)
            if not before.regular:
                raise SessionError(f"{path} is no plain file")
            if before.size > LARGEST_FILE:
                raise SessionError(f"{path} is larger than {LARGEST_FILE // 1_000_000} MB: no session is")
            return self._read_all(fd, path, before.size), before
        finally:
            os.close(fd)

    def _read_all(self, fd: int, path: Path, expected: int) -> bytes:
        parts: list[bytes] = []
        size = 0
        # Room for all of it and a little more: one read then gives the whole file, and no copy is made of it.
        while part := os.read(fd, expected + (1 << 12)):
            parts.append(part)
            size += len(part)
            if size > LARGEST_FILE:
                raise SessionError(f"{path} is larger than {LARGEST_FILE // 1_000_000} MB: no session is")
        return b"".join(parts)

    def open_new(self, path: Path, mode: int) -> int:
        """Create a file that must not exist yet, for writing; the mode holds whatever the umask is."""
        fd = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | _BINARY, mode)
        if sys.platform != "win32":
            os.fchmod(fd, mode)
        return fd

    def open_append(self, path: Path, mode: int) -> int:
        """Open a file, new or old, whose writes all go to its end; a new one's mode holds whatever the umask is."""
        how = os.O_RDWR | os.O_APPEND | _BINARY | NO_WAITING
        try:
            fd = os.open(path, how | os.O_CREAT | os.O_EXCL, mode)
        except FileExistsError:
            return os.open(path, how)
        if sys.platform != "win32":
            os.fchmod(fd, mode)
        return fd

    def write(self, fd: int, data: bytes | memoryview) -> int:
        """Write what fits and say how many bytes that were."""
        return os.write(fd, data)

    def truncate(self, fd: int, size: int) -> None:
        """Cut an open file."""
        os.ftruncate(fd, size)

    def sync(self, fd: int) -> None:
        """Bring a file's content to the disk itself."""
        if sys.platform == "darwin":
            import fcntl

            fcntl.fcntl(fd, fcntl.F_FULLFSYNC)
        else:
            os.fsync(fd)

    def close(self, fd: int) -> None:
        """Close an open file."""
        os.close(fd)

    def replace(self, source: Path, target: Path) -> None:
        """Put a file in another's place, in one step."""
        source.replace(target)

    def link(self, source: Path, target: Path) -> None:
        """Give a file a second name that must be free."""
        target.hardlink_to(source)

    def unlink(self, path: Path) -> None:
        """Take a name away; a missing one is fine."""
        path.unlink(missing_ok=True)

    def names(self, folder: Path) -> list[str]:
        """List a folder."""
        return [entry.name for entry in folder.iterdir()]

    def stamps(self, folder: Path) -> dict[str, Stamp | None]:
        """Give the stamp of everything in a folder, by name; None for what cannot be looked at."""
        with os.scandir(folder) as entries:
            return {item.name: _stamp_of(item) for item in entries}

    def make_folder(self, path: Path) -> None:
        """Create a folder and those above it, for its owner alone."""
        make_folder(path)

    def sync_folder(self, folder: Path) -> None:
        """Bring the names in a folder to the disk; where the system cannot, it need not."""
        if sys.platform == "win32":
            return
        fd = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(fd)
        except OSError as error:
            if error.errno not in (errno.EINVAL, errno.ENOTSUP):
                raise
        finally:
            os.close(fd)

    def lock(self, path: Path, mode: int = OWN_MODE) -> Lock:
        """Take the lock without waiting; Busy if someone holds it. The system frees it when we die.

        `mode` is that of the file it guards: who may write to the one may take the other.
        """
        return lock_file(path, mode)


def plain_text(path: Path, most: int = LARGEST_FILE) -> str:
    """Read a text of so many bytes at most; OSError, too, for a pipe or a device, which may never end."""
    status = path.stat()
    if not stat.S_ISREG(status.st_mode):
        raise OSError(errno.EINVAL, "it is no plain file")
    if status.st_size > most:
        raise OSError(errno.EINVAL, "it is too large")
    return path.read_text("utf-8")


def is_there(path: Path) -> bool:
    """Tell whether something stands there; no, too, where the system does not tell or cannot have such a name."""
    try:
        return path.exists()
    except (OSError, ValueError):
        return False


def _stamp(status: os.stat_result) -> Stamp:
    return Stamp(
        status.st_dev, status.st_ino, status.st_size, status.st_mtime_ns, status.st_mode, status.st_nlink
    )  # fmt: skip


def _stamp_of(item: os.DirEntry[str]) -> Stamp | None:
    try:
        return _stamp(item.stat())
    except OSError:
        return None
