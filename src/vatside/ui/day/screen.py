"""The day's screen: one stage at a time, what runs always at the bottom edge."""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum

from textual import events, on
from textual.app import ComposeResult
from textual.containers import Horizontal

from vatside.bench.desk import Desk
from vatside.forms.fields import Field
from vatside.log.moment import Moment
from vatside.plan.sheet import Stage
from vatside.storage.session_file import ReadOnly
from vatside.ui.day.keys import DAY_KEYS, DAY_WORDS
from vatside.ui.day.ways_out import Ways
from vatside.ui.dips import now as dip_now
from vatside.ui.text.rows import Row
from vatside.ui.text.signs import Signs
from vatside.ui.text.stage_line import opening_stage
from vatside.ui.text.step_rows import done_words, next_step
from vatside.ui.widgets.entry import Entry
from vatside.ui.widgets.form import Form


class Hand(StrEnum):
    """Which region takes the keys."""

    SET = "setting"
    READ = "reading"
    DO = "doing"


ROUND = (Hand.DO, Hand.READ, Hand.SET)
REGION = {Hand.READ: "figures", Hand.DO: "steps"}


class DayScreen(Ways):
    """One session at work."""

    KEYS = DAY_KEYS
    WORDS = DAY_WORDS

    def __init__(self, desk: Desk, signs: Signs, words: str = "") -> None:
        super().__init__()
        self.desk = desk
        self.signs = signs
        self.glance = desk.glance(desk.clock.now())
        self.stage = opening_stage(desk.steps, self.glance.progress.done, self.glance.progress.running.keys())
        self.hand = Hand.SET if self.stage is Stage.PLAN and not desk.keeping.readonly else Hand.DO
        self.lot: dict[Stage, str] = {}
        self.said = (words, self.glance.now.elapsed + 20)

    def compose(self) -> ComposeResult:
        """Where am I, what do I set, what do I weigh, what do I do, what is running."""
        yield self.too_small()
        yield self.part("head", self.head)
        with Horizontal(id="body"):
            yield Form(id="form", signs=self.signs)
            yield self.part("steps", self.steps, "Do", keys=True)
            yield self.part("figures", self.figures, "Weigh and draw", keys=True)
        yield self.part("banner", self.banner)
        yield self.part("next", self.coming)
        yield self.part("day", self.day_line)
        yield self.part("waits", self.running)
        yield self.part("keys", self.key_words)

    def on_mount(self) -> None:
        """Begin where the day is."""
        self.form.disabled = self.desk.keeping.readonly is not None
        self.show_form()
        self.titles()
        self._mark_hand(Hand(self.hand))
        self.call_after_refresh(self._begin)

    @property
    def form(self) -> Form:
        """The form."""
        return self.query_one(Form)

    @property
    def field_in_hand(self) -> Field | None:
        """The field that the cursor is in."""
        return next((item.field for item in self.form.rows if item.path == self.form.at), None)

    def _begin(self) -> None:
        self._settle_steps()
        self.take(Hand(self.hand))

    # The two hands

    def take(self, hand: Hand) -> None:
        """Give the keys to a region."""
        if hand is Hand.SET and self.desk.keeping.readonly:
            self.say(f"Reading only: {self.desk.keeping.readonly}.")
            return
        self._mark_hand(hand)
        if hand is Hand.SET:
            self.form.take()
        else:
            self.parts[REGION[hand]].focus()
        self.refill("keys", "next")

    def _mark_hand(self, hand: Hand) -> None:
        """The left side shows the form or the steps, whichever had the keys last."""
        self.hand = hand
        marks = {f"-{one.value}": one is hand for one in Hand}
        # All at once: after each change the rules of everything on the screen are looked up anew.
        self.update_classes(marks if hand is Hand.READ else marks | {"-steps": hand is Hand.DO})

    def action_hand(self, name: str) -> None:
        """Go to the form, the figures or the steps."""
        self.say("")
        self.take(Hand(name))

    def action_next_hand(self, by: int) -> None:
        """Go round the regions: from the steps to the figures, and only then into the form."""
        self.say("")
        self.take(ROUND[(ROUND.index(Hand(self.hand)) + by) % len(ROUND)])

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """A click gives a region the keys as well."""
        found = {name: hand for hand, name in REGION.items()}.get(event.widget.id or "")
        hand = Hand.SET if isinstance(event.widget, Entry) else found
        if hand is not None and hand is not self.hand:
            self._mark_hand(hand)
            self.refill("keys", "next")
        elif hand is Hand.SET:
            self.refill("keys")

    @on(Form.Done)
    @on(Form.Ended)
    def _form_ended(self) -> None:
        """Stay: past the form every letter is a command, and who still types must not give any."""
        self.say("That was the last field. Esc goes to the steps.")

    # Showing

    def renew(self) -> None:
        """Show everything anew."""
        self.look(self.desk.clock.now())
        self.show_form()
        self.refill("head", "figures", "steps", "banner", "next", "day", "waits", "keys")
        self._settle_steps()

    def tick(self, now: Moment) -> None:
        """Let the clock show; typed text that has come to rest is logged."""
        try:
            self.desk.settle_if_paused(now)
        except ReadOnly as reason:
            self.say(f"Reading only: {reason}.")
        marked = bool(self.glance.marks)
        self.look(now)
        self.refill("head", "waits", "keys")
        if marked:
            self.refill("figures")
        if self.glance.waits or self.stage is Stage.PLAN:
            self.refill("steps")

    def on_screen_resume(self) -> None:
        """Catch up with what happened while another screen was in front."""
        if self.parts:
            self.renew()

    def action_turn(self, by: int) -> None:
        """Go to the stage before or after."""
        stages = self.desk.stages()
        at = stages.index(self.stage) if self.stage in stages else 0
        self.go(stages[max(min(at + by, len(stages) - 1), 0)])

    def action_stage(self, name: str) -> None:
        """Go to a stage by its name."""
        self.go(Stage(name))

    def go(self, stage: Stage) -> None:
        """Show a stage."""
        if stage is self.stage:
            return
        self.settle()
        self.stage = stage
        for lines in (self.parts["figures"], self.parts["steps"]):
            lines.key = ""
            lines.scroll_home(animate=False)
        self.titles()
        self.form.at = ""
        self.renew()

    def titles(self) -> None:
        """Say above the regions what stands in them."""
        plan = self.stage is Stage.PLAN
        here = "All figures (z: fewer)" if self.desk.all_figures else "Weigh and draw (z: all)"
        self.parts["steps"].border_title = "The day" if plan else "Do"
        self.parts["figures"].border_title = "For the whole day" if plan else here

    def _settle_steps(self) -> None:
        """Keep the cursor of the steps on something there is: the next step, unless the dyer chose another."""
        lines = self.parts["steps"]
        if lines.key not in lines.keys:
            self.choose_next()

    def choose_next(self) -> None:
        """Put the cursor on a wait of this stage that is over, or else on the next step.

        With nothing left to begin it goes to what runs, or stays, so that a done step never comes to hand by itself.
        """
        lines = self.parts["steps"]
        running = self.glance.progress.running
        over = [step for step, wait in running.items() if wait.over]
        coming = next_step(self.desk.steps_in(self.stage), self.glance.progress)
        wanted = (*over, *([coming.id] if coming else []), *running, lines.key, *lines.keys[-1:])
        here = [key for key in wanted if key in lines.keys]
        if here:
            lines.choose(here[0])

    def action_do(self) -> None:
        """Do the step in hand; on the plan, go to the stage in hand."""
        key = self.parts["steps"].key
        if self.stage is Stage.DIP and dip_now.is_board(self.desk, key):
            self.action_dips()
        elif self.stage is not Stage.PLAN:
            super().action_do()
        elif key in {stage.value for stage in self.desk.stages()}:
            self.go(Stage(key))

    def done(self) -> None:
        """After a step: go on to the next one."""
        step = self.step_in_hand
        if step is None or step.id in self.desk.state.done:
            self.choose_next()
        coming = next_step(self.desk.steps, self.glance.progress)
        if step is not None and step.id in self.desk.state.done and not self._is_open(self.stage):
            self.say(done_words(self.stage, coming, self.signs))

    def _is_open(self, stage: Stage) -> bool:
        """Tell whether anything is left to do in a stage."""
        return any(step.id not in self.desk.state.done for step in self.desk.steps_in(stage))

    def figures(self, width: int) -> Sequence[Row]:
        """Say what to weigh; while a depth is being set, show how deep that is."""
        setting = self.stage is Stage.PLAN and self.hand is Hand.SET
        return (dip_now.ladder(self, self.form.at, width) if setting else ()) or super().figures(width)

    def steps(self, width: int) -> Sequence[Row]:
        """Say what to do; while pieces are in the vat and the air, who is next comes first."""
        call = dip_now.call(self.desk, self.glance.now, width) if self.stage is Stage.DIP else ()
        return (*call, *super().steps(width))
