"""The ways to the day's screen, also after a fault, and for days that cannot be worked in."""

from __future__ import annotations

import linecache
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from vatside.bench import open_day
from vatside.clocks.clock import ClockSetBack
from vatside.storage.files import Fs
from vatside.storage.flaws import SessionError
from vatside.storage.session_text import load
from vatside.ui.base.keymap import Key
from vatside.ui.day.body import Hand
from vatside.ui.day.screen import DayScreen
from vatside.ui.text.rows import BLANK, Row, Span, hanging, row
from vatside.units.show import clean, told

if TYPE_CHECKING:
    from vatside.bench.desk import Desk
    from vatside.ui.base.host import Host


def damage_rows(damage: Sequence[str], entries: int, width: int) -> tuple[Row, ...]:
    """Say what is wrong with a file of which something could be read."""
    things = "1 entry of its log" if entries == 1 else f"{entries} entries of its log"
    can = (
        f"Its plan and {things} could be read and can be looked at. The file is left as it is. "
        "c writes what could be read into a new file, and the day goes on there."
    )
    return (*_wrong(damage, width), BLANK, row(Span("What can be done", "head")), *_said(can, width))


def free_rows(waits: int, width: int) -> tuple[Row, ...]:
    """Say that nobody writes into a day any more, and what that means."""
    rings = "Its waits go on; from here on they ring in this window only if the day goes on here."
    words = "The window in which this day was worked in has closed. Here it can only be looked at so far."
    return (*_said(words, width), *(_said(rings, width) if waits else ()))


def unreadable_rows(path: Path, problems: Sequence[str], width: int) -> tuple[Row, ...]:
    """Say what is wrong with a file of which nothing could be read, and there is no backup either."""
    can = (
        "Nothing of it can be shown, and it has no backup that could be. The file is left as it is: "
        f"{clean(str(path))}. A copy of it from elsewhere may be whole; a new day can be begun with a."
    )
    return (*_wrong(problems, width), BLANK, row(Span("What can be done", "head")), *_said(can, width))


def _wrong(problems: Sequence[str], width: int) -> tuple[Row, ...]:
    rows = [row(Span("What is wrong", "head"))]
    for problem in problems:
        rows += _said(f"{told(clean(problem))}.".replace("..", "."), width, "care")
    return tuple(rows)


def _said(text: str, width: int, role: str = "") -> list[Row]:
    return hanging((Span("· ", role),), text, width, role)


IN_A_COPY = Key("c", "", "go on in a copy", "a new file with what is here; it can be changed", means="carry on")


def show(app: Host, desk: Desk) -> None:
    """Put a day on the bench, alone on the screen, and ask what opening it left open."""
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
    if isinstance(desk.keeping.gap, ClockSetBack) and not desk.keeping.readonly:
        from vatside.ui.windows.questions import ask_gap

        ask_gap(app, desk, desk.keeping.gap)


def come_back(app: Host, words: str, *, plainly: bool) -> None:
    """After a fault: take every screen away, and show the day again with a sentence, or `plainly` the list of days."""
    stood = app.screen_stack[1] if len(app.screen_stack) > 1 else None
    while len(app.screen_stack) > 1:
        app.pop_screen()
    if not all(node.is_running for node in (app.opening, *app.opening.walk_children())):
        # The library takes an asker away with each screen, and puts the first one up without any.
        app.opening._push_result_callback(app.opening, None)
        app.switch_screen(app.get_default_screen())
    app.opening.say(words)
    if app.desk is not None and not plainly:
        _show_again(app, app.desk, stood, words)


def _show_again(app: Host, desk: Desk, stood: object, words: str) -> None:
    """Show a day as it stood before, without what was open over it."""
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
    from vatside.ui.windows.ask import tell_trouble

    entries, choice = len(desk.state.entries), (IN_A_COPY, lambda: go_on_in_copy(app, desk))
    tell_trouble(app, "Only to be looked at", lambda width: damage_rows(damage, entries, width), choice)


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


HERE = Key("y", "", "go on here", "the other window has closed; this one writes from now on", means="yes")


def refused(app: Host, path: Path | None, error: SessionError) -> None:
    """Say that a day cannot be opened, what is wrong with it, and what can be done."""
    app.opening.say(f"{path.name}: {error.problems[0]}." if path else f"{error}")
    if path is None:
        return
    from vatside.ui.windows.ask import tell_trouble

    tell_trouble(app, "This day cannot be read", lambda width: unreadable_rows(path, error.problems, width))


def offer_day(app: Host, desk: Desk) -> None:
    """The other window on a day has closed: offer to go on in this one."""
    from vatside.ui.windows.ask import tell_trouble

    waits, choice = len(desk.state.waits), (HERE, lambda: take_day(app, desk))
    tell_trouble(app, "The other window has closed", lambda width: free_rows(waits, width), choice)


def take_day(app: Host, desk: Desk) -> None:
    """Go on with a day that could only be looked at, at the steps of the stage that is on the screen."""
    path, stage = (
        desk.keeping.path,
        next((shown.stage for shown in app.screen_stack if isinstance(shown, DayScreen)), None),
    )
    if path is None:
        return
    try:
        opened = open_day.open_day(path, app.clock)
    except SessionError as error:
        app.opening.say(str(error))
        return
    show(app, opened)
    screen = app.screen
    if isinstance(screen, DayScreen):
        screen.say(opened.keeping.opening_words(app.clock.now()) or "The day goes on here.")
        screen.call_after_refresh(screen.take, Hand.DO)
        if stage is not None and stage in opened.stages():
            screen.call_after_refresh(screen.go, stage)
