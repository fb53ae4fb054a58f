"""A file system in memory that can lose power: what was not brought to the disk may be lost, torn or reordered.

The model, after the way real file systems behave: the content of a file is safe once the file was synced,
its name once its folder was; everything since then reaches the disk in any combination, a write possibly
in part or as zeros. A rename is one step.
"""

from __future__ import annotations

import errno
import itertools
import math
import os
import random
import stat
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path

from attrs import define, field, frozen

from vatside.storage.files import OWN_MODE, Busy, Fs, Lock, Stamp
from vatside.storage.flaws import SessionError


@frozen
class Write:
    """Bytes put at a place of a file."""

    offset: int
    data: bytes


@frozen
class Cut:
    """A file cut to a size."""

    size: int


Change = Write | Cut


def changed(content: bytes, change: Change) -> bytes:
    """The content after a change; a gap reads as zeros."""
    if isinstance(change, Cut):
        return content[: change.size].ljust(change.size, b"\0")
    content = content.ljust(change.offset, b"\0")
    return content[: change.offset] + change.data + content[change.offset + len(change.data) :]


@define(eq=False)
class Inode:
    """One file: what is on the disk, and what has been done to it since."""

    number: int
    mode: int
    safe: bytes = b""
    pending: list[Change] = field(factory=list)
    clock: int = 0

    @property
    def content(self) -> bytes:
        """What a reader sees while the power is on."""
        return _content(self.safe, self.pending)

    def change(self, change: Change) -> None:
        """Do something to the content."""
        self.pending.append(change)
        self.clock += 1


def _content(content: bytes, changes: Iterable[object]) -> bytes:
    for change in changes:
        if isinstance(change, Write | Cut):
            content = changed(content, change)
    return content


