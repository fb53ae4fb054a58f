"""The windows that the day's screen opens over itself, each loaded when its key is first pressed."""

from __future__ import annotations

from vatside.bench import acts
from vatside.plan.sheet import Remedy
from vatside.ui.base.session_screen import SessionScreen
from vatside.ui.day.banner import Banner
from vatside.ui.day.body import DayBody, Hand


class DayWindows:
    """What is looked up: a figure's working, the log, what to look out for, and what puts that right."""

    def __init__(self, screen: SessionScreen, body: DayBody, banner: Banner) -> None:
        self._screen = screen
        self._body = body
        self._banner = banner

    def far(self) -> None:
        """Show the waits large."""
        from vatside.ui.day.far_view import FarScreen

        self._screen.app.push_screen(FarScreen(self._screen.desk, self._screen.signs))

    def working(self, figure: str) -> None:
        """Show how a figure came about; afterwards the cursor is on the one that was looked at last."""
        from vatside.ui.day.working_window import WorkingWindow

        def left(at: str | None) -> None:
            self._screen.renew()
            self._body.figures.choose(at or "")

        ids = self._body.figures.ids_round(figure)
        if ids:
            self._screen.app.push_screen(WorkingWindow(self._screen.desk, ids, figure), left)

    def log(self) -> None:
        """Show what happened so far."""
        from vatside.ui.day.log_rows import log_rows
        from vatside.ui.windows.words import ReadingWindow

        desk = self._screen.desk
        self._screen.app.push_screen(ReadingWindow("Log", lambda width: log_rows(desk.state, width), at_end=True))

    def notices(self) -> None:
        """Show everything to look out for."""
        from vatside.ui.windows.notices import NoticesWindow

        self._screen.app.push_screen(NoticesWindow(self._screen.desk))

    def advice(self) -> None:
        """Put right what the gravest notice here is about, or first the one of the figure in hand."""
        from vatside.ui.windows import put_right

        readonly = self._screen.desk.keeping.readonly
        figure = self._body.figures.key if self._body.hand is Hand.READ else ""
        offers = put_right.offers(self._banner.notices, figure)
        if readonly:
            self._screen.say(f"Reading only: {readonly}.")
        elif offers:
            put_right.choose(self._screen.app, offers[0], self._take)
        else:
            self._screen.say("Nothing here can be put right by a key; i shows everything to look out for.")

    def _take(self, remedy: Remedy) -> None:
        self._screen.perform(lambda: acts.take_remedy(self._screen.desk, remedy))
        self._body.form.write_anew()
