"""A screen that closes once: whatever still comes for it is left out."""

from __future__ import annotations

from textual import events
from textual.await_complete import AwaitComplete
from textual.message import Message
from textual.screen import Screen, ScreenResultType

WORDS = (events.InputEvent, events.Paste, events.Callback)
"""Events that do something for the dyer; all others are the life of a widget."""


class Closing(Screen[ScreenResultType]):
    """The base of every screen and window."""

    _answer: tuple[ScreenResultType | None] | None = None
    """What it closes with as soon as nothing is in front of it."""

    @property
    def is_gone(self) -> bool:
        """Tell whether it stood once, and was closed."""
        return self.is_mounted and self not in self.app.screen_stack

    def dismiss(self, result: ScreenResultType | None = None) -> AwaitComplete:
        """Close, once; a screen that is covered closes when nothing is in front of it any more."""
        if not self.is_gone and self._answer is None:
            self._answer = (result,)
            if self.app.screen is self:
                return super().dismiss(result)
        return AwaitComplete()

    def on_screen_resume(self) -> None:
        """Close now, if that was asked for while something was in front."""
        if self._answer is not None and self.app.screen is self:
            super().dismiss(self._answer[0])

    async def _dispatch_message(self, message: Message) -> None:
        """Leave out what comes too late; the library's own messages still take it down in order."""
        own = type(message).__module__.startswith(("textual.messages", "textual.events"))
        if self.is_gone and (isinstance(message, WORDS) or not own):
            return
        await super()._dispatch_message(message)
