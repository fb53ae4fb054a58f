"""The way to the day line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from vatside.storage.session_file import ReadOnly

if TYPE_CHECKING:
    from vatside.ui.base.session_screen import SessionScreen


def line(screen: SessionScreen) -> None:
    """Show the day line; what was typed is logged first, for it goes by the log."""
    from vatside.ui.line.screen import LineScreen

    try:
        screen.desk.settle()
    except ReadOnly as reason:
        screen.say(f"Reading only: {reason}.")
    screen.app.push_screen(LineScreen(screen.desk, screen.signs))
