"""The form of a stage: typed text to the desk, rows to the form, and which lot or bath it shows."""

from __future__ import annotations

from textual import on
from textual.message import Message

from vatside.bench import acts
from vatside.bench.desk import Desk
from vatside.forms.fields import Field, show
from vatside.plan.sheet import Stage
from vatside.storage.session_file import ReadOnly
from vatside.ui.text.form_rows import LOT, form_rows, groups, left_words
from vatside.ui.text.signs import Signs
from vatside.ui.widgets.entry import Entry
from vatside.ui.widgets.form import Form


class StageForm(Form):
    """What is set of one stage; a key that is typed is on the desk at once."""

    class Changed(Message):
        """Something was typed, or an entry was left and is finished."""

        def __init__(self, words: str = "") -> None:
            super().__init__()
            self.words = words
            """What is to be said of it."""

    class Mended(Message):
        """A text that was refused is none any more."""

        def __init__(self, words: str) -> None:
            super().__init__()
            self.words = words
            """What was said of it."""

    def __init__(self, desk: Desk, signs: Signs, stage: Stage) -> None:
        super().__init__(id="form", signs=signs)
        self.desk = desk
        self.stage = stage
        self.lot: dict[Stage, str] = {}
        """The lot or bath that each stage shows."""
        self._refused = ""
        """What was last said of a refused text whose field was left."""

    def on_mount(self) -> None:
        """Of a day that cannot be changed the form is only to be looked at."""
        self.disabled = self.desk.keeping.readonly is not None

    def show_stage(self, stage: Stage) -> None:
        """Turn the form to a stage."""
        self.stage = stage
        known = groups(self.desk.plan, stage)
        if known and self.lot.get(stage) not in known:
            self.lot[stage] = known[0]
        lot = self.lot.get(stage, "")
        self.show(form_rows(self.desk.plan, self.desk.sheet, stage, lot, self.desk.wrong), self.desk.wrong)

    @property
    def field_in_hand(self) -> Field | None:
        """The field that the cursor is in, or was."""
        return next((item.field for item in self.rows if item.path == self.at), None)

    @property
    def lot_in_hand(self) -> str:
        """The lot that the form of some stage shows; empty if none does."""
        return next((lot.id for lot in self.desk.plan.lots if lot.id in self.lot.values()), "")

    def settle(self) -> str:
        """Log what was typed, or put back what a refused text stands for; say why, if that cannot be."""
        try:
            self.desk.leave()
        except ReadOnly as reason:
            return f"Reading only: {reason}."
        return ""

    def add_lot(self) -> str:
        """Take one more lot in and show its rows."""
        self.lot[Stage.PLAN] = acts.add_lot(self.desk)
        return "One more lot; u takes it back."

    def remove_lot(self) -> str:
        """Take the lot that is shown out."""
        return acts.remove_lot(self.desk, self.lot.get(Stage.PLAN, ""))

    def write_anew(self) -> None:
        """Write into the field that is being typed in what counts now; `show_stage` leaves it alone."""
        entry = self.screen.focused
        if isinstance(entry, Entry) and entry.path:
            entry.write(show(self.desk.plan, entry.path))

    @on(Entry.Typed)
    def _typed(self, event: Entry.Typed) -> None:
        event.stop()
        words = self._turn_to(event.text) if event.path == LOT else self._take_text(event.path, event.text)
        self.post_message(self.Changed(words))

    def _turn_to(self, name: str) -> str:
        """Show the lot or bath of a name."""
        switch = next((item.field for item in self.rows if item.path == LOT), None)
        named = [key for key, shown in (switch.choices if switch else ()) if shown == name]
        if named:
            self.lot[self.stage] = named[0]
        return ""

    def _take_text(self, path: str, text: str) -> str:
        """Show what follows from a text; where it is refused, what stood there before its first key counts again.

        The `1` of `1 1/2 tsp` was never meant.
        """
        self.desk.type(path, text)
        if path in self.desk.wrong:
            return self.settle()
        if self._refused:
            self.post_message(self.Mended(self._refused))
        return ""

    @on(Form.Left)
    def _field_left(self, event: Form.Left) -> None:
        event.stop()
        words = self.settle()
        self.show_stage(self.stage)
        refused = self._words_of_refused(event.path)
        self._refused = refused or self._refused
        self.post_message(self.Changed(refused or words))

    def _words_of_refused(self, path: str) -> str:
        """Say what is wrong in the field that was left; whoever leaves the form is told of any that is left."""
        wrong = self.desk.wrong
        if path not in wrong and not isinstance(self.screen.focused, Entry):
            path = next(iter(wrong), "")
        return left_words(self.rows, wrong, path)
