"""Writing a whole file so that at every moment either the old or the new one is there, whole."""

from __future__ import annotations

import errno
import os
import stat
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from uuid import uuid4

from vatside.storage.files import OWN_MODE, ForeignChange, Fs, Stamp


class Snapshot:
    """A file that is only ever replaced as a whole, and only if it still is as we left it."""

    def __init__(self, fs: Fs, path: Path, known: Stamp | None) -> None:
        self._fs = fs
        self.path = path
        self._known = [known]
        """States of the file that are ours: more than one after a replacement that may or may not have held."""

    @property
    def backup(self) -> Path:
        """Where the content before the latest replacement stays."""
        return self.path.with_name(f"{self.path.name}.bak")

    def mode(self) -> int:
        """Permission bits of the file; the dyer's own if there is none yet."""
        old = self._fs.stamp(self.path)
        return stat.S_IMODE(old.mode) if old else OWN_MODE

    def create(self, data: bytes) -> None:
        """Write a new file; FileExistsError rather than touching one that is there."""
        temporary = self._write_temporary((data,), OWN_MODE)
        try:
            _name_new(self._fs, temporary, self.path)
        finally:
            discard(self._fs, temporary)
        self._settle()

    def replace(self, *parts: bytes | memoryview) -> None:
        """Put new content in the file's place; links and mode stay, the old content stays as a backup.

        ForeignChange if the file is not as we left it. After an OSError either the old or the new
        content is there, and a later try goes through a new temporary file.
        """
        self.check()
        temporary = self._write_temporary(parts, self.mode())
        try:
            with suppress(OSError):
                keep_backup(self._fs, self.path, self.backup)
            self._fs.replace(temporary, self.path)
        finally:
            discard(self._fs, temporary)
        self._settle()

    def check(self) -> None:
        """ForeignChange if another program wrote to the file; one that is gone can be written anew."""
        stamp = self._fs.stamp(self.path)
        if stamp is not None and not any(stamp.same_content(known) for known in self._known):
            raise ForeignChange(f"another program changed {self.path.name}")

    def accept(self, stamp: Stamp | None) -> None:
        """Take a state of the file for ours whose content is what we left."""
        self._known.append(stamp)

    def _settle(self) -> None:
        self._fs.sync_folder(self.path.parent)
        self._known = self._known[-1:]

    def _write_temporary(self, parts: Iterable[bytes | memoryview], mode: int) -> Path:
        """Write the content beside its place, down to the disk, and remember it as ours."""
        temporary = _temporary_name(self.path)
        fd = self._fs.open_new(temporary, mode)
        try:
            try:
                for part in parts:
                    write_all(self._fs, fd, part)
                self._fs.sync(fd)
                self._known.append(self._fs.stamp_open(fd))
            finally:
                self._fs.close(fd)
        except BaseException:
            discard(self._fs, temporary)
            raise
        return temporary


def write_all(fs: Fs, fd: int, data: bytes | memoryview) -> None:
    """Write every byte; OSError if the disk takes no more."""
    while data:
        count = fs.write(fd, data)
        if count <= 0:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        data = data[count:]


def keep_backup(fs: Fs, target: Path, backup: Path) -> None:
    """Keep what stands in `target` under the name `backup`, which never is half written."""
    spare = _temporary_name(backup)
    try:
        try:
            fs.link(target, spare)
        except OSError:
            keep_copy(fs, fs.read(target)[0], spare)
        fs.replace(spare, backup)
    finally:
        # Replacing a name by another name of the same file does nothing and leaves both.
        discard(fs, spare)


def keep_copy(fs: Fs, data: bytes, target: Path) -> None:
    """Keep some bytes in a new file, safely on the disk when it returns; nothing half written stays behind."""
    fd = fs.open_new(target, OWN_MODE)
    try:
        try:
            write_all(fs, fd, data)
            fs.sync(fd)
        finally:
            fs.close(fd)
        fs.sync_folder(target.parent)
    except BaseException:
        discard(fs, target)
        raise


def keep_torn(fs: Fs, path: Path, torn: bytes) -> str:
    """Put bytes that broke off aside, each time under a new name; gives the name."""
    for number in range(1, 1000):
        target = path.with_name(f"{path.name}.torn-{number}")
        with suppress(FileExistsError):
            keep_copy(fs, torn, target)
            return target.name
    raise OSError(errno.EEXIST, "too many torn records are kept already")


def sweep(fs: Fs, path: Path) -> None:
    """Clear away temporary files that a writer of this file left when it died; only under its lock."""
    with suppress(OSError):
        for name in fs.names(path.parent):
            if name.startswith((f".{path.name}.", f".{path.name}.bak.")) and name.endswith(".tmp"):
                discard(fs, path.with_name(name))


def discard(fs: Fs, path: Path) -> None:
    """Take a file away if that is possible."""
    with suppress(OSError):
        fs.unlink(path)


def _name_new(fs: Fs, temporary: Path, target: Path) -> None:
    """A link never lands on an existing file; where the disk knows no links, look first and move."""
    try:
        fs.link(temporary, target)
    except FileExistsError:
        raise
    except OSError:
        if fs.stamp(target) is not None:
            raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(target)) from None
        fs.replace(temporary, target)


def _temporary_name(target: Path) -> Path:
    return target.with_name(f".{target.name}.{os.getpid()}.{uuid4().hex[:8]}.tmp")
