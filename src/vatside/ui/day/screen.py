"""The day's screen: one stage at a time, what runs always at the bottom edge."""

from __future__ import annotations

from collections.abc import Sequence

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingsMap

from vatside.bench.acts import SAYS
from vatside.bench.day_line import line_of
from vatside.bench.desk import Desk
from vatside.bench.glance import MAKES_READY, next_of_day
from vatside.dayline.steps import Step, stage_name
from vatside.forms.fields import Field
from vatside.log.waits import Moment
from vatside.plan.sheet import Stage
from vatside.storage.session_file import ReadOnly
from vatside.ui.base.host import host_of
from vatside.ui.base.keymap import bindings
from vatside.ui.base.session_screen import SessionScreen
from vatside.ui.day.body import DayBody, DayWindows, Hand, StageForm
from vatside.ui.day.head import Banner, Course, DayHead
from vatside.ui.day.step_list import WetGlove, done_words, elsewhere_row, next_line
from vatside.ui.dips import now as dip_now
from vatside.ui.line.beside import NextThree
from vatside.ui.text.head_rows import opening_stage
from vatside.ui.text.rows import Row, Signs
from vatside.ui.widgets.entry import Entry
from vatside.ui.widgets.form import Form
from vatside.ui.widgets.lines import Lines


