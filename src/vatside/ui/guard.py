"""What stands below every screen: inputs that pass one by one, and faults, written down, that take only a screen."""

from __future__ import annotations

import asyncio
import os
import sys
import time
import traceback
from collections import deque
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from textual import events
from textual._queue import Queue
from textual.app import App
from textual.dom import DOMNode
from textual.message import Message
from textual.message_pump import MessagePump
from textual.screen import ModalScreen, Screen

from vatside.storage.files import NO_WAITING
from vatside.ui.base import host
from vatside.ui.base.host import Host

if TYPE_CHECKING:
    from textual.driver import Driver

    from vatside.clocks.clock import Clock
    from vatside.ui.base.session_screen import Routes
    from vatside.ui.text.rows import Signs

FAULTS_FILE = "errors.txt"
LARGEST = 500_000
"""Bytes after which the file begins anew; the one before is kept beside it. Ours, no source."""


def write_down(folder: Path, error: BaseException) -> Path | None:
    """Add a fault to the file of faults, for the owner's eyes alone; None if that cannot be."""
    path = folder / FAULTS_FILE
    when = datetime.now(UTC).isoformat(timespec="seconds")
    text = f"{when}\n{''.join(traceback.format_exception(error))}\n"
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        if path.is_file() and path.stat().st_size > LARGEST:
            path.replace(path.with_suffix(".old.txt"))
        file = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_APPEND | NO_WAITING, 0o600)
        try:
            os.write(file, text.encode("utf-8", "replace"))
        finally:
            os.close(file)
    except OSError:
        return None
    return path


PATIENCE, MANY_TURNS = 1.0, 400
"""Seconds and turns of the event loop after which the next input goes on although something is still at work: a hang
must deafen nobody. Seconds alone would take a machine that is merely busy for one that hangs. Ours."""
TURNS = 25
"""Turns of the event loop before it is waited for in slices of time."""
SLICE = 0.002
"""Seconds."""

Input = events.InputEvent | events.Paste


class Gate:
    """Lets the inputs of an app pass one by one."""

    def __init__(self, app: App[Any]) -> None:
        self._app = app
        self._waiting: deque[Input] = deque()
        self._passing: Input | None = None
        self._task: asyncio.Task[None] | None = None
        self.shut = False
        """Nothing comes in any more: the app is being left."""

    @property
    def busy(self) -> bool:
        """Tell whether inputs wait."""
        return bool(self._waiting) or self._passing is not None

    def holds(self, event: Input) -> bool:
        """Take an input; tell whether it has to wait (or, once the gate is shut, is left out)."""
        if event is self._passing:
            self._passing = None
            return False
        if self.shut:
            return True
        if not self.busy and not self._app._next_callbacks and self._is_quiet():
            return False
        if self._waiting and isinstance(event, events.MouseMove) and isinstance(self._waiting[-1], events.MouseMove):
            self._waiting.pop()
        self._waiting.append(event)
        if self._task is None:
            self._task = asyncio.create_task(self._let_pass(), name="inputs")
        return True

    async def _let_pass(self) -> None:
        try:
            while self._waiting and self._app.is_running:
                await self._quiet()
                if not self._waiting:
                    return
                self._passing = self._waiting.popleft()
                if not self._app.post_message(self._passing):
                    return
        finally:
            self._task = self._passing = None

    async def _quiet(self) -> None:
        """Wait until nothing is at work any more, and everything has its place on the screen."""
        loop = asyncio.get_running_loop()
        until, turns = loop.time() + PATIENCE, 0
        while (turns < MANY_TURNS or loop.time() < until) and self._app.is_running:
            if self._passing is None and _idle(self._app):
                if self._is_quiet():
                    return
                self._lay_out()
            turns += 1
            await asyncio.sleep(0 if turns < TURNS else SLICE)

    def close(self) -> None:
        """Let nothing pass any more."""
        self.shut = True
        self._waiting.clear()

    async def drained(self, seconds: float) -> None:
        """Shut the gate, and wait until what came in before has been worked off, but no longer than so many seconds."""
        self.shut = True
        loop = asyncio.get_running_loop()
        until = loop.time() + seconds
        while loop.time() < until and (self.busy or not self._settled()):
            await asyncio.sleep(SLICE)

    def _settled(self) -> bool:
        return _idle(self._app) and all(_idle(node) for node in self._nodes())

    def _nodes(self) -> Iterator[DOMNode]:
        stack = self._app.screen_stack
        yield from stack
        if stack:
            yield from stack[-1].walk_children()

    def _is_quiet(self) -> bool:
        """Tell whether all is worked off, and everything on the screen has its place."""
        stack = self._app.screen_stack
        return bool(stack) and not _unplaced(stack[-1]) and all(_idle(node) for node in self._nodes())

    def _lay_out(self) -> None:
        """Give everything its place at once: the library would do so at its next frame."""
        screen = self._app.screen
        if _unplaced(screen) and all(_idle(node) for node in self._nodes()):
            screen.call_next(screen._on_timer_update)


def _unplaced(screen: Screen[Any]) -> bool:
    return screen._layout_required or screen._scroll_required or bool(screen._callbacks)


def _idle(node: MessagePump) -> bool:
    """Tell whether a node has nothing to do: it stands, and waits for its next message."""
    if node._closing or node._closed or (node._task is not None and node._task.done()):
        return True
    queue: Queue[Message | None] = node._message_queue
    # Only a node that waits for its next message waits for the queue's event; one at work waits for something else.
    waits = bool(queue.ready_event._waiters) and queue.empty()
    return waits and node._is_mounted and not node._next_callbacks


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

    def __init__(self, folder: Path, clock: Clock | None, signs: Signs, routes: Callable[[], Routes]) -> None:
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
            host.end_in_any_case(code, self.give_terminal_back)
        await self.gate.drained(host.DRAINED)
        try:
            self.put_away()
        except Exception as error:
            write_down(self.data_folder, error)
            raise
        finally:
            self.exit(return_code=code)

    def get_driver_class(self) -> type[Driver]:
        """Give what reads from and writes to the terminal."""
        if sys.platform == "win32":
            return super().get_driver_class()
        from vatside.ui.driver import TerminalDriver

        return TerminalDriver

    def terminal_gone(self) -> None:
        """Leave as after a signal: there is nobody to ask."""
        self.told_to_leave(host.HANGUP)

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
