"""Screens with ten times as much on them: a look at the clock, a key, a key in the form; and each of them opened."""

from __future__ import annotations

import asyncio
import time
from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import ExitStack, asynccontextmanager
from functools import cache
from itertools import cycle
from pathlib import Path
from statistics import median

from tests.bench.keys import SIZE, Painting
from tests.bench.large import many_days, many_lots, many_waits
from tests.bench.long_log import long_session
from tests.bench.measure import Pairs, no_collection
from tests.bench.run import Run, workplace
from tests.clocks.virtual_clock import VirtualClock

from vatside.log.state import Session
from vatside.storage.session_file import SessionFile
from vatside.ui.app import VatsideApp
from vatside.ui.day.screen import DayScreen
from vatside.ui.widgets.form import Form

ACTS = 4
"""So often each thing is done on an open screen."""
TO_THE_DIPS = 4
"""Stages from the plan to the dips."""
LONGEST_LOOKS = 200
"""Looks for the day's screen, before giving up."""


class Opened:
    """A day on the screen."""

    def __init__(self, app: VatsideApp, clock: VirtualClock) -> None:
        self.app = app
        self.clock = clock
        self.painting = Painting(app)
        self._digits = cycle("123456789")

    async def to_the_day(self) -> None:
        """Answer what is asked on opening, up to the day's own screen."""
        for _ in range(LONGEST_LOOKS):
            await self.painting.settled()
            if isinstance(self.app.screen, DayScreen):
                return
            if len(self.app.screen_stack) > 1:
                await self.press("escape")
        raise RuntimeError(f"no day came up on {self.app.screen}")

    async def look(self) -> None:
        """Look at the clock a quarter of a second later."""
        self.clock.advance(0.25)
        self.app.tick()

    async def press(self, key: str) -> None:
        """Press a key, and wait until nothing more is painted."""
        await self.painting.after(self.app, key)

    async def turn_the_stage(self) -> None:
        """Turn to the next stage, and back."""
        await self.press("right")
        await self.press("left")

    async def into_form(self) -> None:
        """Go from the steps, where an opened day stands, to the weight of the first lot."""
        await self.press("enter")
        self.app.screen.query_one(Form).take("lots.l0.mass")
        await self.painting.settled()
        await self.press("home")

    async def seen_cpu_ms(self, keys: str) -> float:
        """Processor time of opening a screen by some keys, with a look at the clock there."""
        with no_collection():
            start = time.process_time()
            for key in keys.split():
                await self.press(key)
            await self.look()
            await self.painting.settled()
            taken = (time.process_time() - start) * 1000
        assert not isinstance(self.app.screen, DayScreen), f"{keys} opened nothing"
        return taken

    async def type(self) -> None:
        """Put another digit before an amount, and take it away: all that follows changes twice."""
        await self.press(next(self._digits))
        await self.press("backspace")


@asynccontextmanager
async def _opened(session: Session) -> AsyncIterator[Opened]:
    clock = VirtualClock(session.entries[-1].at.utc)
    with workplace() as folder:
        path = folder / "day.json"
        SessionFile.write_new(path, session).close()
        app = VatsideApp(path, clock, folder)
        async with app.run_test(size=SIZE):
            day = Opened(app, clock)
            await day.to_the_day()
            yield day


Act = Callable[[Opened], Awaitable[None]]


async def _cpu_ms(session: Session, act: Act, ready: Act | None = None) -> float:
    """Processor time of an act on the screen of a day, as the middle of some."""
    async with _opened(session) as day:
        if ready is not None:
            await ready(day)
        taken = []
        for _ in range(ACTS):
            with no_collection():
                start = time.process_time()
                await act(day)
                taken.append((time.process_time() - start) * 1000)
        return median(taken)


def _beside(run: Run, made: Callable[[int], Session], count: int, act: Act, ready: Act | None = None) -> Pairs:
    large, small = made(run.size(count)), made(run.size(count // 10))
    rounds = [
        (asyncio.run(_cpu_ms(large, act, ready)), asyncio.run(_cpu_ms(small, act, ready)))
        for _ in range(run.rounds(3, 1))
    ]
    return Pairs(tuple(ours for ours, _ in rounds), tuple(base for _, base in rounds))


def look_at_waits(run: Run) -> Pairs:
    """A look at the clock with 10,000 open waits against one with 1,000."""
    return _beside(run, many_waits, 10_000, Opened.look)


def key_above_waits(run: Run) -> Pairs:
    """A key that turns the stage above 10,000 open waits against the same above 1,000."""
    return _beside(run, many_waits, 10_000, Opened.turn_the_stage)


def key_in_lots(run: Run) -> Pairs:
    """A key in the form of 3,000 lots against one in the form of 300."""
    return _beside(run, many_lots, 3_000, Opened.type, Opened.into_form)


SCREENS = {
    "log": "l", "far view": "f", "vat": "v", "dip board": "d", "day line": "o z", "shelf": "o o", "card": "o g",
    "list": "b",
}  # fmt: skip
"""The keys that open each from the day's screen at the dips; from the list of days nothing leads back."""


async def _each(session: Session) -> dict[str, float]:
    async with _opened(session) as day:
        for _ in range(TO_THE_DIPS):
            await day.press("right")
        found = {}
        for name, keys in SCREENS.items():
            found[name] = await day.seen_cpu_ms(keys)
            if name != "list":
                await day.to_the_day()
        return found


@cache
def _import_all() -> None:
    asyncio.run(_each(many_waits(1)))


def _worst(run: Run, made: Callable[[int], Session], count: int) -> Pairs:
    _import_all()
    rounds = [
        tuple(asyncio.run(_each(made(run.size(size)))) for size in (count, count // 10))
        for _ in range(run.rounds(3, 1))
    ]
    pairs = (
        Pairs(tuple(large[name] for large, _ in rounds), tuple(small[name] for _, small in rounds), name)
        for name in SCREENS
    )
    return max(pairs, key=lambda pair: pair.ratio)


def seen_with_waits(run: Run) -> Pairs:
    """Each screen with 10,000 open waits against the same with 1,000."""
    return _worst(run, many_waits, 10_000)


def seen_with_lots(run: Run) -> Pairs:
    """Each screen of 3,000 lots against the same of 300."""
    return _worst(run, many_lots, 3_000)


def seen_with_events(run: Run) -> Pairs:
    """Each screen of 10,000 events against the same of 1,000: fewer, for the log words as many steps."""
    return _worst(run, long_session, 10_000)


def list_on_the_screen(run: Run) -> Pairs:
    """The app's first screen with 5,000 days that it has listed before, and a key there, against 500."""
    with ExitStack() as stack:
        large, small = (many_days(stack.enter_context(workplace()), run.size(count)) for count in (5_000, 500))
        rounds = [
            tuple(asyncio.run(_listed_cpu_ms(folder)) for folder in (large, small)) for _ in range(1 + run.rounds(3, 1))
        ]
    return Pairs(tuple(ours for ours, _ in rounds[1:]), tuple(base for _, base in rounds[1:]))


async def _listed_cpu_ms(folder: Path) -> float:
    start = time.process_time()
    app = VatsideApp(None, VirtualClock(), folder)
    async with app.run_test(size=SIZE):
        painting = Painting(app)
        await painting.settled()
        await painting.after(app, "down")
        return (time.process_time() - start) * 1000
