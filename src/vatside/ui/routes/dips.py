"""The ways to the screens about dips and depth, from the day's screen and from each other."""

from __future__ import annotations

from typing import TYPE_CHECKING

from vatside.bench import depths
from vatside.forms.fields import show
from vatside.storage.session_file import ReadOnly
from vatside.ui.widgets.entry import Entry

if TYPE_CHECKING:
    from vatside.ui.base.session_screen import SessionScreen


def board(screen: SessionScreen) -> None:
    """Show the dip board; what was typed is logged first, for the board goes by the log."""
    from vatside.ui.dips.board import DipScreen

    _settle(screen)
    screen.app.push_screen(DipScreen(screen.desk, screen.signs))


def _settle(screen: SessionScreen) -> None:
    """Log what was typed."""
    try:
        screen.desk.settle()
    except ReadOnly as reason:
        screen.say(f"Reading only: {reason}.")


def ladder(screen: SessionScreen, lot: str) -> None:
    """Show the ladder of depths for a lot, or else for the first one; what is chosen there becomes its depth."""
    from vatside.ui.dips.ladder import LadderWindow

    lots = screen.desk.plan.lots
    of = next((item for item in lots if item.id == lot), lots[0])

    def answered(answer: tuple[str, str] | None) -> None:
        if answer and answer[1].strip():
            screen.perform(lambda: depths.set_depth(screen.desk, of, answer[1]))
            _write(screen, depths.depth_path(of.id))

    screen.app.push_screen(LadderWindow(screen.desk, screen.signs, of), answered)


def _write(screen: SessionScreen, path: str) -> None:
    """Put what was set into its field, which shows what was typed as long as it has the cursor."""
    for entry in screen.query(Entry):
        if entry.path == path:
            entry.write(show(screen.desk.plan, path))


def colour(screen: SessionScreen, ident: str) -> None:
    """Record the colour that a piece, or a lot, came out with."""
    from vatside.ui.dips.ladder import ColourWindow

    def answered(answer: tuple[str, str] | None) -> None:
        if answer and answer[1].strip():
            screen.perform(lambda: depths.record(screen.desk, *answer))

    _settle(screen)
    screen.app.push_screen(ColourWindow(screen.desk, screen.signs, ident), answered)
