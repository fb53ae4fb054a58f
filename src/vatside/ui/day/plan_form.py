"""The form of the day's screen: typed text to the desk, rows to the form, lots in and out."""

from __future__ import annotations

from textual import on

from vatside.bench import acts
from vatside.plan.sheet import Stage
from vatside.storage.session_file import ReadOnly
from vatside.ui.day.regions import Regions
from vatside.ui.text.form_rows import LOT, form_rows, groups, left_words
from vatside.ui.widgets.entry import Entry
from vatside.ui.widgets.form import Form


class Setting(Regions):
    """What is set, and which lot or bath a stage's form shows."""

    lot: dict[Stage, str]
    _refused = ""
    """What was last said of a refused text whose field was left."""

    def titles(self) -> None:
        """Say above the regions what stands in them."""
        raise NotImplementedError

    def show_form(self) -> None:
        """Turn the form to the stage on the screen."""
        known = groups(self.desk.plan, self.stage)
        if known and self.lot.get(self.stage) not in known:
            self.lot[self.stage] = known[0]
        lot = self.lot.get(self.stage, "")
        rows = form_rows(self.desk.plan, self.desk.sheet, self.stage, lot, self.desk.wrong)
        self.query_one(Form).show(rows, self.desk.wrong)

    def settle(self) -> None:
        """Log what was typed, or put back what a refused text stands for; the entry is finished."""
        try:
            self.desk.leave()
        except ReadOnly as reason:
            self.say(f"Reading only: {reason}.")

    @on(Entry.Typed)
    def _typed(self, event: Entry.Typed) -> None:
        if event.path == LOT:
            self._other_lot(event.text)
        else:
            self._take_text(event.path, event.text)
        self.renew()

    def _take_text(self, path: str, text: str) -> None:
        """Show what follows from a text; where it is refused, what stood there before its first key counts again.

        The `1` of `1 1/2 tsp` was never meant.
        """
        self.desk.type(path, text)
        if path in self.desk.wrong:
            self.settle()
        elif self._refused and self.said[0] == self._refused:
            self.say("")

    def _other_lot(self, name: str) -> None:
        form = self.query_one(Form)
        switch = next((item.field for item in form.rows if item.path == LOT), None)
        found = [key for key, shown in (switch.choices if switch else ()) if shown == name]
        if found:
            self.lot[self.stage] = found[0]

    @on(Form.Left)
    def _left(self, event: Form.Left) -> None:
        self.settle()
        self.renew()
        wrong, path = self.desk.wrong, event.path
        if path not in wrong and not isinstance(self.focused, Entry):
            path = next(iter(wrong), "")  # whoever leaves the form is told of any that is left
        words = left_words(self.query_one(Form).rows, wrong, path)
        if words:
            self._refused = words
            self.say(words)

    @on(Entry.Key)
    def _lot_key(self, event: Entry.Key) -> None:
        if event.more:
            self.action_add_lot()
        else:
            self.action_remove_lot()

    @on(Entry.Aside)
    def _aside(self, event: Entry.Aside) -> None:
        if event.what == "help":
            self.action_help()
        elif event.what == "advice":
            self.action_advice()
        else:
            self.open_working(event.path)

    def action_advice(self) -> None:
        """Put right what a notice is about."""
        raise NotImplementedError

    def open_working(self, figure: str) -> None:
        """Show how a figure came about."""
        raise NotImplementedError

    def action_add_lot(self) -> None:
        """Take one more lot in and show its rows."""
        if self.stage is not Stage.PLAN:
            return

        def act() -> str:
            self.lot[Stage.PLAN] = acts.add_lot(self.desk)
            return "One more lot; u takes it back."

        self.perform(act)

    def action_remove_lot(self) -> None:
        """Take the lot on the screen out."""
        if self.stage is Stage.PLAN:
            self.perform(lambda: acts.remove_lot(self.desk, self.lot.get(Stage.PLAN, "")))
