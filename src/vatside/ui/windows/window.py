"""A small window over a screen; leaving works from here as well."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.screen import ModalScreen, ScreenResultType

from vatside.ui.base.closing import Closing

MOST = 50
"""Columns of keys that the edge of the smallest window takes."""


class Window(ModalScreen[ScreenResultType], Closing[ScreenResultType]):
    """The base of all windows: Textual lets no key of the app itself through to one."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+q", "app.leave", show=False),
        Binding("ctrl+z", "app.suspend_process", show=False),
    ]

    @property
    def key_words(self) -> str:
        """Say on the edge of the window which keys count."""
        return self.key_row(MOST).text.strip()
