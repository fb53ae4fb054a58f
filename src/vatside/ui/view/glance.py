"""Everything on the screen that moves with the clock, as it stands at one moment."""

from __future__ import annotations

from collections.abc import Mapping

from attrs import frozen

from vatside.dayline.schedule import Schedule
from vatside.session.events import Moment
from vatside.ui.view.steps import Progress
from vatside.ui.view.waits import WaitView


@frozen
class Glance:
    """One look at the bench."""

    now: Moment
    waits: tuple[WaitView, ...]
    day: Schedule
    progress: Progress
    marks: Mapping[str, int]
    """Figures that changed a moment ago."""

    @property
    def ringing(self) -> tuple[WaitView, ...]:
        """Waits that want to be heard."""
        return tuple(wait for wait in self.waits if wait.ringing)
