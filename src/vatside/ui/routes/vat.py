"""The ways to the screens about the vat, the dips and the day line, and beyond the day, from each other."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from vatside.bench import depths, vat_acts
from vatside.bench.vat_forms import ReadingDraft
from vatside.dayline.day_steps import STOCK_IN
from vatside.forms.fields import show
from vatside.log.fold import State
from vatside.log.state import TakenReading
from vatside.log.waits import Moment, seconds_between
from vatside.plan.measures import method_of
from vatside.plan.sheet import Stage
from vatside.storage.session_file import ReadOnly
from vatside.ui.widgets.entry import Entry
from vatside.vat.reading import PH_RANGE, Reading

if TYPE_CHECKING:
    from vatside.ui.base.session_screen import SessionScreen

FRESH_MIN = 15.0
"""A reading younger than this is added to where it is asked for; an older one gives way to a new one."""
NO_READING = "A reading is of the stock or of the vat: go to its stage first."
LET_GO = "This vat was let go; its account shows what was written down."


def is_lived_in(state: State) -> bool:
    """Tell whether there is a vat: its account runs, or its stock went in before there was one."""
    tending = state.tending
    return tending.account is not None or (STOCK_IN in state.done and tending.let_go is None)


def read_on(screen: SessionScreen, stage: Stage) -> None:
    """Open the form of a reading for what stands on the stove at a stage of the day."""
    state = screen.desk.state
    if screen.desk.keeping.readonly:
        screen.say(str(ReadOnly(screen.desk.keeping.readonly)))
    elif is_lived_in(state):
        _read(screen, "Reading of the vat", lambda reading: _of_vat(screen, reading))
    elif stage is Stage.STOCK:
        draft = ReadingDraft(_latest(screen), of_stock=True)
        _read(screen, "Reading of the stock", lambda reading: _of_stock(screen, reading), draft)
    elif state.tending.let_go is not None:
        screen.say(LET_GO)
    elif stage is Stage.VAT:
        _read(screen, "Reading before the stock is in", lambda reading: _before(screen, reading))
    else:
        screen.say(NO_READING)


def read_here(screen: SessionScreen) -> None:
    """Take a reading of the vat and stay on the screen that asked for it."""
    if is_lived_in(screen.desk.state):
        _read(screen, "Reading of the vat", lambda reading: _log(screen, reading))
    else:
        screen.say("There is no vat here to read.")


def add_to(screen: SessionScreen) -> None:
    """Open the form with the latest reading in it, if it was taken just now and nothing was done since; else empty."""
    state = screen.desk.state
    taken = _fresh(state, screen.desk.clock.now())
    if taken is None:
        read_on(screen, Stage.VAT)
        return
    latest = vat_acts.latest_entry(state)
    draft = ReadingDraft(taken.reading, taken.reading, latest)
    _read(screen, "The same reading, gone on with", lambda reading: _log(screen, reading, latest), draft)


def _fresh(state: State, now: Moment) -> TakenReading | None:
    tending = state.tending
    if not tending.readings or tending.made_since:
        return None
    taken = tending.readings[-1]
    return taken if seconds_between(taken.at, now) <= 60 * FRESH_MIN else None


def _read(
    screen: SessionScreen, title: str, saved: Callable[[Reading], None], draft: ReadingDraft | None = None
) -> None:
    from vatside.ui.vat.reading import ReadingScreen

    draft = draft or ReadingDraft(_latest(screen), cold=_is_cold(screen))
    screen.desk.settle()
    screen.app.push_screen(ReadingScreen(screen.desk, screen.signs, draft, title, saved))


def _is_cold(screen: SessionScreen) -> bool:
    return method_of(screen.desk.state.plan).vat.temperature_low <= PH_RANGE[1] + 1


def _latest(screen: SessionScreen) -> Reading:
    readings = screen.desk.state.tending.readings
    return readings[-1].reading if readings else Reading()


def _log(screen: SessionScreen, reading: Reading, replaces: int = 0) -> None:
    screen.perform(lambda: vat_acts.take_reading(screen.desk, reading, replaces))


def _of_vat(screen: SessionScreen, reading: Reading) -> None:
    _log(screen, reading)
    meaning(screen)


def _before(screen: SessionScreen, reading: Reading) -> None:
    def act() -> str:
        vat_acts.take_reading(screen.desk, reading)
        return "Written down. What it means is told once the stock is in: space on that step."

    screen.perform(act)


def _of_stock(screen: SessionScreen, reading: Reading) -> None:
    from vatside.ui.base.screens import ReadingWindow
    from vatside.ui.vat.finding_rows import stock_rows

    _log(screen, reading)
    desk = screen.desk
    screen.app.push_screen(ReadingWindow("The stock", lambda width: stock_rows(reading, desk.plan, desk.sheet, width)))


def meaning(screen: SessionScreen) -> None:
    """Show what the latest reading means."""
    from vatside.ui.vat.meaning import MeaningScreen

    if screen.desk.state.tending.let_go is not None:
        screen.say(LET_GO)
        return
    _show(screen, MeaningScreen(screen.desk, screen.signs))


def vat(screen: SessionScreen) -> None:
    """Show the vat's account and its history."""
    from vatside.ui.vat.account import VatScreen

    screen.desk.settle()
    _show(screen, VatScreen(screen.desk, screen.signs))


def spent(screen: SessionScreen) -> None:
    """Show the way to the end of the vat."""
    from vatside.ui.vat.spent import SpentScreen

    _show(screen, SpentScreen(screen.desk, screen.signs))


def _show(screen: SessionScreen, new: SessionScreen) -> None:
    """Show one screen about the vat; it takes the place of another one."""
    if screen.GIVES_WAY and screen.is_current:
        screen.app.switch_screen(new)
    else:
        screen.app.push_screen(new)


def board(screen: SessionScreen) -> None:
    """Show the dip board, or the one below; what was typed is logged first, for the board goes by the log."""
    from vatside.ui.dips.board import DipScreen

    _settle(screen)
    below = screen.app.screen_stack[-2:-1]
    if screen.is_current and any(isinstance(one, DipScreen) for one in below):
        screen.dismiss()
    else:
        _show(screen, DipScreen(screen.desk, screen.signs))


def _settle(screen: SessionScreen) -> None:
    """Log what was typed."""
    try:
        screen.desk.settle()
    except ReadOnly as reason:
        screen.say(str(reason))


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


def line(screen: SessionScreen) -> None:
    """Show the day line; what was typed is logged first, for it goes by the log."""
    from vatside.ui.line.screen import LineScreen

    _settle(screen)
    screen.app.push_screen(LineScreen(screen.desk, screen.signs))


def others(screen: SessionScreen) -> None:
    """Offer what reaches beyond the day."""
    from vatside.ui.routes import evening

    evening.others(screen)
