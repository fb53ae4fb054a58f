"""What stands around the regions of the day's screen: its head, its notices, and how the day goes."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from vatside.bench.day_line import line_of
from vatside.bench.desk import Desk
from vatside.bench.glance import Glance
from vatside.plan.sheet import Notice, Stage
from vatside.ui.base.keymap import Sections, Table
from vatside.ui.day.keys import DAY_KEYS, DAY_WORDS
from vatside.ui.text.form_rows import refused_stages
from vatside.ui.text.head_rows import head_rows, marked, stage_views, standing_spans, time_spans, vat_words
from vatside.ui.text.rows import BLANK, Row, Signs, Span, day_bar
from vatside.ui.widgets.lines import Lines
from vatside.ui.windows.notices import banner_rows

WIDE = 76
"""Columns from which the head has room for the hour at which a day begins."""
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
        progress = self.glance.progress
        views = stage_views(desk.stages(), desk.steps, progress.done, desk.notices, progress.passed)
        if desk.wrong:
            views = marked(views, refused_stages(desk.plan, desk.wrong))
        time = tuple(self._time(self.glance, width))
        return head_rows(desk.plan.title, views, self.stage, time, width, self.signs, turns=self.turns)


class Banner(Lines):
    """The gravest notices of the stage; for the plan, of the whole day."""

    def __init__(self, desk: Desk, stage: Stage, above: Callable[[int], Sequence[Row]]) -> None:
        """`above` gives for a width what comes before the notices."""
        super().__init__(self._rows, id="banner", keys=False)
        self.desk = desk
        self.stage = stage
        self.typing = False
        """Someone types in the form."""
        self._above = above
        self._high = 0
        """Rows that the notices hold while someone types."""

    @property
    def notices(self) -> tuple[Notice, ...]:
        """The notices of the stage; for the plan, of the whole day, and what two stages say once."""
        said = {notice.text: notice for notice in self.desk.notices if self.stage in (Stage.PLAN, notice.stage)}
        return tuple(said.values())

    @property
    def offers(self) -> bool:
        """Tell whether one of them can be put right."""
        return self.desk.keeping.readonly is None and any(notice.remedies for notice in self.notices)

    def _rows(self, width: int) -> Sequence[Row]:
        fixed = self.desk.keeping.readonly is not None
        rows = banner_rows(self.notices, width, self._most, fixed=fixed)
        # While someone types, notices come and go with every key: the form must not jump about for them.
        self._high = max(len(rows), self._high) if self.typing else len(rows)
        return (*self._above(width), *rows, *[BLANK] * (self._high - len(rows)))

    @property
    def _most(self) -> int:
        """Rows for what must not be overlooked; the plan needs its room for the form."""
        height = self.screen.size.height
        if height >= 30:
            return 5
        return 2 if height < 24 or self.stage is Stage.PLAN else 3


class Course:
    """How a day at work goes on its screen; a replayed one does each in its own way, and has acts of its own keys."""

    keys: Table = DAY_KEYS
    """The keys of the screen; actions of its own are `course('…')`."""
    words: Sections = DAY_WORDS
    """What the help explains after them."""
    moving: tuple[str, ...] = ("coming",)
    """The regions that move with its clock, beside those of every day."""
    shows_form: bool = False
    """The form can be looked at although nothing in it can be changed."""

    def __init__(self, desk: Desk, signs: Signs) -> None:
        self.desk = desk
        self.signs = signs

    def time_spans(self, glance: Glance, width: int) -> Sequence[Span]:
        """Say what is wrong with the file, or when the vat is ready, or how it stands."""
        desk = self.desk
        standing = standing_spans(desk.keeping.standing)
        if standing:
            return standing
        vat = vat_words(desk.state, glance.waits, desk.disorder(glance.now)) if desk.is_made else None
        seen = line_of(desk).seen(glance.now)
        return time_spans(seen, over=self._share(glance) == 1, vat=vat, wide=width >= WIDE)

    def day_line(self, glance: Glance, width: int) -> Sequence[Row]:
        """Say which share of the steps is done."""
        return (Row(day_bar(self._share(glance), width, self.signs)),)

    def _share(self, glance: Glance) -> float:
        done, steps = glance.progress.over, self.desk.steps
        return sum(step.id in done for step in steps) / len(steps) if steps else 0.0

    def above_notices(self, width: int) -> Sequence[Row]:  # noqa: ARG002
        """Say what must be seen before the notices of the day: nothing."""
        return ()

    def above_keys(self, width: int) -> Sequence[Row]:  # noqa: ARG002
        """Say what stands over the keys: nothing."""
        return ()

    def turned(self) -> None:
        """Know that the dyer turned to a stage by hand; a day at work never turns by itself."""

    def latest(self) -> tuple[Stage, str] | None:
        """Give the stage and step that the screen goes to once the clock has brought something new; None: it stays."""
        return None
