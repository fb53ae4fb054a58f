"""A day shown to a newcomer: the replay of one, with a sentence and a key at each of its stops."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from vatside.bench.desk import Desk
from vatside.bench.guided_desk import GuidedDesk
from vatside.plan.plan import Plan
from vatside.ui.past.playback import Playback
from vatside.ui.past.replay_rows import stop_rows
from vatside.ui.text.rows import Row
from vatside.ui.text.signs import Signs


class Guided(Playback):
    """The course of such a day: in place of what happened last it says what there is to see."""

    def __init__(
        self, desk: GuidedDesk, signs: Signs, live: Callable[[], Desk | None], begin: Callable[[Plan], None]
    ) -> None:
        super().__init__(desk, signs, live, begin)
        self.guided = desk

    def above_keys(self, width: int) -> Sequence[Row]:
        """Say what is to be seen at the stop that was reached last."""
        at = self.guided.stops.index(self.guided.stop) + 1
        return stop_rows(self.guided.stop, at, len(self.guided.stops), width)
