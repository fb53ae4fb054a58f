"""The ways to the day's screen: a day put on the bench, the day again after a fault, a copy of one that is damaged."""

from __future__ import annotations

import linecache
from pathlib import Path
from typing import TYPE_CHECKING

from vatside.bench import open_day
from vatside.storage.files import Fs
from vatside.storage.flaws import SessionError
from vatside.storage.loading import load
from vatside.ui.base.keymap import Key

if TYPE_CHECKING:
    from vatside.bench.desk import Desk
    from vatside.ui.base.host import Host


IN_A_COPY = Key("c", "", "go on in a copy", "a new file with what is here; it can be changed", means="carry on")


def show(app: Host, desk: Desk) -> None:
    """Put a day on the bench, alone on the screen, and ask what opening it left open."""
    from vatside.ui.day.body import Hand
    from vatside.ui.day.screen import DayScreen

    # The source of every method that attrs generated is kept there for a debugger: a megabyte.
    linecache.clearcache()
    is_new = desk is not app.desk
    if is_new:
        app.take_on_bench(desk)
    while len(app.screen_stack) > 1:
        app.pop_screen()
    screen = DayScreen(desk, app.signs, desk.keeping.opening_words(app.clock.now()))
    if not is_new or desk.keeping.reopened:
        screen.body.hand = Hand.DO  # of a day she comes back to, the first key is a command and no letter of its name
    app.push_screen(screen)
    if is_new:
        say_damage(app, desk)
        _ask_what_the_clocks_cannot_tell(app, desk)


def _ask_what_the_clocks_cannot_tell(app: Host, desk: Desk) -> None:
    """Ask how long a day stood while the clock was set back."""
    from vatside.clocks.watch import ClockSetBack

    if isinstance(desk.keeping.gap, ClockSetBack) and not desk.keeping.readonly:
        from vatside.ui.windows.gap import ask_gap

        ask_gap(app, desk, desk.keeping.gap)


def come_back(app: Host, words: str, *, plainly: bool) -> None:
    """After a fault: take every screen away, and show the day again with a sentence, or `plainly` the list of days."""
    stood = app.screen_stack[1] if len(app.screen_stack) > 1 else None
    while len(app.screen_stack) > 1:
        app.pop_screen()
    if not all(node.is_running for node in (app.opening, *app.opening.walk_children())):
        app.switch_screen(app.get_default_screen())
    app.opening.say(words)
    if app.desk is not None and not plainly:
        _show_again(app, app.desk, stood, words)


def _show_again(app: Host, desk: Desk, stood: object, words: str) -> None:
    """Show a day as it stood before, without what was open over it."""
    from vatside.ui.day.screen import DayScreen

    put_down, desk.put_down = desk.put_down, None
    if put_down is not None:
        put_down()
    day = DayScreen(desk, app.signs, words)
    if isinstance(stood, DayScreen) and stood.desk is desk and stood.stage in desk.stages():
        day.stage, day.body.hand = stood.stage, stood.hand
    app.push_screen(day)


def say_damage(app: Host, desk: Desk) -> None:
    """Where the file of a day is damaged or too new: say what is wrong, and offer a copy to go on in."""
    path = desk.keeping.path
    damage = _damage(path) if path is not None and desk.keeping.readonly else ()
    if not damage:
        return
    from vatside.ui.text.trouble_rows import COPY, damage_rows
    from vatside.ui.windows.trouble import TroubleWindow

    def answered(choice: str | None) -> None:
        if choice == COPY:
            go_on_in_copy(app, desk)

    entries = len(desk.state.entries)
    window = TroubleWindow(
        "Only to be looked at", lambda width: damage_rows(damage, entries, width), ((IN_A_COPY, COPY),)
    )
    app.push_screen(window, answered)


def _damage(path: Path) -> tuple[str, ...]:
    try:
        return load(Fs(), path).damage
    except SessionError as error:
        return error.problems


def go_on_in_copy(app: Host, desk: Desk) -> None:
    """Write what could be read of a day into a file of its own, and go on there."""
    try:
        copied = open_day.copy_day(desk.keeping.session, app.folder, app.clock)
    except SessionError as error:
        app.opening.say(str(error))
        return
    show(app, copied)