def _fates(change: Change) -> tuple[Change | None, ...]:
    """What may become of a change that was not synced: done, not done, in part, or only as room for it."""
    if isinstance(change, Cut):
        return (change, None)
    half = Write(change.offset, change.data[: len(change.data) // 2])
    zeros = Write(change.offset, b"\0" * len(change.data))
    return (change, None, half, zeros)


@frozen
class Named:
    """Some names that came to stand for a file, or for none, in one step."""

    names: tuple[tuple[str, Inode | None], ...]


class _Held:
    def __init__(self, locks: set[str], name: str) -> None:
        self._locks, self._name = locks, name
        locks.add(name)

    def release(self) -> None:
        self._locks.discard(self._name)


class MemoryFs(Fs):
    """One folder in memory. `watch` is called after every step that changes anything."""

    def __init__(self, files: dict[str, bytes] | None = None) -> None:
        self._numbers = itertools.count(1)
        self._safe: dict[str, Inode] = {}
        self._pending: list[Named] = []
        self._open: dict[int, Inode] = {}
        self._fds = itertools.count(3)
        self._locks: set[str] = set()
        self.watch: Callable[[], None] = lambda: None
        for name, content in (files or {}).items():
            self._safe[name] = Inode(next(self._numbers), stat.S_IFREG | 0o600, content)

    # What the power leaves

    def states(self, most: int, chance: random.Random) -> Iterator[dict[str, bytes]]:
        """Files that may be found if the power goes now: all combinations, or a sample if there are too many."""
        inodes = self._inodes()
        fates: list[Sequence[object]] = [(named, None) for named in self._pending]
        fates += [_fates(change) for inode in inodes for change in inode.pending]
        if math.prod(len(fate) for fate in fates) <= most:
            combinations: Iterable[tuple[object, ...]] = itertools.product(*fates)
        else:
            combinations = (tuple(chance.choice(fate) for fate in fates) for _ in range(most))
        for kept in combinations:
            yield self._left(kept, inodes)

    def _inodes(self) -> list[Inode]:
        """Every file that a name leads to, or led to, or may lead to."""
        named = [inode for named in self._pending for _, inode in named.names if inode is not None]
        return list({id(inode): inode for inode in (*self._safe.values(), *named)}.values())

    def _left(self, kept: tuple[object, ...], inodes: list[Inode]) -> dict[str, bytes]:
        fate = iter(kept)
        names = dict(self._safe)
        for named in (next(fate) for _ in self._pending):
            if isinstance(named, Named):
                _rename(names, named)
        contents = {id(inode): _content(inode.safe, [next(fate) for _ in inode.pending]) for inode in inodes}
        return {name: contents[id(inode)] for name, inode in names.items()}

    def files(self) -> dict[str, bytes]:
        """Files as a reader sees them while the power is on."""
        return {name: inode.content for name, inode in self._names().items()}

    def _names(self) -> dict[str, Inode]:
        names = dict(self._safe)
        for named in self._pending:
            _rename(names, named)
        return names

    def _name(self, *names: tuple[str, Inode | None]) -> None:
        self._pending.append(Named(names))
        self.watch()

    # What the store asks for

    def real(self, path: Path) -> Path:
        """There are no links."""
        return path

    def stamp(self, path: Path) -> Stamp | None:
        """Stamp by name."""
        inode = self._names().get(path.name)
        return _stamp(inode) if inode else None

    def stamps(self, folder: Path) -> dict[str, Stamp | None]:
        """Stamps of all files."""
        return {name: _stamp(inode) for name, inode in self._names().items()}

    def stamp_open(self, fd: int) -> Stamp:
        """Stamp by descriptor."""
        return _stamp(self._open[fd])

    def read(self, path: Path) -> tuple[bytes, Stamp]:
        """Read as the real one does."""
        inode = self._names().get(path.name)
        if inode is None:
            raise _error(errno.ENOENT)
        if not stat.S_ISREG(inode.mode):
            raise SessionError(f"{path.name} is no plain file")
        return inode.content, _stamp(inode)

    def open_new(self, path: Path, mode: int) -> int:
        """Create."""
        if path.name in self._names():
            raise _error(errno.EEXIST)
        inode = Inode(next(self._numbers), stat.S_IFREG | mode)
        self._name((path.name, inode))
        return self._opened(inode)

    def open_append(self, path: Path, mode: int) -> int:
        """Open or create."""
        inode = self._names().get(path.name)
        if inode is None:
            return self.open_new(path, mode)
        return self._opened(inode)

    def _opened(self, inode: Inode) -> int:
        fd = next(self._fds)
        self._open[fd] = inode
        return fd

    def write(self, fd: int, data: bytes | memoryview) -> int:
        """Write at the end: the store writes nowhere else."""
        inode = self._open[fd]
        inode.change(Write(len(inode.content), bytes(data)))
        self.watch()
        return len(data)

    def truncate(self, fd: int, size: int) -> None:
        """Cut."""
        self._open[fd].change(Cut(size))
        self.watch()

    def sync(self, fd: int) -> None:
        """Content to the disk."""
        inode = self._open[fd]
        inode.safe, inode.pending = inode.content, []
        self.watch()

    def close(self, fd: int) -> None:
        """Close."""
        del self._open[fd]

    def replace(self, source: Path, target: Path) -> None:
        """Rename; onto another name of the same file it does nothing, as POSIX has it."""
        names = self._names()
        if source.name not in names:
            raise _error(errno.ENOENT)
        if names[source.name] is not names.get(target.name):
            self._name((target.name, names[source.name]), (source.name, None))

    def link(self, source: Path, target: Path) -> None:
        """A second name."""
        names = self._names()
        if target.name in names:
            raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST))
        if source.name not in names:
            raise _error(errno.ENOENT)
        self._name((target.name, names[source.name]))

    def unlink(self, path: Path) -> None:
        """Take a name away."""
        if path.name in self._names():
            self._name((path.name, None))

    def names(self, folder: Path) -> list[str]:
        """All names."""
        return list(self._names())

    def make_folder(self, path: Path) -> None:
        """The one folder is there."""

    def sync_folder(self, folder: Path) -> None:
        """Names to the disk."""
        self._safe, self._pending = self._names(), []
        self.watch()

    def lock(self, path: Path, mode: int = OWN_MODE) -> Lock:
        """One holder at a time."""
        if path.name in self._locks:
            raise Busy
        return _Held(self._locks, path.name)


def _rename(names: dict[str, Inode], named: Named) -> None:
    for name, inode in named.names:
        if inode is None:
            names.pop(name, None)
        else:
            names[name] = inode


def _stamp(inode: Inode) -> Stamp:
    return Stamp(1, inode.number, len(inode.content), inode.clock, inode.mode, 1)


def _error(number: int) -> OSError:
    return OSError(number, os.strerror(number))
