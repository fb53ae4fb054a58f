"""The full-screen app: opens days, lets the clock show, rings, and leaves without losing anything."""

from __future__ import annotations

import linecache
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import events, on
from textual.app import App
from textual.binding import Binding, BindingType
from textual.filter import ANSIToTruecolor, LineFilter
from textual.screen import ModalScreen

from vatside.ui import leaving
from vatside.ui.base.screen import Standing
from vatside.ui.guard import Guarded
from vatside.ui.opening.rows import REPLAY, SAVED
from vatside.ui.opening.screen import OpeningScreen
from vatside.ui.text.signs import Signs, signs_for
from vatside.ui.theme.choice import Looks

if TYPE_CHECKING:
    from vatside.bench.desk import Desk
    from vatside.bench.second_window import Second
    from vatside.bench.ticker import Beat, Ticker
    from vatside.clocks.clock import Clock
    from vatside.clocks.watch import ClockSetBack, Stepped
    from vatside.ui.base.routes import Routes

TICK = 0.25
"""Seconds between two looks at the clock."""


class VatsideApp(Guarded, inherit_bindings=False):
    """One window on the sessions of a folder."""

    CSS_PATH = "style.tcss"
    TITLE = "Vatside"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+q", "leave", show=False),
        Binding("ctrl+z", "suspend_process", show=False),
        Binding("t", "look", show=False),
        Binding("b", "days", show=False),
    ]

    def __init__(
        self,
        file: Path | None,
        clock: Clock | None,
        folder: Path,
        *,
        signs: Signs | None = None,
        looks: Looks | None = None,
        replay: bool = False,
    ) -> None:
        super().__init__()
        self.file = file
        self.replay = replay
        """The file is to be played back, not to be worked in."""
        self._clock = clock
        self.folder = folder
        self.signs = signs or signs_for(getattr(sys.stdout, "encoding", None))
        self.looks = looks or Looks()
        self.desk: Desk | None = None
        self.ticker: Ticker | None = None
        self.second: Second | None = None
        self.words = ""
        """What to say on the terminal after leaving."""
        self._warned = False
        self._put_on_first_look()
        self.animation_level = "none"

    def _put_on_first_look(self) -> None:
        """Begin in a look, before any style sheet is read: told of it as a change, Textual would read them twice."""
        for theme in self.looks.themes():
            self.register_theme(theme)
        self.set_reactive(App.theme, self.looks.first)
        self.stylesheet.set_variables(self.get_css_variables())
        self.set_class(self.current_theme.dark, "-dark-mode", update=False)
        self.set_class(not self.current_theme.dark, "-light-mode", update=False)

    @property
    def data_folder(self) -> Path:
        """Where the person's files are: beside the sessions."""
        return self.folder.parent

    @property
    def clock(self) -> Clock:
        """The clock that was handed in, or the machine's; made when it is first asked, after the first paint."""
        if self._clock is None:
            from vatside.clocks.clock import SystemClock

            self._clock = SystemClock()
        return self._clock

    @property
    def routes(self) -> Routes:
        """The ways to other screens, for a key that asks for one."""
        from vatside.ui.routes.late import LateRoutes

        return LateRoutes()

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """Give the style sheet's own colours, for looks that do not name them."""
        return Looks.defaults()

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Leave out what would turn the terminal's own colours into others: every colour comes from the look."""
        return [found for found in super().get_line_filters() if not isinstance(found, ANSIToTruecolor)]

    def get_default_screen(self) -> OpeningScreen:
        """Begin with the list of days."""
        words = "  ".join(self.looks.problems)
        return OpeningScreen(self.folder, lambda: self.clock, self.signs, words, at_once=self.file is None)

    def on_mount(self) -> None:
        """Let the clock show, and open the day that was asked for."""
        self.app_resume_signal.subscribe(self, self._resumed)
        self.set_interval(TICK, self.tick)
        if self.file is not None:
            self.call_after_refresh(self._open_named, self.file)

    def _open_named(self, file: Path) -> None:
        """Open what the command line names; the list of days only if that cannot be."""
        self.open(REPLAY if self.replay else SAVED, file)
        if self.screen is self.opening:
            self.opening.look()

    def _resumed(self, _app: App[None]) -> None:
        """After ctrl+z and fg the screen stays blank unless it is painted anew."""
        self.set_timer(0.05, lambda: self.screen.refresh(layout=True))

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

    def show_day(self, desk: Desk) -> None:
        """Put a day on the bench, alone on the screen, and ask what opening it left open."""
        from vatside.clocks.watch import ClockSetBack
        from vatside.ui.day.screen import DayScreen
        from vatside.ui.routes import trouble

        # The source of every method that attrs generated is kept there for a debugger: a megabyte.
        linecache.clearcache()
        old, self.desk = self.desk, desk
        if desk is not old:
            self._take_over(old)
        while len(self.screen_stack) > 1:
            self.pop_screen()
        self.push_screen(DayScreen(desk, self.signs, desk.keeping.opening_words(self.clock.now())))
        if desk is old:
            return
        trouble.say_damage(self, desk)
        if isinstance(desk.keeping.gap, ClockSetBack) and not desk.keeping.readonly:
            self._ask(desk.keeping.gap)

    def _take_over(self, old: Desk | None) -> None:
        """Let the clock run for the day that was opened; what was open before is put away."""
        from vatside.bench.second_window import Second
        from vatside.bench.ticker import Ticker

        leaving.put_away(old)
        if self.desk is not None:
            self.ticker = Ticker(self.desk)
            self.second = Second(self.desk) if self.desk.keeping.readonly else None

    def _ask(self, happening: ClockSetBack | Stepped) -> None:
        """Ask what the clocks cannot tell."""
        from vatside.ui.windows.gap import ask_gap

        if self.desk is not None:
            ask_gap(self, self.desk, happening)

    def come_back(self, words: str, *, plainly: bool) -> None:
        """After a fault: take every screen away, and show the day again with a sentence, or else the list of days."""
        stood = self.screen_stack[1] if len(self.screen_stack) > 1 else None
        while len(self.screen_stack) > 1:
            self.pop_screen()
        if not all(node.is_running for node in (self.opening, *self.opening.walk_children())):
            self.switch_screen(self.get_default_screen())
        self.opening.say(words)
        if self.desk is None or plainly:
            return
        from vatside.ui.day.screen import DayScreen

        put_down, self.desk.put_down = self.desk.put_down, None
        if put_down is not None:
            put_down()
        day = DayScreen(self.desk, self.signs, words)
        if isinstance(stood, DayScreen) and stood.desk is self.desk and stood.stage in self.desk.stages():
            day.stage, day.hand = stood.stage, stood.hand
        self.push_screen(day)

    @property
    def opening(self) -> OpeningScreen:
        """The first screen, under all others."""
        screen = self.screen_stack[0]
        assert isinstance(screen, OpeningScreen)
        return screen

    def put_away(self) -> None:
        """Log what was typed and close the file; what to say of it is said after leaving."""
        self.words = leaving.put_away(self.desk)
        self.desk = self.ticker = None

    def tick(self) -> None:
        """Look at the clock: ring, say what happened meanwhile, let every screen of this day show it."""
        if not self.is_running:  # the timer outlives the screens by a moment
            return
        if self.ticker is None or self.desk is None:
            for screen in self._standing()[-1:]:
                screen.tick(self.clock.now())
            return
        self.take(self.ticker.beat(), self.desk)

    def take(self, beat: Beat, desk: Desk) -> None:
        """Ring, ask, say and show what one look at the clocks brought."""
        standing = self._standing()
        if beat.ring:
            self.bell()
        if beat.ask:
            self._ask(beat.ask)
        if self.second is not None:
            if self.second.look():
                standing[-1].renew()
            self._offer_day(self.second)
        _show(beat, standing)
        if self.screen is self.opening:
            self.opening.show_waits(desk.waits(beat.now))

    def _standing(self) -> list[Standing]:
        return [screen for screen in self.screen_stack if isinstance(screen, Standing) and screen.parts]

    def _offer_day(self, second: Second) -> None:
        """Once the other window has closed, offer to go on here; nothing else would ring."""
        if second.free and not second.asked and not isinstance(self.screen, ModalScreen):
            from vatside.ui.routes import trouble

            second.asked = True
            self.bell()
            trouble.offer_day(self, second.desk)

    def on_key(self, event: events.Key) -> None:
        """A key that comes back from below a window was typed ahead of its field: it belongs into it."""
        if isinstance(self.screen, ModalScreen):
            from vatside.ui.windows.ask import AskWindow

            if isinstance(self.screen, AskWindow):
                self.screen.ahead(event)

    def action_look(self) -> None:
        """Turn to the next look."""
        self.theme = self.looks.after(self.theme)

    def action_days(self) -> None:
        """Go back to the list of days; what runs goes on."""
        if len(self.screen_stack) == 2:
            from vatside.ui.routes import days

            self.pop_screen()
            self.opening.say(days.book(self))

    def action_leave(self) -> None:
        """Leave; if the disk refused something, say so once before."""
        if self.desk is not None and self.desk.keeping.unsaved and not self._warned:
            self._warned = True
            for screen in self.screen_stack:
                if isinstance(screen, Standing):
                    screen.say("Not everything is on the disk: s saves elsewhere, ctrl+q once more leaves.", 30)
            return
        if self.desk is not None:
            from vatside.ui.routes import days

            days.book(self)
        self.put_away()
        self.exit()


def _show(beat: Beat, standing: Sequence[Standing]) -> None:
    """Let every screen say what happened meanwhile, and the one in front show the clock."""
    for screen in standing if beat.words else ():
        screen.say(beat.words, 30)
    for screen in standing[-1:]:
        screen.tick(beat.now)