class DayScreen(SessionScreen):
    """One session at work, or one of a past day on a desk that plays it back."""

    def __init__(self, desk: Desk, signs: Signs, words: str = "", course: Course | None = None) -> None:
        super().__init__(desk, signs)
        self.course = course or Course(desk, signs)
        self.KEYS, self.WORDS = self.course.keys, self.course.words
        self._bindings.key_to_bindings.update(BindingsMap(bindings(self.KEYS)).key_to_bindings)
        self.key_line.above = self.course.above_keys
        self.key_line.resting = self._resting
        self.next_three = NextThree(desk)
        stage = opening_stage(desk.steps, self.glance.progress, line_of(desk).starts(self.glance.now))
        self.stage = stage
        self.head = DayHead(desk, signs, stage, self.glance, self.course.time_spans)
        self.body = DayBody(desk, signs, stage, self.glance, shows_form=self.course.shows_form)
        self.form, self.steps, self.figures = self.body.form, self.body.steps, self.body.figures
        self.banner = Banner(desk, stage, self.course.above_notices)
        self.windows = DayWindows(self, self.body, self.banner)
        self.glove = WetGlove()
        self.say(words, 20)

    def regions(self) -> ComposeResult:
        """Where am I, what do I set, what do I weigh, what do I do, what is running."""
        yield self.put(self.head)
        self.put(self.steps)
        self.put(self.figures)
        yield self.body
        yield self.put(self.banner)
        yield self.part("next", self._coming)
        yield self.put(self.next_three)

    def on_mount(self) -> None:
        """Begin where the day is."""
        self._tell_parts()
        self.show_form()
        self.body.put_titles()
        self.call_after_refresh(self._begin)

    def _begin(self) -> None:
        self.steps.keep_cursor()
        self.take(self.hand)

    # Which region has the keys

    @property
    def hand(self) -> Hand:
        """Which region takes the keys."""
        return self.body.hand

    def take(self, name: str) -> None:
        """Give the keys to a region, or say why it takes none."""
        refused = self.body.take(Hand(name))
        if refused:
            self.say(refused)
        else:
            self.steps.keep_cursor()
            self.refill("waits", "keys", "next")

    def action_hand(self, name: str) -> None:
        """Go to the form, the figures or the steps."""
        self.say("")
        self.take(name)

    def action_next_hand(self, by: int) -> None:
        """Go round the regions."""
        self.say("")
        self.take(self.body.after(by))

    @on(DayBody.Took)
    def _taken(self) -> None:
        self.refill("waits", "keys", "next")

    @on(Lines.Chose, "#steps")
    def _chose(self) -> None:
        self.figures.follow(self.steps.step_in_hand)
        self.refill("keys")

    # The form

    def show_form(self) -> None:
        """Turn the form to the stage on the screen."""
        self.form.show_stage(self.stage)

    def settle(self) -> None:
        """Log what was typed; the entry is finished."""
        words = self.form.settle()
        if words:
            self.say(words)

    @on(StageForm.Changed)
    def _form_changed(self, event: StageForm.Changed) -> None:
        self.renew()
        if event.words:
            self.say(event.words)

    @on(StageForm.Mended)
    def _form_mended(self, event: StageForm.Mended) -> None:
        self.key_line.unsay(event.words)

    @on(Form.Done)
    @on(Form.Ended)
    def _form_ended(self) -> None:
        """Stay: past the form every letter is a command, and who still types must not give any."""
        self.say("That was the last field. Esc goes to the steps.")

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
            self.action_window("advice")
        else:
            self.open_working(event.path)

    def action_add_lot(self) -> None:
        """Take one more lot in and show its rows; from the steps, go on with what it is of."""
        if self.stage is not Stage.PLAN:
            return
        self.perform(self.form.add_lot)
        if self.hand is not Hand.SET:
            self.take(Hand.SET)
            self.form.take(f"lots.{self.form.lot[Stage.PLAN]}.fibre")

    def action_remove_lot(self) -> None:
        """Take the lot on the screen out."""
        if self.stage is Stage.PLAN:
            self.perform(self.form.remove_lot)

    # What is shown

    def look(self, now: Moment) -> None:
        """Look at the clock."""
        super().look(now)
        self._tell_parts()

    def refill(self, *names: str) -> None:
        """Show some regions anew, as the stage, the hand and the clock are now."""
        self._tell_parts()
        super().refill(*names)

    def _tell_parts(self) -> None:
        self.head.stage = self.banner.stage = self.stage
        self.head.glance = self.glance
        self.banner.typing = self.hand is Hand.SET
        # In the form a space is a letter: then nothing here is what it acts on.
        self.steps.point_with("" if self.hand is Hand.SET else self.signs.here)
        self.head.turns = self.course.shows_form or not self.banner.typing
        self.body.show(self.stage, self.glance)

    def renew(self) -> None:
        """Show everything anew."""
        self.desk.advance()
        self.look(self.desk.clock.now())
        self.show_form()
        self.refill(*self.parts)
        self.steps.keep_cursor()
        self.figures.follow(self.steps.step_in_hand)

    def tick(self, now: Moment) -> None:
        """Let the clock show; typed text that has come to rest is logged."""
        if self.desk.advance():
            self.follow()
            self.renew()
            return
        try:
            self.desk.settle_if_paused(now)
        except ReadOnly as reason:
            self.say(str(reason))
        if line_of(self.desk).is_behind(now):
            self.renew()
            return
        marked = bool(self.glance.marks)
        self.look(self.desk.clock.now())
        self.refill("head", "waits", "keys", *self.course.moving)
        if marked:
            self.refill("figures")
        if self.glance.waits or self.stage is Stage.PLAN:
            self.refill("steps")
            self.steps.keep_cursor()

    def follow(self) -> None:
        """Go to where the clock has brought something new, if the screen goes along."""
        latest = self.course.latest()
        if latest is not None and latest[0] in self.desk.stages():
            self.go(latest[0])
            self.steps.refill()
            if latest[1] in self.steps.keys:
                self.steps.choose(latest[1])

    def _coming(self, width: int) -> Sequence[Row]:
        """Say what is next, where the steps themselves have no room."""
        return (next_line(self.steps.next_step, bool(self.desk.steps), width),)

    def _resting(self, width: int) -> Sequence[Row]:
        """Say what comes first on another stage, where the next three have no room; else how far the day is."""
        desk = self.desk
        begun = bool(desk.state.done or desk.state.waits) and not desk.keeping.readonly
        if begun and self.stage in MAKES_READY and not self.next_three.counts:
            coming = next_of_day(desk.steps, self.glance.progress, self.steps.starts)
            begin = self.steps.begin_of(coming) if coming else ""
            if coming and coming.stage in MAKES_READY and coming.stage is not self.stage and begin:
                return (elsewhere_row(coming, begin, stage_name(coming.stage, desk.steps), width),)
        return self.course.day_line(self.glance, width)

    @property
    def field_in_hand(self) -> Field | None:
        """The field of the form that the cursor is in, or was."""
        return self.form.field_in_hand

    @property
    def offers(self) -> bool:
        """Tell whether a notice here can be put right."""
        return self.banner.offers

    # The stages

    def action_turn(self, by: int) -> None:
        """Go to the stage before or after."""
        stages = self.desk.stages()
        at = stages.index(self.stage) if self.stage in stages else 0
        self.course.turned()
        self.go(stages[max(min(at + by, len(stages) - 1), 0)])

    def action_stage(self, name: str) -> None:
        """Go to a stage by its name."""
        self.course.turned()
        self.go(Stage(name))

    def go(self, stage: Stage) -> None:
        """Show a stage."""
        if stage is self.stage:
            return
        self.settle()
        self.stage = stage
        self.body.turn(stage)
        self.renew()

    # What the keys do

    @property
    def step_in_hand(self) -> Step | None:
        """The step that the cursor is on."""
        return self.steps.step_in_hand

    def action_do(self) -> None:
        """Do the step in hand; on the plan, go to the stage in hand."""
        key = self.steps.key
        if self.stage is Stage.DIP and dip_now.is_board(self.desk, key):
            self.action_dips()
        elif self.stage is not Stage.PLAN:
            if self.glove.presses(self.glance.progress.running, self.desk.clock.now().elapsed):
                super().action_do()
        elif key in {stage.value for stage in self.desk.stages()}:
            self.go(Stage(key))

    def done(self) -> None:
        """After a step is done or begun: go on to what comes next."""
        step, done, running = self.step_in_hand, self.desk.state.done, self.glance.progress.running
        if self.glove.goes_on(step, done, running, self.desk.clock.now().elapsed):
            self.steps.choose_next()
            self.figures.follow(self.steps.step_in_hand)
        if step is not None and step.id in done and step.id not in SAYS and self.steps.is_finished:
            coming = next_of_day(self.desk.steps, self.glance.progress, self.steps.starts)
            self.say(done_words(self.stage, self.desk.steps, coming, self.signs))

    def action_undo(self) -> None:
        """Take the last act back; a step that is to be done again comes to hand, or space would go on with the next."""
        before = {*self.desk.state.done, *self.glance.progress.running}
        super().action_undo()
        again = before - {*self.desk.state.done, *self.glance.progress.running}
        for step in (key for key in self.steps.keys if key in again):
            self.steps.choose(step)
            self.figures.follow(self.steps.step_in_hand)

    def action_course(self, act: str, *given: int) -> None:
        """Do what a key of the course does, if it has any of its own."""
        getattr(self.course, act)(self, *given)

    def action_window(self, name: str) -> None:
        """Show the waits large, the log, what to look out for, or put it right; what was typed is logged first."""
        self.settle()
        getattr(self.windows, name)()

    def action_all_figures(self) -> None:
        """Show every figure of a stage, or only what is weighed and drawn."""
        self.desk.all_figures = not self.desk.all_figures
        self.body.put_titles()
        self.refill("figures")

    def action_working(self) -> None:
        """Show the working of the figure in hand."""
        self.open_working(self.figures.key)

    def open_working(self, figure: str) -> None:
        """Show how a figure came about; of a depth, the ladder; of a kind of vat, its page."""
        if figure.startswith("lots.") and figure.endswith(".depth"):
            self.action_dips()
        elif figure == "method":
            self.windows.method()
        else:
            self.windows.working(figure)

    def action_reading(self) -> None:
        """Take a reading of what stands on the stove."""
        host_of(self).routes.read_on(self, self.stage)

    def action_vat(self) -> None:
        """Show the vat's account and its history."""
        host_of(self).routes.vat(self)

    def action_dips(self) -> None:
        """Show the dip board; on the plan, the ladder of depths."""
        routes = host_of(self).routes
        if self.stage is Stage.PLAN:
            routes.ladder(self, self.form.lot.get(Stage.PLAN, ""))
        else:
            routes.board(self)

    def action_colour(self) -> None:
        """Record the colour that came out."""
        host_of(self).routes.colour(self, self.form.lot_in_hand)

    def action_others(self) -> None:
        """Offer what reaches beyond the day: the shelf, the class card, the kept vat, its blue, the replay."""
        host_of(self).routes.others(self)
