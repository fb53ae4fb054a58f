"""A wait as it is seen at one moment."""

from __future__ import annotations

from attrs import frozen


@frozen
class WaitView:
    """One wait as it stands at a moment."""

    id: str
    number: int
    """Which key chooses it."""
    label: str
    left: float
    """Seconds to go; negative once it is over."""
    share: float
    """How much of it has elapsed, 0 to 1."""
    paused: bool = False
    ringing: bool = False
    """Its alarm, or that of its latest nudge, sounds until someone quiets it."""
    nudge: str = ""
    """What to do at the next call, or what the ringing call asks for."""
    nudge_left: float | None = None
    """Seconds to that call; None: none to come."""
    step: str | None = None

    @property
    def over(self) -> bool:
        """Its time is up."""
        return self.left <= 0
