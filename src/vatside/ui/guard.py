"""What stands below every screen: inputs that pass one by one, and faults that take no more along than a screen."""

from __future__ import annotations

import asyncio
import sys
import time
from collections import deque
from pathlib import Path
from typing import TYPE_CHECKING, Any

from textual import events
from textual.message import Message
from textual.screen import ModalScreen

from vatside.ui import leaving
from vatside.ui.base.host import Host
from vatside.ui.faults import write_down
from vatside.ui.gate import Gate

if TYPE_CHECKING:
    from textual.driver import Driver

    from vatside.clocks.clock import Clock
    from vatside.ui.base.routes import Routes
    from vatside.ui.text.signs import Signs

WITHIN = 20.0
"""Seconds in which faults are counted together. Ours, as the next two."""
TRY_AGAIN = 3
"""So many faults together and the screen itself is tried again; beyond that the first screen stands alone."""
GIVE_UP = 8
"""So many faults together and the app ends: nothing would stand any more."""


class GuardedApp(Host, inherit_bindings=False):
    """Lets inputs pass one by one, and comes back from faults."""

    class Fault(Message):
        """Something went wrong in a screen, or in the app itself; it is written down."""

        def __init__(self, words: str, *, plainly: bool) -> None:
            super().__init__()
            self.words = words
            self.plainly = plainly
            """The day's screen had its share of it: only the first screen is to be shown."""

    def __init__(self, folder: Path, clock: Clock | None, signs: Signs, routes: Routes) -> None:
        super().__init__(folder, clock, signs, routes)
        self.gate = Gate(self)
        self.faults: list[Exception] = []
        """What went wrong since the start."""
        self._lately: deque[float] = deque()
        self._leaving: asyncio.Task[None] | None = None

    def told_to_leave(self, code: int) -> None:
        """Leave because a signal says so, or the terminal is gone: save what there is, and ask nobody."""
        if self._leaving is None:
            with self._context():
                self._leaving = asyncio.create_task(self._leave(code))

    async def _leave(self, code: int) -> None:
        """Work off what was pressed before, put the day away and end; the process ends in any case."""
        if not self.is_headless:
            leaving.end_in_any_case(code, self.give_terminal_back)
        await self.gate.drained(leaving.DRAINED)
        try:
            self.put_away()
        except Exception as error:
            write_down(self.data_folder, error)
            raise
        finally:
            self.exit(return_code=code)

    def on_load(self) -> None:
        """Listen for signals before the terminal is taken over."""
        leaving.listen(self.told_to_leave)

    def get_driver_class(self) -> type[Driver]:
        """Give what reads from and writes to the terminal."""
        if sys.platform == "win32":
            return super().get_driver_class()
        from vatside.ui.terminal.driver import TerminalDriver

        return TerminalDriver

    def terminal_gone(self) -> None:
        """Leave as after a signal: there is nobody to ask."""
        self.told_to_leave(leaving.HANGUP)

    def give_terminal_back(self) -> None:
        """Put the terminal back into its own ways, when the process ends by force."""
        give_back = getattr(self._driver, "give_back", None)
        if give_back is not None:
            give_back()

    def exit(self, *arguments: Any, **named: Any) -> None:
        """Leave; keys that still come are for nobody."""
        self.gate.close()
        super().exit(*arguments, **named)

    async def on_event(self, event: events.Event) -> None:
        """Let an input go on once the one before it has done its work."""
        if self._clock is not None and isinstance(event, events.Key | events.MouseDown | events.Paste):
            self.input_at = self._clock.now().elapsed
        if isinstance(event, events.InputEvent | events.Paste) and not event.is_forwarded and self.gate.holds(event):
            return
        await super().on_event(event)

    def on_key(self, event: events.Key) -> None:
        """A key that comes back from below a window was typed ahead of its field: it belongs into it."""
        if isinstance(self.screen, ModalScreen):
            from vatside.ui.windows.ask import AskWindow

            if isinstance(self.screen, AskWindow):
                self.screen.ahead(event)

    async def _dispatch_message(self, message: Message) -> None:
        """Go on after a fault of the app's own: its message loop would end with it."""
        try:
            await super()._dispatch_message(message)
        except Exception as error:
            self._handle_exception(error)

    def _handle_exception(self, error: Exception) -> None:
        """Write a fault down and come back to the day; only where nothing stands any more does the app end."""
        if self._exit or not self.screen_stack:
            return  # what is being taken down may be half put up
        now = time.monotonic()
        self.faults.append(error)
        self._lately.append(now)
        while self._lately[0] < now - WITHIN:
            self._lately.popleft()
        path = write_down(self.data_folder, error)
        if not self.is_running or len(self._lately) > GIVE_UP:
            super()._handle_exception(error)
            return
        where = f" What happened is written in {path}." if path else ""
        words = f"Something went wrong there; the day goes on, its waits too.{where}"
        self.post_message(self.Fault(words, plainly=len(self._lately) > TRY_AGAIN))
