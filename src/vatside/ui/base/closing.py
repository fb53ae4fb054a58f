"""A screen that closes once, and whose keys stand in one table: whatever still comes for a closed one is left out."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.await_complete import AwaitComplete
from textual.message import Message
from textual.screen import Screen, ScreenResultType

from vatside.ui.base.keymap import COMMANDS, Sections, Table, bindings, help_rows, help_sections, key_row, shown
from vatside.ui.text.rows import Row

WORDS = (events.InputEvent, events.Paste, events.Callback)
"""Events that do something for the dyer; all others are the life of a widget."""


class Closing(Screen[ScreenResultType]):
    """The base of every screen and window."""

    KEYS: ClassVar[Table] = ()
    """The table of its keys."""
    WORDS: ClassVar[Sections] = ()
    """Signs and words that its help explains after the keys."""

    _answer: tuple[ScreenResultType | None] | None = None
    """What it closes with as soon as nothing is in front of it."""

    def __init_subclass__(cls, **inherit: bool) -> None:
        """Bind the keys of the table."""
        if "KEYS" in cls.__dict__:
            cls.BINDINGS = bindings(cls.KEYS)
        super().__init_subclass__(**inherit)

    @property
    def typing(self) -> int:
        """Tell what a letter is just now; the field that has the cursor knows."""
        return getattr(self.focused, "typing", COMMANDS)

    def key_row(self, width: int) -> Row:
        """Say which keys count just now."""
        return key_row(shown(self.KEYS, self), width)

    def action_help(self) -> None:
        """Explain the keys."""
        from vatside.ui.windows.words import ReadingWindow

        sections = (*help_sections(self.KEYS), *self.WORDS)
        self.app.push_screen(ReadingWindow("Keys", lambda width: help_rows(sections, width)))

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
