"""One input after the other: a key goes on only once the one before it has done all that it does.

Textual hands a key to whatever has the cursor when the key arrives, and works it off later. Of two keys that arrive
together the second would so be given to a screen that the first one closes, or to one that does not stand yet.
"""

from __future__ import annotations

import asyncio
from collections import deque
from collections.abc import Iterator
from typing import Any

from textual import events
from textual._queue import Queue
from textual.app import App
from textual.dom import DOMNode
from textual.message import Message
from textual.message_pump import MessagePump
from textual.screen import Screen

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
