"""What must not be overlooked in a stage, between its regions and the waits."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from vatside.bench.desk import Desk
from vatside.plan.sheet import Notice, Stage
from vatside.ui.text.notice_rows import banner_rows
from vatside.ui.text.rows import BLANK, Row
from vatside.ui.widgets.lines import Lines


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
        """The notices of the stage; for the plan, of the whole day."""
        return tuple(notice for notice in self.desk.notices if self.stage in (Stage.PLAN, notice.stage))

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
