"""What screens and routes know of the app."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from textual.app import App

if TYPE_CHECKING:
    from pathlib import Path

    from textual.screen import Screen

    from vatside.bench.desk import Desk
    from vatside.bench.second_window import Second
    from vatside.clocks.clock import Clock
    from vatside.ui.base.full_screen import FullScreen
    from vatside.ui.base.routes import Routes
    from vatside.ui.text.signs import Signs


class Host(App[None], inherit_bindings=False):
    """The day on the bench, its clock and folder, and the ways to other screens."""

    folder: Path
    """Where the sessions are."""
    signs: Signs
    desk: Desk | None
    second: Second | None
    """Looks what another window does with the day, where it can only be looked at."""

    @property
    def routes(self) -> Routes:
        """The ways to other screens."""
        raise NotImplementedError

    @property
    def clock(self) -> Clock:
        """The clock that was handed in, or the machine's."""
        raise NotImplementedError

    @property
    def opening(self) -> FullScreen:
        """The first screen, under all others."""
        raise NotImplementedError

    def show_day(self, desk: Desk) -> None:
        """Put a day on the bench, alone on the screen."""
        raise NotImplementedError


def host_of(screen: Screen[Any]) -> Host:
    """Give the app that a screen belongs to."""
    assert isinstance(screen.app, Host)
    return screen.app
