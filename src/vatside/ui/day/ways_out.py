"""The ways from the day's screen to other screens and windows, each behind one key."""

from __future__ import annotations

from vatside.bench import acts
from vatside.forms.fields import show
from vatside.plan.sheet import Remedy, Stage
from vatside.ui.base.host import host_of
from vatside.ui.day.plan_form import Setting
from vatside.ui.widgets.entry import Entry


class Ways(Setting):
    """Far view, workings, log, help, and what else is one key away; each is loaded when first asked for."""

    def action_far(self) -> None:
        """Show the waits large."""
        from vatside.ui.day.far_view import FarScreen

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
        # A region that is not on the screen may still hold figures that the plan no longer has.
        known = {item.id for item in self.desk.sheet.figures}
        ids = tuple(key for key in self.parts["figures"].keys if key in known)
        ids = ids or tuple(item.id for item in self.figures_here())
        if figure and figure not in ids:
            ids = tuple(item.id for item in self.desk.sheet.of(self.stage))
        if not ids:
            return
        from vatside.ui.day.working_window import WorkingWindow

        def left(at: str | None) -> None:
            self.renew()
            self.parts["figures"].choose(at or "")

        self.app.push_screen(WorkingWindow(self.desk, ids, figure), left)

    def action_log(self) -> None:
        """Show what happened so far."""
        from vatside.ui.day.log_rows import log_rows
        from vatside.ui.windows.words import ReadingWindow

        self.app.push_screen(ReadingWindow("Log", lambda width: log_rows(self.desk.state, width), at_end=True))

    def action_notices(self) -> None:
        """Show everything to look out for; what was typed is logged first."""
        from vatside.ui.windows.notices import NoticesWindow

        self.settle()
        self.app.push_screen(NoticesWindow(self.desk))

    def action_advice(self) -> None:
        """Put right what the gravest notice here is about, or first the one of the figure in hand."""
        from vatside.ui.windows import put_right

        self.settle()
        figure = self.parts["figures"].key if self.hand == "reading" else ""
        found = put_right.offers(self.notices_here, figure)
        if self.desk.keeping.readonly:
            self.say(f"Reading only: {self.desk.keeping.readonly}.")
        elif found:
            put_right.choose(self.app, found[0], self._put_right)
        else:
            self.say("Nothing here can be put right by a key; i shows everything to look out for.")

    def _put_right(self, remedy: Remedy) -> None:
        self.perform(lambda: acts.take_remedy(self.desk, remedy))
        entry = self.focused
        if isinstance(entry, Entry) and entry.path:
            entry.write(show(self.desk.plan, entry.path))

    def action_reading(self) -> None:
        """Take a reading of what stands on the stove."""
        host_of(self).routes.vat.read_on(self, self.stage)

    def action_vat(self) -> None:
        """Show the vat's account and its history."""
        host_of(self).routes.vat.vat(self)

    def action_dips(self) -> None:
        """Show the dip board; on the plan, the ladder of depths."""
        routes = host_of(self).routes
        if self.stage is Stage.PLAN:
            routes.dips.ladder(self, self.lot.get(Stage.PLAN, ""))
        else:
            routes.dips.board(self)

    def action_colour(self) -> None:
        """Record the colour that came out."""
        lots = self.lot.values()
        host_of(self).routes.dips.colour(self, next((lot.id for lot in self.desk.plan.lots if lot.id in lots), ""))

    def action_others(self) -> None:
        """Offer what reaches beyond the day: the shelf, the class card, the kept vat, its blue, the replay."""
        host_of(self).routes.evening.others(self)
