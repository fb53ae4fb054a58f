"""A small window over a screen; leaving works from here as well."""

from __future__ import annotations

from typing import ClassVar

from textual.await_complete import AwaitComplete
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.screen import ModalScreen, ScreenResultType

from vatside.ui.base.closing import Closing


class Window(ModalScreen[ScreenResultType]):
    """The base of all windows: Textual lets no key of the app itself through to one."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+q", "app.leave", show=False),
        Binding("ctrl+z", "app.suspend_process", show=False),
    ]

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
