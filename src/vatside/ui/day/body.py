"""The three regions of the day's screen: what is set, what is done, what is weighed; one of them has the keys."""

from __future__ import annotations

from enum import StrEnum

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.message import Message

from vatside.bench.desk import Desk
from vatside.bench.glance import Glance
from vatside.plan.sheet import Stage
from vatside.ui.day.figure_table import FigureTable
from vatside.ui.day.stage_form import StageForm
from vatside.ui.day.step_list import StepList
from vatside.ui.text.signs import Signs
from vatside.ui.widgets.entry import Entry


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
            return f"Reading only: {readonly}."
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
        marks = {f"-{one.value}": one is hand for one in Hand}
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
