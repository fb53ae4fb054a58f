"""Days that cannot be worked in: said in words, and gone on with in a copy or once another window has closed."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from vatside.bench import open_day
from vatside.storage.flaws import SessionError
from vatside.ui.base.keymap import Key
from vatside.ui.routes import day

if TYPE_CHECKING:
    from vatside.bench.desk import Desk
    from vatside.ui.base.host import Host


HERE = Key("y", "", "go on here", "the other window has closed; this one writes from now on", means="yes")


def refused(app: Host, path: Path | None, error: SessionError) -> None:
    """Say that a day cannot be opened, what is wrong with it, and what can be done."""
    app.opening.say(f"{path.name}: {error.problems[0]}." if path else f"{error}")
    if path is None:
        return
    from vatside.ui.text.trouble_rows import unreadable_rows
    from vatside.ui.windows.trouble import TroubleWindow

    app.push_screen(
        TroubleWindow("This day cannot be read", lambda width: unreadable_rows(path, error.problems, width))
    )


def offer_day(app: Host, desk: Desk) -> None:
    """The other window on a day has closed: offer to go on in this one."""
    from vatside.ui.text.trouble_rows import TAKE, free_rows
    from vatside.ui.windows.trouble import TroubleWindow

    def answered(choice: str | None) -> None:
        if choice == TAKE:
            take_day(app, desk)

    waits = len(desk.state.waits)
    window = TroubleWindow("The other window has closed", lambda width: free_rows(waits, width), ((HERE, TAKE),))
    app.push_screen(window, answered)


def take_day(app: Host, desk: Desk) -> None:
    """Go on with a day that could only be looked at, at the steps of the stage that is on the screen."""
    from vatside.ui.day.body import Hand
    from vatside.ui.day.screen import DayScreen

    path, stage = desk.keeping.path, next((one.stage for one in app.screen_stack if isinstance(one, DayScreen)), None)
    if path is None:
        return
    try:
        opened = open_day.open_day(path, app.clock)
    except SessionError as error:
        app.opening.say(str(error))
        return
    day.show(app, opened)
    screen = app.screen
    if isinstance(screen, DayScreen):
        screen.say(opened.keeping.opening_words(app.clock.now()) or "The day goes on here.")
        screen.call_after_refresh(screen.take, Hand.DO)
        if stage is not None and stage in opened.stages():
            screen.call_after_refresh(screen.go, stage)
