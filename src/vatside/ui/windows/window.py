"""A small window over a screen; leaving works from here as well."""

from __future__ import annotations

from typing import ClassVar

from textual.await_complete import AwaitComplete
from textual.binding import BindingType
from textual.message import Message
from textual.screen import ModalScreen, ScreenResultType

from vatside.ui.base.closing import Closing
from vatside.ui.base.common_keys import LEAVE
from vatside.ui.base.keymap import Table, bindings, key_row, shown
from vatside.ui.text.rows import Row

MOST = 50
"""Columns of keys that the edge of the smallest window takes."""


class Window(ModalScreen[ScreenResultType]):
    """The base of all windows: Textual lets no key of the app itself through to one."""

    BINDINGS: ClassVar[list[BindingType]] = bindings(LEAVE)

    KEYS: Table = ()
    """Its keys beside those, all of them in one table."""

    def __init_subclass__(cls, **inherit: bool) -> None:
        """Bind the keys of its table."""
        if "KEYS" in cls.__dict__:
            cls.BINDINGS = bindings(cls.KEYS)
        super().__init_subclass__(**inherit)

    def __init__(self) -> None:
        super().__init__()
        self._once: Closing[ScreenResultType] = Closing(self, super().dismiss)

    def dismiss(self, result: ScreenResultType | None = None) -> AwaitComplete:
        """Close, once."""
        return self._once.close(result)

    def on_screen_resume(self) -> None:
        """Close now, if that was asked for while another window was in front."""
        self._once.resumed()

    async def _dispatch_message(self, message: Message) -> None:
        """Leave out what comes too late."""
        if not self._once.leaves_out(message):
            await super()._dispatch_message(message)

    def key_row(self, width: int) -> Row:
        """Say which keys count just now."""
        return key_row(shown(self.KEYS, self), width)

    @property
    def key_words(self) -> str:
        """Say the same on the edge of the window."""
        return self.key_row(MOST).text.strip()
