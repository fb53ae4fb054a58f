"""Keys that count only when they are pressed once more: what was asked about, and for how long the answer counts."""

from __future__ import annotations

ASKS_FOR = 20.0
"""Seconds for which a second press is the answer: long enough to read two lines at the stove. Ours, no source."""


class OnceMore:
    """What was asked about last; the same again, soon enough, is a yes."""

    def __init__(self, seconds: float = ASKS_FOR) -> None:
        self._seconds = seconds
        self._what: object = None
        self._until = 0.0

    def answers(self, what: object, now: float) -> bool:
        """Tell whether this was asked about a moment ago; if not, it is asked about from now (seconds) on."""
        yes = self._what is not None and self._what == what and now < self._until
        self._what, self._until = (None, 0.0) if yes else (what, now + self._seconds)
        return yes

    def forget(self) -> None:
        """Ask about nothing any more."""
        self._what = None
