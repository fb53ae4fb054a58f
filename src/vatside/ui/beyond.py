"""What reaches beyond one live day: replay, repeat, compare, keep, the shelf, and days that cannot be worked in."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from attrs import evolve

from vatside.session.files import Fs
from vatside.session.flaws import SessionError
from vatside.session.loading import load
from vatside.session.session import Session
from vatside.session.state import fold
from vatside.ui import days
from vatside.ui.screens.standing import Standing
from vatside.ui.view.shelf import REPLAY

if TYPE_CHECKING:
    from textual.screen import Screen

    from vatside.recipe.plan import Plan
    from vatside.session.events import Event, PowderTaken
    from vatside.ui.app import VatsideApp
    from vatside.ui.desk import Desk

WAYS = (REPLAY,)
"""What `go` knows beside opening a day."""


def app_of(screen: Screen[Any]) -> VatsideApp:
    """Give the app that a screen belongs to."""
    from vatside.ui.app import VatsideApp

    assert isinstance(screen.app, VatsideApp)
    return screen.app


def go(app: VatsideApp, what: str, path: Path | None) -> None:
    """Do what was asked for."""
    if what == REPLAY and path is not None:
        replay(app, path)
    else:
        begin_new(app)


def session_at(app: VatsideApp, path: Path) -> Session | None:
    """Read a day, or take the one on the bench with all that is not on the disk yet; None once it is refused.

    What is known to be missing from it is said on the screen that shows it.
    """
    from vatside.session.reading_files import loaded_of, missing_from

    here = app.desk.keeping if app.desk else None
    if here is not None and here.path == path.resolve():
        return here.session
    try:
        loaded = loaded_of(path)
    except SessionError as error:
        refused(app, path, error)
        return None
    missing = missing_from(loaded)
    if missing:
        app.call_after_refresh(_say, app, f"{missing[0][:1].upper()}{missing[0][1:]}.")
    return loaded.session


def _say(app: VatsideApp, words: str) -> None:
    """Say a sentence on the first screen, and on the one that is in front of it."""
    app.opening.say(words)
    if isinstance(app.screen, Standing):
        app.screen.say(words, 20)


def plan_of(session: Session) -> Plan:
    """Give a day's plan as it stands at its end."""
    return fold(session).plan


def begin(app: VatsideApp, plan: Plan, *events: Event, words: str = "") -> None:
    """Begin a day with a plan and perhaps with what it comes from; what is on the bench is put away."""
    desk = days.new_day(app.folder, app.clock, titled(app, plan))
    if events:
        desk.log(*events)
    app.show_day(desk)
    if words and isinstance(app.screen, Standing):
        app.screen.say(words, 20)


def say_on_top(app: VatsideApp, words: str) -> None:
    """Say something on the screen that is in front."""
    if isinstance(app.screen, Standing):
        app.screen.say(words, 20)


def titles(app: VatsideApp) -> frozenset[str]:
    """Give what the days of the folder and the one on the bench are called."""
    from vatside.session.folder import list_sessions

    saved = app.opening.listed.saved
    cards = list_sessions(app.folder) if saved is None else saved
    here = [app.desk.plan.title] if app.desk and app.desk.keeping.path else []
    return frozenset([*(card.title for card in cards), *here])


def titled(app: VatsideApp, plan: Plan) -> Plan:
    """Give a plan for a new day a title that no other day has."""
    from vatside.session.across.titles import free_title

    return evolve(plan, title=free_title(plan.title, titles(app)))


def begin_new(app: VatsideApp) -> None:
    """Begin a day from nothing but what stands on the shelf."""
    from vatside.recipe.starter import starter_plan

    taken, asked = _from_shelf(app)
    desk = days.new_day(app.folder, app.clock, titled(app, starter_plan()), *taken)
    app.show_day(desk)
    if (taken or asked) and isinstance(app.screen, Standing):
        from vatside.session.loglines import words

        state = desk.state
        said = [*(f"{words(event, state)}." for event in taken), *(["u takes it back."] if taken else [])]
        app.screen.say(" ".join(filter(None, (*said, asked))), 20)


def _from_shelf(app: VatsideApp) -> tuple[tuple[PowderTaken, ...], str]:
    """Give what goes into a new plan from the shelf, and what the dyer must choose; nothing where there is no shelf."""
    path = app.folder.parent / "shelf.json"
    from vatside.session.files import is_there

    if not is_there(path):
        return (), ""
    from vatside.recipe.starter import starter_plan
    from vatside.session.shelf.agreement import from_shelf, undecided
    from vatside.session.shelf.store import ShelfFile

    plan, shelf_ = starter_plan(), ShelfFile(path).shelf
    return from_shelf(plan, shelf_), undecided(plan, shelf_)


def replay(app: VatsideApp, path: Path) -> None:
    """Play a day back."""
    session = session_at(app, path)
    if session is not None:
        play(app, session)


def play(app: VatsideApp, session: Session) -> None:
    """Play a day back that has been read."""
    from vatside.ui.replaying import ReplayDesk
    from vatside.ui.screens.replay import ReplayScreen

    app.push_screen(ReplayScreen(ReplayDesk(session, app.clock), app.signs))


def repeat(app: VatsideApp, path: Path) -> None:
    """Ask how a day is to be done again."""
    from vatside.session.across.own_uptake import learned_in
    from vatside.ui.repeating import Repeating
    from vatside.ui.screens.repeat import RepeatScreen

    session = session_at(app, path)
    if session is not None:
        app.push_screen(RepeatScreen(Repeating(session, titles(app), learned_in(app.folder)), app.signs))


