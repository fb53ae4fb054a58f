"""How a screen or window closes once: whatever still comes for it is left out."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Generic

from textual import events
from textual.await_complete import AwaitComplete
from textual.message import Message
from textual.screen import Screen, ScreenResultType

WORDS = (events.InputEvent, events.Paste, events.Callback)
"""Events that do something for the dyer; all others are the life of a widget."""


class Closing(Generic[ScreenResultType]):
    """Closes a screen once, and tells what comes for it too late."""

    def __init__(self, screen: Screen[Any], close: Callable[[ScreenResultType | None], AwaitComplete]) -> None:
        self._screen = screen
        self._close = close
        """The library's own way to close it."""
        self._answer: tuple[ScreenResultType | None] | None = None
        """What it closes with as soon as nothing is in front of it."""

    @property
    def is_gone(self) -> bool:
        """Tell whether the screen stood once, and was closed."""
        return self._screen.is_mounted and self._screen not in self._screen.app.screen_stack

    def close(self, result: ScreenResultType | None) -> AwaitComplete:
        """Close, once; a screen that is covered closes when nothing is in front of it any more."""
        if not self.is_gone and self._answer is None:
            self._answer = (result,)
            if self._screen.app.screen is self._screen:
                return self._close(result)
        return AwaitComplete()

    def resumed(self) -> None:
        """Close now, if that was asked for while something was in front."""
        if self._answer is not None and self._screen.app.screen is self._screen:
            self._close(self._answer[0])

    def leaves_out(self, message: Message) -> bool:
        """Tell whether a message comes too late; the library's own still take the screen down in order."""
        own = type(message).__module__.startswith(("textual.messages", "textual.events"))
        return self.is_gone and (isinstance(message, WORDS) or not own)
