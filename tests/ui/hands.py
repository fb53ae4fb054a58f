"""The dyer's hands: keys pressed, time let go by, the screen read."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable
from contextlib import AbstractAsyncContextManager
from typing import Any

import pytest
from tests.clocks.virtual_clock import VirtualClock
from textual.app import App
from textual.events import Key
from textual.pilot import Pilot

from vatside.bench.desk import Desk
from vatside.bench.open_day import new_day
from vatside.log.events.day import CautionAcknowledged, LotAdded, LotRemoved, PlanChanged, StepDone
from vatside.log.events.vat import VatMade
from vatside.plan.plan import Condition, Form, Lot
from vatside.plan.starter import starter_plan
from vatside.ui.app import VatsideApp
from vatside.ui.day.screen import DayScreen
from vatside.ui.routes.day import show
from vatside.ui.routes.days import titled
from vatside.ui.widgets.entry import Entry
from vatside.units import Amount

PATIENCE = 500
"""Turns of the event loop that it may take until nothing is left to handle."""
LONGEST = 300.0
"""Seconds that a condition may take: a busy machine is slow, and no fault."""
NAMES = {
    " ": "space", "/": "slash", ".": "full_stop", ",": "comma", "-": "minus", "+": "plus", ":": "colon",
    "[": "left_square_bracket", "]": "right_square_bracket", "=": "equals_sign", "?": "question_mark",
}  # fmt: skip


def key_event(key: str) -> Key:
    """Give a key press as the app gets it from the terminal."""
    letters = {name: letter for letter, name in NAMES.items()}
    if len(key) == 1:
        return Key(NAMES.get(key, key), key)
    return Key(key, letters.get(key))


async def settled(app: App[Any], busy: Callable[[], bool] = lambda: False) -> None:
    """Let every message be handled and every change be laid out: by turns of the loop, which no busy machine alters."""
    quiet = 0
    for _ in range(PATIENCE):
        await asyncio.sleep(0)
        while busy():
            await asyncio.sleep(0.001)
        nodes = (app, *app.screen_stack, *app.screen.walk_children())
        quiet = 0 if any(node.message_queue_size for node in nodes) else quiet + 1
        if quiet >= 5:
            break
    app.screen._on_timer_update()
    await asyncio.sleep(0)


class Hands:
    """The dyer at the keyboard."""

    def __init__(self, app: VatsideApp, pilot: Pilot[Any], clock: VirtualClock) -> None:
        self.app = app
        self.pilot = pilot
        self.clock = clock

    async def press(self, *keys: str) -> None:
        """Press keys one after the other; the app's gate lets each in after the last one has done its work."""
        for key in keys:
            self.app.post_message(key_event(key))
        await self.settle()

    async def write(self, text: str) -> None:
        """Type a text letter by letter."""
        await self.press(*text)

    async def read_on(self) -> None:
        """Read the cautions in front to their end, and say so."""
        window = self.app.screen
        for _ in range(9):
            await self.press("enter")
            if self.app.screen is not window:
                return
        pytest.fail("the cautions have no end:\n" + self.screen)

    async def settle(self) -> None:
        """Let every message be handled and every change be laid out."""
        await settled(self.app, lambda: self.app.gate.busy)

    async def until(self, condition: Callable[[], bool]) -> None:
        """Wait for something to become true, and fail if it does not."""
        end = time.monotonic() + LONGEST
        while time.monotonic() < end:
            if condition():
                return
            await self.settle()
            await asyncio.sleep(0.001)
        pytest.fail("what the test waited for never came about:\n" + self.screen)

    async def later(self, seconds: float) -> None:
        """Let time go by and the app look at the clock, in steps that are no stall; between, it shows what happens."""
        while seconds > 1.5:
            self.clock.advance(1.5)
            self._look()
            seconds -= 1.5
        self.clock.advance(seconds)
        self.app.tick()
        await self.settle()

    def _look(self) -> None:
        """Look at the clock as the app does, but paint nothing as long as nothing happens."""
        if self.app.ticker is None or self.app.second is not None:
            self.app.tick()
            return
        beat = self.app.ticker.beat()
        if beat.words or beat.ring or beat.ask:
            self.app.heartbeat.take(beat, self.desk)

    async def long_later(self, minutes: float) -> None:
        """Let the machine sleep for some minutes, then look at the clock."""
        self.clock.sleep(minutes * 60)
        self.app.tick()
        await self.settle()

    @property
    def screen(self) -> str:
        """Everything on the screen as text."""
        strips = self.app.screen._compositor.render_strips()
        return "\n".join("".join(segment.text for segment in strip) for strip in strips)

    @property
    def desk(self) -> Desk:
        """The session on the bench."""
        assert self.app.desk is not None
        return self.app.desk

    @property
    def day(self) -> DayScreen:
        """The day's screen."""
        found = [screen for screen in self.app.screen_stack if isinstance(screen, DayScreen)]
        return found[-1]

    @property
    def kinds(self) -> list[str]:
        """The kinds of the log's events."""
        return [entry.event.kind for entry in self.desk.state.entries]

    def grams(self, figure: str) -> float:
        """The value of a figure on the sheet."""
        return self.desk.sheet.value(figure)

    async def new_day(self) -> None:
        """Begin a day from the first screen."""
        await self.press("a")
        await self.until(lambda: isinstance(self.app.screen, DayScreen))
        await self.until(lambda: isinstance(self.app.focused, Entry))

    async def begin(self, log: Callable[[Desk], object], stage: str = "") -> None:
        """Begin a day that goes on from what is logged before it is shown; come back to it at the steps of a stage.

        The way by keys, and what each entry changes on the screen, are facts of their own.
        """
        desk = new_day(self.app.folder, self.app.clock, titled(self.app, starter_plan()))
        log(desk)
        if stage:
            self.app.take_on_bench(desk)
        show(self.app, desk)
        await self.until(lambda: isinstance(self.app.screen, DayScreen))
        if stage:
            await self.until(lambda: bool(self.day.steps.keys))
            await self.to(stage)
        else:
            await self.until(lambda: isinstance(self.app.focused, Entry))

    async def to(self, stage: str) -> None:
        """Go to the steps of a stage, all the way at once: the keys from one to the next are facts of their own."""
        if self.day.hand != "doing":
            await self.press("escape")
        self.day.action_stage(stage)
        await self.settle()
        assert self.day.stage.value == stage

    async def field(self, path: str) -> None:
        """Put the cursor into a field, all the way at once."""
        if self.day.hand != "setting":
            await self.press("enter")
        self.day.form.take(path)
        await self.settle()
        assert self.day.form.at == path


STANDS = (
    StepDone("scour.linen.hang"),
    StepDone("scour.wool.hang"),
    StepDone("scour.cotton.hang"),
    StepDone("vat.stock_in"),
    VatMade(),
    CautionAcknowledged("dip.rotate", ("gloves",)),
)
"""The vat stands, and whoever dips has her gloves on."""


def of_wool(desk: Desk, pieces: int = 2) -> None:
    """Plan half a pound of wool in skeins, a medium blue, in a large tub."""
    skeins = Lot("a", "Wool skeins", "wool", Amount(227, "g"), pieces, Form.SKEINS, Condition.CLEAN, Amount(0.8, "%"))
    desk.record(LotRemoved("a"), LotAdded(skeins), PlanChanged("vessels.tub.volume", Amount(24, "L")))


async def wool_day(hands: Hands) -> None:
    """Begin a day of wool at its form."""
    await hands.begin(of_wool)


Bench = Callable[..., AbstractAsyncContextManager[Hands]]
"""Opens the app; see the fixture `bench`."""
