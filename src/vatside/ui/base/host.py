"""What screens and routes know of the app: its day, clock, folder and routes; and how it is left, in every case."""

from __future__ import annotations

import asyncio
import os
import signal
import sys
import threading
from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Any

from textual.app import App

from vatside.ui.base.screens import FullScreen

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from textual.screen import Screen

    from vatside.bench.desk import Desk
    from vatside.bench.glance import WaitView
    from vatside.bench.ticker import DayFollower, Ticker
    from vatside.clocks.clock import Clock
    from vatside.ui.alarm_notice import AlarmNotice
    from vatside.ui.base.session_screen import Routes
    from vatside.ui.text.rows import Signs

DRAINED = 0.6
"""Seconds at most for working off keys that came before the signal. Ours, as the next."""
AT_LATEST = 1.7
"""Seconds after which the process ends by force."""
HANGUP = 129
"""The exit code when the terminal is gone: that of the signal that says so, where the system has it."""
SIGNALS = ("SIGTERM", "SIGHUP", "SIGINT", "SIGQUIT")
"""Those that ask a process to end; no key sends one, since the terminal is raw."""


def listen(leave: Callable[[int], None]) -> None:
    """Leave in order when the system or a closed window says so.

    The loop's own way would lose a signal in a burst: it hears of one by a byte in its pipe, and that is full once some
    hundreds of keys have come in while it was at work.
    """
    if sys.platform == "win32":
        return
    loop = asyncio.get_running_loop()
    for name in SIGNALS:
        try:
            signal.signal(getattr(signal, name), partial(_pass_on, loop, leave))
        except ValueError:  # not the main thread
            return


def _pass_on(loop: asyncio.AbstractEventLoop, leave: Callable[[int], None], number: int, _: object) -> None:
    """Have the loop leave at its next turn; once it is closed the signal does what it does to any process."""
    if loop.is_closed():
        signal.signal(number, signal.SIG_DFL)
        signal.raise_signal(number)
    else:
        loop.call_soon_threadsafe(leave, 128 + number)


def end_in_any_case(code: int, give_back: Callable[[], None]) -> None:
    """End the process after a while, whatever it is waiting for: every key is on the disk by then."""

    def end() -> None:
        give_back()
        os._exit(code)

    last = threading.Timer(AT_LATEST, end)
    last.daemon = True
    last.start()


def put_away(desk: Desk | None) -> str:
    """Log what was typed and close the file; say where the session is."""
    if desk is None:
        return ""
    try:
        if not desk.keeping.readonly:
            desk.leave()
            if desk.put_down is not None:
                desk.put_down()
    finally:
        trouble = desk.keeping.close()
    if trouble:
        return f"Vatside: {trouble}"
    return f"Everything is in {desk.keeping.path}" if desk.keeping.path else ""


class Host(App[None], inherit_bindings=False):
    """The app as far as screens and routes may ask of it; at most one day is on the bench."""

    def __init__(self, folder: Path, clock: Clock | None, signs: Signs, routes: Callable[[], Routes]) -> None:
        super().__init__()
        self.folder = folder
        """Where the sessions are."""
        self.signs = signs
        self._routes = routes
        self.desk: Desk | None = None
        """The day on the bench."""
        self.ticker: Ticker | None = None
        """Looks at its clocks."""
        self.second: DayFollower | None = None
        """Looks what another window does with it, where it can only be looked at."""
        self.alarm_notice: AlarmNotice | None = None
        """Tells outside what rings; None where nothing is to be told."""
        self.input_at = 0.0
        """The clock's second of the latest key, click or paste: it tells whether anybody is at the keys."""
        self.words = ""
        """What to say on the terminal after leaving."""
        self._clock = clock

    @property
    def routes(self) -> Routes:
        """The ways to other screens, for a key that asks for one."""
        return self._routes()

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
        return [screen for screen in self.screen_stack if isinstance(screen, FullScreen) and screen.is_mounted]

    def say(self, words: str, seconds: float = 20) -> None:
        """Say a sentence for some seconds on the screen in front, or below the window that stands over it."""
        *_, front = (screen for screen in self.screen_stack if isinstance(screen, FullScreen))
        front.say(words, seconds)

    def notice_alarms(self, where: str, ringing: Iterable[WaitView]) -> str:
        """Tell outside what rings, where she has set that; say why it could not be."""
        if self.alarm_notice is None:
            return ""
        return self.alarm_notice.look(where, {wait.id: wait.label for wait in ringing})

    def take_on_bench(self, desk: Desk) -> None:
        """Let the clock run for a day that was opened; the one that was open before is put away."""
        from vatside.bench.ticker import DayFollower, Ticker

        old, self.desk = self.desk, desk
        put_away(old)
        self.ticker = Ticker(desk)
        self.second = DayFollower(desk) if desk.keeping.readonly else None
        self.input_at = self.clock.now().elapsed  # whoever opens a day is at the keys

    def put_away(self) -> None:
        """Log what was typed and close the file; what to say of it is said after leaving."""
        self.words = put_away(self.desk)
        self.desk = self.ticker = None


def host_of(screen: Screen[Any]) -> Host:
    """Give the app that a screen belongs to."""
    assert isinstance(screen.app, Host)
    return screen.app
