"""What screens and routes know of the app: the day on the bench, its clock and folder, the ways to other screens."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from textual.app import App

from vatside.ui.base.full_screen import FullScreen

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from textual.screen import Screen

    from vatside.bench.desk import Desk
    from vatside.bench.second_window import Second
    from vatside.bench.ticker import Ticker
    from vatside.bench.wait_view import WaitView
    from vatside.clocks.clock import Clock
    from vatside.ui.alarm_notice import AlarmNotice
    from vatside.ui.base.routes import Routes
    from vatside.ui.text.signs import Signs


class Host(App[None], inherit_bindings=False):
    """The app as far as screens and routes may ask of it; at most one day is on the bench."""

    def __init__(self, folder: Path, clock: Clock | None, signs: Signs, routes: Routes) -> None:
        super().__init__()
        self.folder = folder
        """Where the sessions are."""
        self.signs = signs
        self.routes = routes
        """The ways to other screens, for a key that asks for one."""
        self.desk: Desk | None = None
        """The day on the bench."""
        self.ticker: Ticker | None = None
        """Looks at its clocks."""
        self.second: Second | None = None
        """Looks what another window does with it, where it can only be looked at."""
        self.alarm_notice: AlarmNotice | None = None
        """Tells outside what rings; None where nothing is to be told."""
        self.input_at = 0.0
        """The clock's second of the latest key, click or paste: it tells whether anybody is at the keys."""
        self.words = ""
        """What to say on the terminal after leaving."""
        self._clock = clock

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
    def opening(self) -> FullScreen:
        """The first screen, under all others."""
        screen = self.screen_stack[0]
        assert isinstance(screen, FullScreen)
        return screen

    @property
    def full_screens(self) -> list[FullScreen]:
        """The screens that stand, the one in front last; windows over them are left out."""
        return [screen for screen in self.screen_stack if isinstance(screen, FullScreen) and screen.parts]

    def notice_alarms(self, where: str, ringing: Iterable[WaitView]) -> str:
        """Tell outside what rings, where she has set that; say why it could not be."""
        if self.alarm_notice is None:
            return ""
        return self.alarm_notice.look(where, {wait.id: wait.label for wait in ringing})

    def take_on_bench(self, desk: Desk) -> None:
        """Let the clock run for a day that was opened; the one that was open before is put away."""
        from vatside.bench.second_window import Second
        from vatside.bench.ticker import Ticker
        from vatside.ui.leaving import put_away

        old, self.desk = self.desk, desk
        put_away(old)
        self.ticker = Ticker(desk)
        self.second = Second(desk) if desk.keeping.readonly else None
        self.input_at = self.clock.now().elapsed  # whoever opens a day is at the keys

    def put_away(self) -> None:
        """Log what was typed and close the file; what to say of it is said after leaving."""
        from vatside.ui.leaving import put_away

        self.words = put_away(self.desk)
        self.desk = self.ticker = None


def host_of(screen: Screen[Any]) -> Host:
    """Give the app that a screen belongs to."""
    assert isinstance(screen.app, Host)
    return screen.app
