"""One run of the benchmark: how thorough it is, and what several rows share."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.bench.starting import Starts

ROOT = Path(__file__).parents[2]
APPS = Path(__file__).with_name("apps")
PLAIN_INSTALL = APPS / "plain_install"
"""Goes before everything else on the path of the apps, so that they find what a person's install has."""


class Run:
    """Holds what is measured once and read by more than one row."""

    def __init__(self, *, short: bool = False, quick: bool = False) -> None:
        self.short = short or quick
        self.quick = quick

    def rounds(self, full: int, short: int, quick: int = 0) -> int:
        """How many rounds to take."""
        return quick if self.quick and quick else short if self.short else full

    def size(self, full: int) -> int:
        """How large to make what is large: a quick run takes a fifth of it."""
        return full // 5 if self.quick else full

    @cached_property
    def starts(self) -> Starts:
        """Every app started turn about."""
        from tests.bench.starting import watch_starts

        return watch_starts(self.rounds(9, 4, 2))


@contextmanager
def workplace() -> Iterator[Path]:
    """Give a folder for a while, on the disk of the checkout: a temporary one may be in memory, where nothing waits."""
    disk = ROOT / "build"
    try:
        disk.mkdir(exist_ok=True)
        place = disk if os.access(disk, os.W_OK) else None
    except OSError:
        place = None
    with tempfile.TemporaryDirectory(prefix="bench-", dir=place) as folder:
        yield Path(folder)
    try:
        disk.rmdir()
    except OSError:
        return
