"""The ways from the day's screen to other screens and windows, each behind one key."""

from __future__ import annotations

from vatside.ui import acts
from vatside.ui.screens.setting import Setting


class Ways(Setting):
    """Far view, workings, log, help, and what else is one key away; each is loaded when first asked for."""

    def action_far(self) -> None:
        """Show the waits large."""
        from vatside.ui.screens.far import FarScreen

        self.app.push_screen(FarScreen(self.desk, self.signs))

    def action_all_figures(self) -> None:
        """Show every figure of a stage, or only what is weighed and drawn."""
        self.desk.all_figures = not self.desk.all_figures
        self.titles()
        self.refill("figures")

    def action_working(self) -> None:
        """Show the working of the figure in hand."""
        self.open_working(self.parts["figures"].key)

    def open_working(self, figure: str) -> None:
        """Show how a figure came about; of a depth, the ladder."""
        if figure.startswith("lots.") and figure.endswith(".depth"):
            self.action_dips()
            return
        ids = self.parts["figures"].keys or tuple(item.id for item in self.figures_here())
        if figure and figure not in ids:
            ids = tuple(item.id for item in self.desk.sheet.of(self.stage))
        if not ids:
            return
        from vatside.ui.screens.working import WorkingWindow

        def left(at: str | None) -> None:
            self.renew()
            self.parts["figures"].choose(at or "")

        self.app.push_screen(WorkingWindow(self.desk, ids, figure), left)

    def action_log(self) -> None:
        """Show what happened so far."""
        from vatside.ui.screens.reading import ReadingWindow
        from vatside.ui.view.log import log_rows

        self.app.push_screen(ReadingWindow("Log", lambda width: log_rows(self.desk.state, width), at_end=True))

    def action_notices(self) -> None:
        """Show everything to look out for."""
        from vatside.ui.screens.reading import ReadingWindow
        from vatside.ui.view.notices import all_rows

        notices = self.desk.sheet.notices
        self.app.push_screen(ReadingWindow("To look out for", lambda width: all_rows(notices, width)))

    def action_remedy(self) -> None:
        """Hold the amounts that the gravest notice asks for."""
        self.perform(lambda: acts.hold_remedy(self.desk))

    def action_reading(self) -> None:
        """Take a reading of what stands on the stove."""
        from vatside.ui.screens import care_open

        care_open.read_on(self, self.stage)

    def action_vat(self) -> None:
        """Show the vat's account and its history."""
        from vatside.ui.screens import care_open

        care_open.vat(self)

    def action_dips(self) -> None:
        """Show the dip board; on the plan, the ladder of depths."""
        from vatside.ui.screens import dip_open

        dip_open.on_key(self)

    def action_colour(self) -> None:
        """Record the colour that came out."""
        from vatside.ui.screens import dip_open

        dip_open.colour(self, "")

    def action_others(self) -> None:
        """Offer what reaches beyond the day: the shelf, the class card, the kept vat, its blue, the replay."""
        from vatside.ui.screens.others import OthersWindow, do_other, others_of

        def answered(key: str | None) -> None:
            do_other(self, key or "")

        self.app.push_screen(OthersWindow(others_of(self)), answered)

    def action_help(self) -> None:
        """Explain the keys."""
        from vatside.ui.screens.reading import ReadingWindow
        from vatside.ui.view.help import day_help

        self.app.push_screen(ReadingWindow("Keys", day_help))
