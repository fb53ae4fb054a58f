"""The full-screen app: it wires, looks at the clock four times a second, and leaves without losing anything."""

from __future__ import annotations

import gc
import linecache
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import App
from textual.binding import BindingType
from textual.filter import LineFilter
from textual.screen import ModalScreen

from vatside.ui.base.host import Host
from vatside.ui.base.keymap import LEAVE, bindings
from vatside.ui.guard import GuardedApp
from vatside.ui.opening.rows import SAVED
from vatside.ui.opening.screen import OpeningScreen
from vatside.ui.text.rows import Signs, signs_for
from vatside.ui.theme.choice import Looks, line_filters

if TYPE_CHECKING:
    from vatside.bench.desk import Desk
    from vatside.bench.ticker import Beat, DayFollower
    from vatside.clocks.clock import Clock, Stepped
    from vatside.ui.base.session_screen import Routes


def _routes() -> Routes:
    """Give the ways from screen to screen, which are imported when a key first asks for one."""
    from vatside.ui.routes import vat

    return vat


EVERY = 0.25
"""Seconds between two looks at the clock."""
MADE_BEFORE_SEARCH = 20_000
"""What is made, and not let go, before it is searched for rings of values: a key makes thousands that hold none, and
seven searches in each would be a twentieth of its time. Ours, measured."""
IDLE = 120.0
"""Seconds without a key after which the far view comes up for what is due: she is elsewhere. Ours, no source."""


class Heartbeat:
    """Looks at the clock for the whole app: alarms ring below whatever screen stands."""

    def __init__(self, app: Host, offer: Callable[[Desk], None]) -> None:
        """`offer` lets the dyer go on with a day that another window has left."""
        self._app = app
        self._offer = offer

    def beat(self) -> None:
        """Look at the clocks; without a day on the bench the screen in front shows the hour."""
        app = self._app
        if not app.is_running:  # the timer outlives the screens by a moment
            return
        if app.ticker is None or app.desk is None:
            for screen in app.full_screens[-1:]:
                screen.tick(app.clock.now())
            return
        self.take(app.ticker.beat(), app.desk)

    def take(self, beat: Beat, desk: Desk) -> None:
        """Ring, ask, say and show what one look at the clocks brought."""
        app = self._app
        if beat.ring:
            app.bell()
        trouble = app.notice_alarms("bench", beat.ringing)
        if trouble:
            app.say(trouble)
        if beat.ask:
            self._ask(desk, beat.ask)
        if app.second is not None:
            self._look_at(app.second)
        if beat.words:  # what happened meanwhile is told first, to whoever woke the machine
            app.input_at = beat.now.elapsed
        self._come_up(beat.now.elapsed, desk)
        self._show(beat)

    def _come_up(self, now: float, desk: Desk) -> None:
        """Show the waits large by itself, once something is due and nobody is at the keys."""
        from vatside.ui.base.session_screen import SessionScreen  # late: it brings a day's rooms along

        front = self._app.screen
        if now - self._app.input_at < IDLE or not isinstance(front, SessionScreen) or front.SEEN_FROM_AFAR:
            return
        if desk.keeping.readonly or front.desk is not desk:  # another day is played back in front
            return
        if any(wait.ringing for wait in desk.waits(desk.clock.now())):
            from vatside.ui.day.far_view import FarScreen

            self._app.push_screen(FarScreen(desk, front.signs, by_itself=True))

    def _ask(self, desk: Desk, happening: Stepped) -> None:
        """Ask what the clocks cannot tell."""
        from vatside.ui.windows.questions import ask_gap

        ask_gap(self._app, desk, happening)

    def _look_at(self, second: DayFollower) -> None:
        """Show what the other window did; once it has closed, offer to go on here: nothing else would ring."""
        if second.look():
            self._app.full_screens[-1].renew()
        if second.free and not second.asked and not isinstance(self._app.screen, ModalScreen):
            second.asked = True
            self._app.bell()
            self._offer(second.desk)

    def _show(self, beat: Beat) -> None:
        """Let every screen say what happened meanwhile, and the one in front show the clock."""
        screens = self._app.full_screens
        for screen in screens if beat.words else ():
            screen.say(beat.words, 30)
        for screen in screens[-1:]:
            screen.tick(beat.now)


