"""The ways to the screens about dips and depth, from the day's screen and from each other."""

from __future__ import annotations

from typing import TYPE_CHECKING

from vatside.recipe.sheet import Stage
from vatside.session.store import ReadOnly
from vatside.ui import depths

if TYPE_CHECKING:
    from vatside.ui.screens.watching import Watching
    from vatside.ui.screens.ways import Ways


def board(screen: Watching) -> None:
    """Show the dip board; what was typed is logged first, for the board goes by the log."""
    from vatside.ui.screens.dip_board import DipScreen

    try:
        screen.desk.settle()
    except ReadOnly as reason:
        screen.say(f"Reading only: {reason}.")
    screen.app.push_screen(DipScreen(screen.desk, screen.signs))


def on_key(day: Ways) -> None:
    """Show what `d` means on a stage: the board, or on the plan the ladder."""
    if day.stage is Stage.PLAN:
        ladder(day)
    else:
        board(day)


def ladder(day: Ways) -> None:
    """Show the ladder of depths for the lot in hand; what is chosen there becomes its depth."""
    from vatside.ui.screens.dip_ladder import LadderWindow

    plan = day.desk.plan
    lot = next((lot for lot in plan.lots if lot.id == day.lot.get(Stage.PLAN)), plan.lots[0])

    def answered(found: tuple[str, str] | None) -> None:
        if found and found[1].strip():
            day.perform(lambda: depths.set_depth(day.desk, lot, found[1]))

    day.app.push_screen(LadderWindow(day.desk, day.signs, lot), answered)


def colour(screen: Watching, ident: str) -> None:
    """Record the colour that a piece, or a lot, came out with."""
    from vatside.ui.screens.dip_ladder import ColourWindow

    def answered(found: tuple[str, str] | None) -> None:
        if found and found[1].strip():
            screen.perform(lambda: depths.record(screen.desk, *found))

    screen.desk.settle()
    screen.app.push_screen(ColourWindow(screen.desk, screen.signs, ident), answered)
