"""The head of the day's screen: its title, the hour, the stages; and the line that says how far the day has come."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from vatside.bench.desk import Desk
from vatside.bench.glance import Glance
from vatside.plan.sheet import Stage
from vatside.ui.text.form_rows import refused_stages
from vatside.ui.text.head_rows import head_rows, marked
from vatside.ui.text.rows import Row, Span
from vatside.ui.text.signs import Signs
from vatside.ui.text.stage_line import stage_views
from vatside.ui.widgets.lines import Lines

TimeSpans = Callable[[Glance, int], Sequence[Span]]


class DayHead(Lines):
    """Where one is in the day; the stage on the screen is marked."""

    def __init__(self, desk: Desk, signs: Signs, stage: Stage, glance: Glance, time: TimeSpans) -> None:
        """`time` gives what stands at the right, from a look at the clock and the width of the screen."""
        super().__init__(self._rows, id="head", keys=False)
        self.desk = desk
        self.signs = signs
        self.stage = stage
        self.glance = glance
        self.turns = True
        """The arrows go from stage to stage now."""
        self._time = time

    def _rows(self, width: int) -> Sequence[Row]:
        desk = self.desk
        views = stage_views(desk.stages(), desk.steps, self.glance.progress.done, desk.notices)
        if desk.wrong:
            views = marked(views, refused_stages(desk.plan, desk.wrong))
        time = tuple(self._time(self.glance, width))
        return head_rows(desk.plan.title, views, self.stage, time, width, self.signs, turns=self.turns)