def compare(app: VatsideApp, left: Path, right: Path) -> None:
    """Show two days side by side."""
    from vatside.ui.screens.compare import CompareScreen

    one, other = session_at(app, left), session_at(app, right)
    if one is not None and other is not None:
        app.push_screen(CompareScreen(one, other, app.signs))


def card(app: VatsideApp, path: Path) -> None:
    """Show what made the blue of a day."""
    session = session_at(app, path)
    if session is not None:
        show_card(app, session)


def show_card(app: VatsideApp, session: Session, other: Session | None = None) -> None:
    """Show what made a blue, or why two came out apart."""
    from vatside.session.across.card import blue_card
    from vatside.ui.screens.reading import ReadingWindow
    from vatside.ui.view.card import apart_rows, card_rows

    one = blue_card(session)
    if other is None:
        app.push_screen(ReadingWindow("What made this blue", lambda width: card_rows(one, width)))
        return
    two = blue_card(other)
    app.push_screen(ReadingWindow("The same blue?", lambda width: apart_rows(one, two, width)))


def carry_on(app: VatsideApp, path: Path) -> None:
    """Begin a day on a vat that was kept."""
    from vatside.chemistry.errors import OutOfRange
    from vatside.session.across.keep import carry_on as carried_on
    from vatside.session.across.keep import kept_lines

    session = session_at(app, path)
    if session is None:
        return
    try:
        carried = carried_on(session, app.clock.now())
    except OutOfRange as error:
        app.opening.say(str(error))
        return
    first, held, *_ = kept_lines(carried.event, app.clock.now())
    begin(app, carried.plan, carried.event, words=f"{first}. {held}. o and z show the rest.")


def shelf(app: VatsideApp, desk: Desk | None = None, plan: Plan | None = None) -> None:
    """Show what is on the shelf; for a day on the bench also what it uses."""
    from vatside.session.shelf.store import ShelfFile
    from vatside.ui.powders import Powders
    from vatside.ui.screens.powders import PowdersScreen

    file = ShelfFile(app.folder.parent / "shelf.json")
    app.push_screen(PowdersScreen(Powders(file, app.clock, desk, plan), app.signs))


def book(app: VatsideApp) -> str:
    """Book on the shelf what the day on the bench used, if there is a shelf; say what was booked."""
    from vatside.session.files import is_there
    from vatside.session.shelf.store import ShelfFile
    from vatside.ui.powders import Powders

    path = app.folder.parent / "shelf.json"
    if app.desk is None or app.desk.keeping.readonly or not is_there(path):
        return ""
    return Powders(ShelfFile(path), app.clock, app.desk).book()


# Days that cannot be worked in


def refused(app: VatsideApp, path: Path | None, error: SessionError) -> None:
    """Say that a day cannot be opened, what is wrong with it, and what can be done."""
    app.opening.say(f"{path.name}: {error.problems[0]}." if path else f"{error}")
    if path is None:
        return
    from vatside.ui.screens.trouble import TroubleWindow
    from vatside.ui.view.trouble import unreadable_rows

    app.push_screen(
        TroubleWindow("This day cannot be read", lambda width: unreadable_rows(path, error.problems, width))
    )


def say_damage(app: VatsideApp, desk: Desk) -> None:
    """Where the file of a day is damaged or too new: say what is wrong, and offer a copy to go on in."""
    path = desk.keeping.path
    damage = _damage(path) if path is not None and desk.keeping.readonly else ()
    if not damage:
        return
    from vatside.ui.screens.trouble import TroubleWindow
    from vatside.ui.view.trouble import COPY, damage_rows

    def answered(choice: str | None) -> None:
        if choice == COPY:
            go_on_in_copy(app, desk)

    entries = len(desk.state.entries)
    window = TroubleWindow(
        "Only to be looked at", lambda width: damage_rows(damage, entries, width), (("c", "go on in a copy", COPY),)
    )
    app.push_screen(window, answered)


def _damage(path: Path) -> tuple[str, ...]:
    try:
        return load(Fs(), path).damage
    except SessionError as error:
        return error.problems


def offer_day(app: VatsideApp, desk: Desk) -> None:
    """The other window on a day has closed: offer to go on in this one."""
    from vatside.ui.screens.trouble import TroubleWindow
    from vatside.ui.view.trouble import TAKE, free_rows

    def answered(choice: str | None) -> None:
        if choice == TAKE:
            take_day(app, desk)

    waits = len(desk.state.waits)
    window = TroubleWindow(
        "The other window has closed", lambda width: free_rows(waits, width), (("t", "go on here", TAKE),)
    )
    app.push_screen(window, answered)


def take_day(app: VatsideApp, desk: Desk) -> None:
    """Go on with a day that could only be looked at, at the steps of the stage that is on the screen."""
    from vatside.ui.screens.day import DayScreen, Hand

    path, stage = desk.keeping.path, next((one.stage for one in app.screen_stack if isinstance(one, DayScreen)), None)
    if path is None:
        return
    try:
        opened = days.open_day(path, app.clock)
    except SessionError as error:
        app.opening.say(str(error))
        return
    app.show_day(opened)
    screen = app.screen
    if isinstance(screen, DayScreen):
        screen.say(opened.keeping.opening_words(app.clock.now()) or "The day goes on here.")
        screen.call_after_refresh(screen.take, Hand.DO)
        if stage is not None and stage in opened.stages():
            screen.call_after_refresh(screen.go, stage)


def go_on_in_copy(app: VatsideApp, desk: Desk) -> None:
    """Write what could be read of a day into a file of its own, and go on there."""
    try:
        copied = days.copy_day(desk.keeping.session, app.folder, app.clock)
    except SessionError as error:
        app.opening.say(str(error))
        return
    app.show_day(copied)
