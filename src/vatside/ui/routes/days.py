"""What reaches beyond one live day: replay, repeat, compare, keep, the shelf."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from attrs import evolve

from vatside.bench import open_day
from vatside.chemistry.errors import OutOfRange
from vatside.log.state import Session
from vatside.plan.starter import starter_plan
from vatside.storage.files import is_there
from vatside.storage.flaws import SessionError
from vatside.storage.folder import list_sessions
from vatside.storage.places import guided_day
from vatside.storage.session_text import loaded_of, missing_from
from vatside.ui.base.screens import ReadingWindow
from vatside.ui.day.screen import DayScreen
from vatside.ui.opening.screen import OpeningScreen
from vatside.ui.routes import day
from vatside.ui.routes.day import refused
from vatside.units.show import told

if TYPE_CHECKING:
    from vatside.bench.desk import Desk
    from vatside.bench.replay_desk import ReplayDesk
    from vatside.log.events.day import Event, PowderTaken
    from vatside.plan.plan import Plan
    from vatside.ui.base.host import Host
    from vatside.ui.opening.rows import Listed
    from vatside.ui.past.playback import Playback

SHELF = "shelf.json"
"""The file of the shelf, beside the sessions."""


def session_at(app: Host, path: Path) -> Session | None:
    """Read a day, or take the one on the bench with all that is not on the disk yet; None once it is refused.

    What is known to be missing from it is said on the screen that shows it.
    """
    on_bench = app.desk.keeping if app.desk else None
    if on_bench is not None and on_bench.path == path.resolve():
        return on_bench.session
    try:
        loaded = loaded_of(path)
    except SessionError as error:
        refused(app, path, error)
        return None
    missing = missing_from(loaded)
    if missing:
        app.call_after_refresh(_say, app, f"{told(missing[0])}.")
    return loaded.session


def _say(app: Host, words: str) -> None:
    """Say a sentence on the first screen, and on the one that is in front of it."""
    app.opening.say(words)
    app.say(words)


def begin(app: Host, plan: Plan, *events: Event, words: str = "") -> None:
    """Begin a day with a plan and perhaps with what it comes from; what is on the bench is put away."""
    from vatside.days.repeat import on_its_day

    plan = on_its_day(plan, app.clock.now().utc)
    desk = open_day.new_day(app.folder, app.clock, titled(app, plan))
    if events:
        desk.log(*events)
    day.show(app, desk)
    if words:
        app.say(words)


def listed(app: Host) -> Listed:
    """Give what stands on the list of days."""
    assert isinstance(app.opening, OpeningScreen)
    return app.opening.listed


def titles(app: Host) -> frozenset[str]:
    """Give what the days of the folder and the one on the bench are called."""
    saved = listed(app).saved
    cards = list_sessions(app.folder) if saved is None else saved
    on_bench = [app.desk.plan.title] if app.desk and app.desk.keeping.path else []
    return frozenset([*(card.title for card in cards), *on_bench])


def titled(app: Host, plan: Plan) -> Plan:
    """Give a plan for a new day a title that no other day has."""
    from vatside.days.repeat import free_title

    return evolve(plan, title=free_title(plan.title, titles(app)))


def begin_new(app: Host) -> None:
    """Begin a day from nothing but what stands on the shelf."""
    taken, asked = _from_shelf(app)
    desk = open_day.new_day(app.folder, app.clock, titled(app, starter_plan()), *taken)
    day.show(app, desk)
    if taken or asked:
        from vatside.log.words.day import words

        state = desk.state
        sentences = [*(f"{words(event, state)}." for event in taken), *(["u takes it back."] if taken else [])]
        app.say(" ".join(filter(None, (*sentences, asked))))


def _from_shelf(app: Host) -> tuple[tuple[PowderTaken, ...], str]:
    """Give what goes into a new plan from the shelf, and what the dyer must choose; nothing where there is no shelf."""
    path = app.data_folder / SHELF
    if not is_there(path):
        return (), ""
    from vatside.shelf.plan_and_bag import from_shelf, undecided
    from vatside.shelf.shelf_file import ShelfFile

    plan, shelf_ = starter_plan(), ShelfFile(path).shelf
    return from_shelf(plan, shelf_), undecided(plan, shelf_)


def replay(app: Host, path: Path) -> None:
    """Play a day back."""
    session = session_at(app, path)
    if session is not None:
        play(app, session)


def play(app: Host, session: Session) -> None:
    """Play a day back that has been read."""
    from vatside.bench.replay_desk import ReplayDesk
    from vatside.ui.past.playback import Playback

    _watch(app, ReplayDesk(session, app.clock), Playback)


def guide(app: Host) -> None:
    """Show a whole day, stop by stop."""
    from vatside.bench.replay_desk import GuidedDesk
    from vatside.ui.past.playback import Guided

    session = session_at(app, guided_day())
    if session is not None:
        _watch(app, GuidedDesk(session, app.clock), Guided)


def _watch(app: Host, desk: ReplayDesk, course: type[Playback]) -> None:
    watched = course(desk, app.signs, lambda: app.desk, lambda plan: begin(app, plan))
    app.push_screen(DayScreen(desk, app.signs, course=watched))


def repeat(app: Host, path: Path) -> None:
    """Ask how a day is to be done again."""
    from vatside.days.lots import learned_in
    from vatside.days.repeat_choices import Repeating
    from vatside.ui.past.repeat import RepeatScreen

    session = session_at(app, path)
    if session is not None:
        choice = Repeating(session, titles(app), learned_in(app.folder))
        app.push_screen(RepeatScreen(choice, app.signs, lambda plan: begin(app, plan)))


def compare(app: Host, left: Path, right: Path) -> None:
    """Show two days side by side."""
    from vatside.ui.past.compare import CompareScreen

    one, other = session_at(app, left), session_at(app, right)
    if one is not None and other is not None:
        app.push_screen(CompareScreen(one, other, app.signs))


def card(app: Host, path: Path) -> None:
    """Show what made the blue of a day."""
    session = session_at(app, path)
    if session is not None:
        show_card(app, session)


def show_card(app: Host, session: Session) -> None:
    """Show what made a blue."""
    from vatside.days.day_record import day_record
    from vatside.ui.past.compare import card_rows

    day = day_record(session)
    app.push_screen(ReadingWindow("What made this blue", lambda width: card_rows(day, width)))


def carry_on(app: Host, path: Path) -> None:
    """Begin a day on a vat that was kept."""
    from vatside.days.keep_vat import carry_on as carried_on
    from vatside.days.keep_vat import kept_lines

    session = session_at(app, path)
    if session is None:
        return
    try:
        carried = carried_on(session, app.clock.now())
    except OutOfRange as error:
        app.opening.say(str(error))
        return
    first, held, *_ = kept_lines(carried.event, app.clock.now())
    begin(app, carried.plan, carried.event, words=f"{first}. {held}. o and l show the rest.")


def shelf(app: Host, desk: Desk | None = None, session: Session | None = None) -> None:
    """Show what is on the shelf; for a day on the bench also what it uses."""
    from vatside.bench.shelf_desk import ShelfDesk
    from vatside.shelf.shelf_file import ShelfFile
    from vatside.ui.shelf.screen import ShelfScreen

    file = ShelfFile(app.data_folder / SHELF)
    app.push_screen(ShelfScreen(ShelfDesk(file, app.clock, desk, session), app.signs))


def back_to_list(app: Host) -> None:
    """Go back to the list of days, with the cursor on the day one comes from; say what was booked on the shelf."""
    app.pop_screen()
    app.opening.say(book(app))
    if app.desk is not None and app.desk.keeping.path is not None:
        assert isinstance(app.opening, OpeningScreen)
        app.opening.choose(app.desk.keeping.path)


def book(app: Host) -> str:
    """Book on the shelf what the day on the bench used, if there is a shelf; say what was booked."""
    from vatside.bench.shelf_desk import ShelfDesk
    from vatside.shelf.shelf_file import ShelfFile

    path = app.data_folder / SHELF
    if app.desk is None or app.desk.keeping.readonly or not is_there(path):
        return ""
    return ShelfDesk(ShelfFile(path), app.clock, app.desk).book()
