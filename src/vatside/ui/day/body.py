"""The regions of the day's screen, its form among them, and the windows that open over them."""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum

from textual import events, on
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.message import Message

from vatside.bench import acts
from vatside.bench.desk import Desk
from vatside.bench.glance import Glance
from vatside.forms.fields import Field, show
from vatside.plan.measures import method_of
from vatside.plan.sheet import Remedy, Stage
from vatside.storage.session_file import ReadOnly
from vatside.ui.base.host import host_of
from vatside.ui.base.screens import ReadingWindow
from vatside.ui.base.session_screen import SessionScreen
from vatside.ui.day.figure_table import FigureTable
from vatside.ui.day.head import Banner
from vatside.ui.day.step_list import StepList
from vatside.ui.text.form_rows import LOT, form_rows, groups, left_words
from vatside.ui.text.rows import BLANK, Row, Signs
from vatside.ui.widgets.entry import Entry
from vatside.ui.widgets.form import Form
from vatside.ui.windows import notices
from vatside.ui.windows.notices import NoticesWindow
from vatside.units.show import capital


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
            return str(reason)
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


class Hand(StrEnum):
    """Which region takes the keys."""

    SET = "setting"
    READ = "reading"
    DO = "doing"


ROUND = (Hand.DO, Hand.READ, Hand.SET)


class DayBody(Horizontal):
    """Form, steps and figures of one stage; the screen's width says how many of them are seen at once."""

    class Took(Message):
        """A region was given the keys, or the form the cursor in another field."""

    def __init__(self, desk: Desk, signs: Signs, stage: Stage, glance: Glance, *, shows_form: bool) -> None:
        """`shows_form`: the form can be looked at although nothing in it can be changed."""
        super().__init__(id="body")
        self.desk = desk
        self.shows_form = shows_form
        self.form = StageForm(desk, signs, stage)
        self.steps = StepList(desk, signs, stage, glance)
        self.figures = FigureTable(desk, signs, stage, glance)
        self.hand = Hand.SET if stage is Stage.PLAN and not desk.keeping.readonly else Hand.DO

    def compose(self) -> ComposeResult:
        """What is set, done, weighed."""
        yield self.form
        yield self.steps
        yield self.figures

    def on_mount(self) -> None:
        """Show the region that has the keys."""
        self.mark(self.hand)

    def take(self, hand: Hand) -> str:
        """Give the keys to a region; say why a form in which nothing can be set does not take them."""
        readonly = self.desk.keeping.readonly
        if hand is Hand.SET and readonly and not self.shows_form:
            return str(ReadOnly(readonly))
        self.mark(hand)
        if hand is not Hand.SET:
            (self.steps if hand is Hand.DO else self.figures).focus()
        elif readonly:
            self.screen.set_focus(None)
        else:
            self.form.take()
        return ""

    def after(self, by: int) -> Hand:
        """Give the region so many further: from the steps to the figures, and only then into the form."""
        return ROUND[(ROUND.index(self.hand) + by) % len(ROUND)]

    def mark(self, hand: Hand) -> None:
        """The left side shows the form or the steps, whichever had the keys last."""
        self.hand = hand
        marks = {f"-{region.value}": region is hand for region in Hand}
        # All at once: after each change the rules of everything on the screen are looked up anew.
        self.screen.update_classes(marks if hand is Hand.READ else marks | {"-steps": hand is Hand.DO})

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """A click gives a region the keys as well."""
        regions: dict[object, Hand] = {self.steps: Hand.DO, self.figures: Hand.READ}
        hand = Hand.SET if isinstance(event.widget, Entry) else regions.get(event.widget)
        if hand is not None and hand is not self.hand:
            self.mark(hand)
            self.post_message(self.Took())
        elif hand is Hand.SET:
            self.post_message(self.Took())

    def show(self, stage: Stage, glance: Glance) -> None:
        """Know the stage, and how the day stands."""
        self.steps.stage = self.figures.stage = stage
        self.steps.glance = self.figures.glance = glance
        setting = self.hand is Hand.SET and stage is Stage.PLAN
        self.figures.setting = self.form.at if setting else ""

    def turn(self, stage: Stage) -> None:
        """Begin at the top of another stage."""
        self.form.at = ""
        self.steps.turn(stage)
        self.figures.turn(stage)

    def put_titles(self) -> None:
        """Say above the regions what stands in them."""
        self.steps.put_title()
        self.figures.put_title()


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

    def method(self) -> None:
        """Show what is to be known of the kind of vat before it is chosen."""
        from vatside.bench.method_page import method_page, shelf_beside
        from vatside.ui.vat.finding_rows import labelled

        plan, folder = self._screen.desk.plan, host_of(self._screen).folder
        page = method_page(plan, shelf_beside(folder))
        title = method_of(plan).name

        def rows(width: int) -> Sequence[Row]:
            return [line for word, text in page for line in (*labelled(word, text, width), BLANK)]

        self._screen.app.push_screen(ReadingWindow(capital(title), rows))

    def log(self) -> None:
        """Show what happened so far."""
        from vatside.log.words.day import log_lines
        from vatside.ui.day.working_window import log_rows

        lines = log_lines(self._screen.desk.state.whole)  # worded once: a window asks for its rows several times
        self._screen.app.push_screen(ReadingWindow("Log", lambda width: log_rows(lines, width), at_end=True))

    def notices(self) -> None:
        """Show everything to look out for."""
        self._screen.app.push_screen(NoticesWindow(self._screen.desk))

    def advice(self) -> None:
        """Put right what the gravest notice here is about, or first the one of the figure in hand."""
        readonly = self._screen.desk.keeping.readonly
        figure = self._body.figures.key if self._body.hand is Hand.READ else ""
        offers = notices.offered(self._banner.notices, figure)
        if readonly:
            self._screen.say(str(ReadOnly(readonly)))
        elif offers:
            notices.choose_remedy(self._screen.app, offers[0], self._take)
        else:
            self._screen.say("Nothing here can be put right by a key; i shows everything to look out for.")

    def _take(self, remedy: Remedy) -> None:
        self._screen.perform(lambda: acts.take_remedy(self._screen.desk, remedy))
        self._body.form.write_anew()
