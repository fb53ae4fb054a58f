"""What the regions of the day's screen show, each for the width it has."""

from __future__ import annotations

from collections.abc import Sequence

from vatside.bench.desk import local
from vatside.dayline.long_day import long_day
from vatside.dayline.steps import Step
from vatside.forms.fields import Field
from vatside.plan.sheet import Figure, Notice, Stage
from vatside.recipe.shown import shown
from vatside.ui.base.waits_screen import Watching
from vatside.ui.day.figure_rows import figure_rows, overview
from vatside.ui.day.schedule_rows import day_rows
from vatside.ui.text.bars import day_bar
from vatside.ui.text.form_rows import refused_stages
from vatside.ui.text.head_rows import head_rows, marked, standing_spans, time_spans, vat_words
from vatside.ui.text.notice_rows import banner_rows
from vatside.ui.text.rows import BLANK, Row
from vatside.ui.text.stage_line import stage_views
from vatside.ui.text.step_rows import next_line, next_step, step_rows


class Regions(Watching):
    """The regions as functions of the session, the stage on the screen and one look at the clock."""

    stage: Stage
    hand: str

    _kept_high = 0
    """Rows that the notices hold while someone types."""

    def head(self, width: int) -> Sequence[Row]:
        """Say where one is."""
        desk, day = self.desk, self.glance.day
        views = stage_views(desk.stages(), desk.steps, self.glance.progress.done, desk.notices)
        if desk.wrong:
            views = marked(views, refused_stages(desk.plan, desk.wrong))
        vat = vat_words(desk.state, self.glance.waits, desk.disorder(self.glance.now)) if day.is_ready else ""
        time = standing_spans(desk.keeping.standing) or time_spans(
            day, self._share == 1, vat, local(self.glance.now).date()
        )
        turns = self.hand != "setting"
        return head_rows(desk.plan.title, views, self.stage, time, width, self.signs, turns=turns)

    def day_line(self, width: int) -> Sequence[Row]:
        """Say how far the day has come."""
        return (Row(day_bar(self._share, width, self.signs)),)

    @property
    def _share(self) -> float:
        done = self.glance.progress.done
        steps = self.desk.steps
        return sum(step.id in done for step in steps) / len(steps) if steps else 0.0

    def figures(self, width: int) -> Sequence[Row]:
        """Say what to weigh."""
        whole_day = self.stage is Stage.PLAN
        rows = figure_rows(
            self.figures_here(), self.desk.plan, self.glance.marks, width, self.signs, by_stage=whole_day
        )
        if self.stage is not Stage.VAT:
            return rows
        from vatside.ui.vat.ph_scale import with_picture

        roomy = self.size.height >= 30
        return with_picture(rows, self.desk.plan, self.desk.sheet, width, self.signs, roomy=roomy)

    def figures_here(self) -> tuple[Figure, ...]:
        """What the stage weighs and draws, or all its figures; for the plan, what the whole day takes."""
        if self.stage is Stage.PLAN:
            return overview(self.desk.sheet)
        return self.desk.sheet.of(self.stage) if self.desk.all_figures else shown(self.desk.sheet, self.stage)

    def steps(self, width: int) -> Sequence[Row]:
        """Say what to do."""
        if self.stage is Stage.PLAN:
            done = tuple(self.glance.progress.done)
            said = "" if done else long_day(self.desk.plan, self.desk.steps, self.glance.day)
            return day_rows(self.desk.steps, done, self.glance.day, width, self.signs, said)
        return step_rows(self.desk.steps_in(self.stage), self.glance.progress, width, self.signs)

    def banner(self, width: int) -> Sequence[Row]:
        """Say what must not be overlooked."""
        fixed = self.desk.keeping.readonly is not None
        rows = banner_rows(self.notices_here, width, self._notices_high, fixed=fixed)
        # While someone types, notices come and go with every key: the form must not jump about for them.
        self._kept_high = max(len(rows), self._kept_high) if self.hand == "setting" else len(rows)
        return (*rows, *[BLANK] * (self._kept_high - len(rows)))

    @property
    def notices_here(self) -> tuple[Notice, ...]:
        """The notices of the stage; for the plan, of the whole day."""
        return tuple(notice for notice in self.desk.notices if self.stage in (Stage.PLAN, notice.stage))

    @property
    def _notices_high(self) -> int:
        """Rows for what must not be overlooked; the plan needs its room for the form."""
        if self.size.height >= 30:
            return 5
        return 2 if self.size.height < 24 or self.stage is Stage.PLAN else 3

    def coming(self, width: int) -> Sequence[Row]:
        """Say what is next, where the steps themselves have no room."""
        return (next_line(self.next_step, bool(self.desk.steps), width, self.signs),)

    @property
    def next_step(self) -> Step | None:
        """The next step of this stage, or else of the day."""
        here = next_step(self.desk.steps_in(self.stage), self.glance.progress)
        return here or next_step(self.desk.steps, self.glance.progress)

    def key_words(self, width: int) -> Sequence[Row]:
        """Say which keys count here, or what was just said."""
        said = self.said_rows(width)
        if said:
            return said
        return (self.key_row(width),)

    @property
    def offers(self) -> bool:
        """Tell whether a notice here can be put right."""
        return self.desk.keeping.readonly is None and any(notice.remedies for notice in self.notices_here)

    @property
    def field_in_hand(self) -> Field | None:
        """The field that the cursor is in."""
        raise NotImplementedError

    @property
    def step_in_hand(self) -> Step | None:
        """The step that the cursor is on."""
        return self.desk.step(self.parts["steps"].key)
