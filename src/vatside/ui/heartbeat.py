"""Four times a second: what the clocks brought, what rings, and what every screen shows of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from textual.screen import ModalScreen

from vatside.ui.base.host import Host

if TYPE_CHECKING:
    from vatside.bench.desk import Desk
    from vatside.bench.second_window import Second
    from vatside.bench.ticker import Beat
    from vatside.clocks.watch import Stepped

EVERY = 0.25
"""Seconds between two looks at the clock."""
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
        said = app.notice_alarms("bench", beat.ringing)
        if said:
            app.full_screens[-1].say(said, 20)
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
        from vatside.ui.windows.gap import ask_gap

        ask_gap(self._app, desk, happening)

    def _look_at(self, second: Second) -> None:
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
