"""The steps of the stage on the screen: what to do; for the plan, when each stage begins."""

from __future__ import annotations

from collections.abc import Sequence

from vatside.bench.desk import Desk
from vatside.bench.glance import Glance
from vatside.dayline.long_day import long_day
from vatside.dayline.steps import Step
from vatside.plan.sheet import Stage
from vatside.ui.day.schedule_rows import day_rows
from vatside.ui.dips import now as dip_now
from vatside.ui.text.rows import Row
from vatside.ui.text.signs import Signs
from vatside.ui.text.step_rows import next_step, step_rows
from vatside.ui.widgets.lines import Lines


class StepList(Lines):
    """The steps with their waits; the cursor stands on the one that space does."""

    def __init__(self, desk: Desk, signs: Signs, stage: Stage, glance: Glance) -> None:
        super().__init__(self._rows, id="steps")
        self.add_class("framed")
        self.desk = desk
        self.signs = signs
        self.stage = stage
        self.glance = glance
        self.put_title()

    def put_title(self) -> None:
        """Say above the steps what they are."""
        self.border_title = "The day" if self.stage is Stage.PLAN else "Do"

    def turn(self, stage: Stage) -> None:
        """Begin at the top of another stage."""
        self.stage, self.key = stage, ""
        self.scroll_home(animate=False)
        self.put_title()

    @property
    def step_in_hand(self) -> Step | None:
        """The step that the cursor is on."""
        return self.desk.step(self.key)

    @property
    def next_step(self) -> Step | None:
        """The next step of this stage, or else of the day."""
        return self._next_here or next_step(self.desk.steps, self.glance.progress)

    @property
    def _next_here(self) -> Step | None:
        return next_step(self.desk.steps_in(self.stage), self.glance.progress)

    @property
    def is_finished(self) -> bool:
        """Tell whether every step of the stage is done."""
        return all(step.id in self.desk.state.done for step in self.desk.steps_in(self.stage))

    def keep_cursor(self) -> None:
        """Keep the cursor on something there is: the next step, unless the dyer chose another."""
        if self.key not in self.keys:
            self.choose_next()

    def choose_next(self) -> None:
        """Put the cursor on a wait of this stage that is over, or else on the next step.

        With nothing left to begin it goes to what runs, or stays, so that a done step never comes to hand by itself.
        """
        running = self.glance.progress.running
        over = [step for step, wait in running.items() if wait.over]
        coming = self._next_here
        wanted = (*over, *([coming.id] if coming else []), *running, self.key, *self.keys[-1:])
        there = [key for key in wanted if key in self.keys]
        if there:
            self.choose(there[0])

    def _rows(self, width: int) -> Sequence[Row]:
        if self.stage is Stage.PLAN:
            return self._day(width)
        # While pieces are in the vat and the air, who is next comes first.
        call = dip_now.call(self.desk, self.glance.now, width) if self.stage is Stage.DIP else ()
        return (*call, *step_rows(self.desk.steps_in(self.stage), self.glance.progress, width, self.signs))

    def _day(self, width: int) -> Sequence[Row]:
        """Say when each stage begins, and what a long day costs."""
        done = tuple(self.glance.progress.done)
        said = "" if done else long_day(self.desk.plan, self.desk.steps, self.glance.day)
        return day_rows(self.desk.steps, done, self.glance.day, width, self.signs, said)
