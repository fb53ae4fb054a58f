"""Everything on the screen that moves with the clock, as it stands at one moment."""

from __future__ import annotations

from collections.abc import Mapping
from collections.abc import Set as AbstractSet
from datetime import datetime

from attrs import frozen

from vatside.bench.wait_view import WaitView
from vatside.dayline.schedule import Schedule
from vatside.log.moment import Moment


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


@frozen
class Progress:
    """How far the day has come."""

    done: AbstractSet[str]
    running: Mapping[str, WaitView]
    """Running waits by their step."""
    starts: Mapping[str, datetime]
    """When each step should begin, if the vat is to be ready in time."""
