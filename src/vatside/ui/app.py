"""The full-screen app: opens days, lets the clock show, rings, and leaves without losing anything."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import App
from textual.binding import Binding, BindingType

from vatside.ui import leaving
from vatside.ui.looks import Looks
from vatside.ui.screens.opening import OpeningScreen
from vatside.ui.screens.standing import Standing
from vatside.ui.start import run
from vatside.ui.view.shelf import SAVED
from vatside.ui.view.signs import Signs, signs_for

if TYPE_CHECKING:
    from vatside.session.clock import Clock
    from vatside.session.watch import ClockSetBack, Stepped
    from vatside.ui.desk import Desk
    from vatside.ui.ticker import Ticker

__all__ = ["VatsideApp", "run"]

TICK = 0.25
"""Seconds between two looks at the clock."""


class VatsideApp(App[None], inherit_bindings=False):
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
    ) -> None:
        super().__init__()
        self.file = file
        self._clock = clock
        self.folder = folder
        self.signs = signs or signs_for(getattr(sys.stdout, "encoding", None))
        self.looks = looks or Looks()
        self.desk: Desk | None = None
        self.ticker: Ticker | None = None
        self.words = ""
        """What to say on the terminal after leaving."""
        self._warned = False
        for theme in self.looks.themes():
            self.register_theme(theme)
        self.theme = self.looks.first
        self.animation_level = "none"

    @property
    def clock(self) -> Clock:
        """The clock that was handed in, or the machine's; made when it is first asked, after the first paint."""
        if self._clock is None:
            from vatside.session.clock import SystemClock

            self._clock = SystemClock()
        return self._clock

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """Give the style sheet's own colours, for looks that do not name them."""
        return Looks.defaults()

    def get_default_screen(self) -> OpeningScreen:
        """Begin with the list of days."""
        return OpeningScreen(self.folder, lambda: self.clock, self.signs, "  ".join(self.looks.problems))

    def on_mount(self) -> None:
        """Listen for signals, let the clock show, and open the day that was asked for."""
        leaving.listen(self)
        self.app_resume_signal.subscribe(self, self._resumed)
        self.set_interval(TICK, self.tick)
        if self.file is not None:
            self.call_after_refresh(self.open, SAVED, self.file)

    def _resumed(self, _app: App[None]) -> None:
        """After ctrl+z and fg the screen stays blank unless it is painted anew."""
        self.set_timer(0.05, lambda: self.screen.refresh(layout=True))

    @on(OpeningScreen.Wanted)
    def _wanted(self, event: OpeningScreen.Wanted) -> None:
        if self.screen is self._opening:
            self.open(event.what, event.path)

    def open(self, what: str, path: Path | None) -> None:
        """Put a day on the bench; one that cannot be opened is told on the first screen."""
        from vatside.session.flaws import SessionError
        from vatside.session.watch import ClockSetBack
        from vatside.ui import days
        from vatside.ui.screens.day import DayScreen

        old = self.desk
        try:
            self.desk = days.wanted(what, path, self.folder, self.clock, old)
        except SessionError as error:
            self._opening.say(str(error))
            return
        if self.desk is not old:
            self._take_over(old)
        self._opening.say("")
        self.push_screen(DayScreen(self.desk, self.signs, self.desk.keeping.opening_words(self.clock.now())))
        if self.desk is not old and isinstance(self.desk.keeping.gap, ClockSetBack):
            self._ask(self.desk.keeping.gap)

    def _take_over(self, old: Desk | None) -> None:
        """Let the clock run for the day that was opened; what was open before is put away."""
        from vatside.ui.ticker import Ticker

        leaving.put_away(old)
        if self.desk is not None:
            self.ticker = Ticker(self.desk)

    def _ask(self, happening: ClockSetBack | Stepped) -> None:
        """Ask what the clocks cannot tell."""
        from vatside.ui.screens.gap import ask_gap

        if self.desk is not None:
            ask_gap(self, self.desk, happening)

    @property
    def _opening(self) -> OpeningScreen:
        screen = self.screen_stack[0]
        assert isinstance(screen, OpeningScreen)
        return screen

    def tick(self) -> None:
        """Look at the clock: ring, say what happened meanwhile, let every screen of this day show it."""
        if self.ticker is None or self.desk is None:
            return
        beat = self.ticker.beat()
        if beat.ring:
            self.bell()
        if beat.ask:
            self._ask(beat.ask)
        standing = [screen for screen in self.screen_stack if isinstance(screen, Standing) and screen.parts]
        for screen in standing if beat.words else ():
            screen.say(beat.words, 30)
        for screen in standing[-1:]:
            screen.tick(beat.now)
        if self.screen is self._opening:
            self._opening.show_waits(self.desk.waits(beat.now))

    def action_look(self) -> None:
        """Turn to the next look."""
        self.theme = self.looks.after(self.theme)

    def action_days(self) -> None:
        """Go back to the list of days; what runs goes on."""
        if len(self.screen_stack) == 2:
            self.pop_screen()

    def action_leave(self) -> None:
        """Leave; if the disk refused something, say so once before."""
        if self.desk is not None and self.desk.keeping.unsaved and not self._warned:
            self._warned = True
            for screen in self.screen_stack:
                if isinstance(screen, Standing):
                    screen.say("Not everything is on the disk: s saves elsewhere, ctrl+q once more leaves.", 30)
            return
        self.words = leaving.put_away(self.desk)
        self.desk = self.ticker = None
        self.exit()
