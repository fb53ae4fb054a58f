"""The app, without a terminal, through hours of looks at the clock."""

from __future__ import annotations

import asyncio
import gc
from collections.abc import AsyncIterator, Sequence
from contextlib import asynccontextmanager
from pathlib import Path

from tests.clocks.virtual_clock import VirtualClock

from vatside.log.events.day import WaitStarted
from vatside.storage.places import themes_folder
from vatside.ui.app import VatsideApp
from vatside.ui.theme.choice import Looks

EVERY = 1.5
"""Simulated seconds between two looks: as many as are no stall."""


class Ticking:
    """An app whose clock goes on only here."""

    def __init__(self, app: VatsideApp, clock: VirtualClock) -> None:
        self._app = app
        self._clock = clock

    async def hour(self) -> None:
        """Let an hour go by, look by look, and what is painted be painted."""
        for look in range(int(3600 / EVERY)):
            self._clock.advance(EVERY)
            self._app.tick()
            if look % 10 == 0:
                await asyncio.sleep(0)
        await asyncio.sleep(0.05)
        gc.collect()


@asynccontextmanager
async def ticking(folder: Path) -> AsyncIterator[Ticking]:
    """Begin a day with six waits, of which each rings after another hour and then goes on ringing."""
    clock = VirtualClock()
    app = VatsideApp(None, clock, folder / "sessions", looks=Looks([themes_folder()]))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("a")
        await pilot.pause()
        assert app.desk is not None
        for number in range(6):
            app.desk.record(WaitStarted(f"w{number}", None, f"Wait {number}", 60.0 * (number + 1), (10.0,), ("stir",)))
        yield Ticking(app, clock)


def resident_after(folder: Path, hours: Sequence[int]) -> list[float]:
    """Give the memory of this process after each of some hours, MiB."""
    from tests.bench.large import resident_mib

    async def run() -> list[float]:
        found = []
        async with ticking(folder) as app:
            for hour in range(1, max(hours) + 1):
                await app.hour()
                if hour in hours:
                    found.append(resident_mib())
        return found

    return asyncio.run(run())
