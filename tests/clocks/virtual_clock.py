"""A clock for tests that goes only when told to."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from attrs import define, field

from vatside.log.waits import Moment


@define
class VirtualClock:
    """A clock that goes only when told to."""

    utc: datetime = datetime(2026, 5, 2, 8, 0, tzinfo=UTC)
    elapsed: float = 0.0
    boot: str = "virtual1"
    counts_sleep: bool = True
    _awake: float = field(default=0.0, alias="awake")

    def now(self) -> Moment:
        """Read it."""
        return Moment(self.utc, self.elapsed, self.boot)

    def awake(self) -> float:
        """Seconds without sleep."""
        return self._awake

    def set(self, moment: Moment) -> None:
        """Show another moment."""
        self.utc, self.elapsed, self.boot = moment.utc, moment.elapsed, moment.boot

    def advance(self, seconds: float) -> None:
        """Let time go by."""
        self.utc += timedelta(seconds=seconds)
        self.elapsed += seconds
        self._awake += seconds

    def sleep(self, seconds: float) -> None:
        """Shut the lid for a while."""
        self.utc += timedelta(seconds=seconds)
        if self.counts_sleep:
            self.elapsed += seconds

    def step_wall(self, seconds: float) -> None:
        """Set the time of day forward or, if negative, back."""
        self.utc += timedelta(seconds=seconds)

    def reboot(self, seconds: float = 0.0) -> None:
        """Start the machine anew after some seconds off."""
        self.utc += timedelta(seconds=seconds)
        self.elapsed, self._awake = 0.0, 0.0
        self.boot = f"{self.boot}+"