class VatsideApp(GuardedApp, inherit_bindings=False):
    """One window on the sessions of a folder."""

    CSS_PATH = "style.tcss"
    TITLE = "Vatside"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = bindings(LEAVE)

    def __init__(
        self,
        file: Path | None,
        clock: Clock | None,
        folder: Path,
        *,
        signs: Signs | None = None,
        looks: Looks | None = None,
        said: tuple[str, ...] = (),
        first: str = SAVED,
    ) -> None:
        """`file` is opened at once, and `first` says how: to be worked in, or only to be played back or shown.

        `said` stands in the list of days.
        """
        signs = signs or signs_for(getattr(sys.stdout, "encoding", None))
        super().__init__(folder, clock, signs, _routes)
        self.file = file
        self.first = first
        self.looks = looks or Looks()
        self.said = said
        self.heartbeat = Heartbeat(self, self._offer_day)
        self._warned = False
        self.looks.put_on_first(self)
        self.animation_level = "none"
        gc.set_threshold(MADE_BEFORE_SEARCH)

    # What Textual asks for

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """Give the style sheet's own colours, for looks that do not name them."""
        return Looks.defaults()

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Leave out what would turn the terminal's colours into others: all come from the look, or there are none."""
        return line_filters(super().get_line_filters(), colourless=self.no_color)

    def get_default_screen(self) -> OpeningScreen:
        """Begin with the list of days; one that takes the place of a failed one is read when it is gone to."""
        words, on_bench = "  ".join((*self.said, *self.looks.problems)), self.desk is not None
        at_once = self.file is None and not on_bench
        opening = OpeningScreen(self.folder, lambda: self.clock, self.signs, words, at_once=at_once)
        opening.left = on_bench
        return opening

    def on_mount(self) -> None:
        """Let the clock show, and open the day that was asked for."""
        self.app_resume_signal.subscribe(self, self._resumed)
        self.set_interval(EVERY, self.tick)
        if self.file is not None:
            self.call_after_refresh(self._open_named, self.file)

    def _resumed(self, _app: App[None]) -> None:
        """After ctrl+z and fg the screen stays blank unless it is painted anew."""
        self.set_timer(0.05, lambda: self.screen.refresh(layout=True))

    # Days

    @property
    def opening(self) -> OpeningScreen:
        """The list of days, under all other screens."""
        screen = self.screen_stack[0]
        assert isinstance(screen, OpeningScreen)
        return screen

    def _open_named(self, file: Path) -> None:
        """Open what the command line names; the list of days only if that cannot be."""
        self.open(self.first, file)
        if self.screen is self.opening:
            self.opening.look()

    @on(OpeningScreen.Wanted)
    def _wanted(self, event: OpeningScreen.Wanted) -> None:
        if self.screen is self.opening:
            self.open(event.what, event.path, event.other)

    def open(self, what: str, path: Path | None, other: Path | None = None) -> None:
        """Put a day on the bench, or do what else was asked for."""
        from vatside.ui.routes import opening

        linecache.clearcache()
        self.opening.say("")
        opening.go(self, what, path, other)

    @on(GuardedApp.Fault)
    def _come_back(self, event: GuardedApp.Fault) -> None:
        from vatside.ui.routes import day

        self.input_at = self.clock.now().elapsed  # or a far view that fails would come up by itself at once again
        day.come_back(self, event.words, plainly=event.plainly)

    def tick(self) -> None:
        """Look at the clock."""
        self.heartbeat.beat()

    def _offer_day(self, desk: Desk) -> None:
        from vatside.ui.routes.day import offer_day

        offer_day(self, desk)

    # What the keys do on every screen

    def action_look(self) -> None:
        """Turn to the next look, and say which it is."""
        self.theme = self.looks.after(self.theme)
        self.say(f"Look: {self.looks.title(self.theme)}", 5)

    def terminal_ground(self, dark: bool) -> None:
        """Take a look that suits the terminal's own ground, unless the dyer chose one."""
        self.theme = self.looks.on_ground(self.theme, dark=dark)

    def action_days(self) -> None:
        """Go back to the list of days; what runs goes on."""
        if len(self.screen_stack) == 2:
            from vatside.ui.routes import days

            days.back_to_list(self)

    def action_leave(self) -> None:
        """Leave; if the disk refused something, say so once before."""
        if self.desk is not None and self.desk.keeping.unsaved and not self._warned:
            self._warned = True
            for screen in self.full_screens:
                screen.say("Not everything is on the disk: s saves elsewhere, ctrl+q once more leaves.", 30)
            return
        if self.desk is not None:
            from vatside.ui.routes import days

            days.book(self)
        self.put_away()
        self.exit()
