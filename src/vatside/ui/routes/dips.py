"""The ways to the screens about dips and depth, from the day's screen and from each other."""

from __future__ import annotations

from typing import TYPE_CHECKING

from vatside.bench.dips import depths
from vatside.forms.fields import show
from vatside.plan.sheet import Stage
from vatside.storage.session_file import ReadOnly
from vatside.ui.widgets.entry import Entry

if TYPE_CHECKING:
    from vatside.ui.base.waits_screen import Watching
    from vatside.ui.day.ways_out import Ways


def board(screen: Watching) -> None:
    """Show the dip board; what was typed is logged first, for the board goes by the log."""
    from vatside.ui.dips.board import DipScreen

    _settle(screen)
    screen.app.push_screen(DipScreen(screen.desk, screen.signs))


def _settle(screen: Watching) -> None:
    """Log what was typed."""
    try:
        screen.desk.settle()
    except ReadOnly as reason:
        screen.say(f"Reading only: {reason}.")


def on_key(day: Ways) -> None:
    """Show what `d` means on a stage: the board, or on the plan the ladder."""
    if day.stage is Stage.PLAN:
        ladder(day)
    else:
        board(day)


def ladder(day: Ways) -> None:
    """Show the ladder of depths for the lot in hand; what is chosen there becomes its depth."""
    from vatside.ui.dips.ladder import LadderWindow

    plan = day.desk.plan
    lot = next((lot for lot in plan.lots if lot.id == day.lot.get(Stage.PLAN)), plan.lots[0])

    def answered(found: tuple[str, str] | None) -> None:
        if found and found[1].strip():
            day.perform(lambda: depths.set_depth(day.desk, lot, found[1]))
            _write(day, depths.depth_path(lot.id))

    day.app.push_screen(LadderWindow(day.desk, day.signs, lot), answered)


def _write(day: Ways, path: str) -> None:
    """Put what was set into its field, which shows what was typed as long as it has the cursor."""
    for entry in day.query(Entry):
        if entry.path == path:
            entry.write(show(day.desk.plan, path))


def colour(screen: Watching, ident: str) -> None:
    """Record the colour that a piece, or a lot, came out with."""
    from vatside.ui.dips.ladder import ColourWindow

    def answered(found: tuple[str, str] | None) -> None:
        if found and found[1].strip():
            screen.perform(lambda: depths.record(screen.desk, *found))

    _settle(screen)
    screen.app.push_screen(ColourWindow(screen.desk, screen.signs, ident), answered)
