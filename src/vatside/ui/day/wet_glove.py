"""What a wet glove does that presses once too often, and where the cursor goes after a step that was meant."""

from __future__ import annotations

from collections.abc import Iterable

from vatside.dayline.steps import Step

BOUNCE = 0.5
"""Seconds after a wait was begun in which a second press counts for a slip. Ours, no source."""


class WetGlove:
    """Remembers what ran before the last press, and when it began a wait."""

    def __init__(self) -> None:
        self._ran: frozenset[str] = frozenset()
        self._begun = float("-inf")

    def presses(self, running: Iterable[str], now: float) -> bool:
        """Tell whether a press at a second counts; with what runs before it. The cursor has gone on since the last."""
        if now < self._begun + BOUNCE:
            return False
        self._ran = frozenset(running)
        return True

    def goes_on(self, step: Step | None, done: Iterable[str], running: Iterable[str], now: float) -> bool:
        """Tell whether the cursor goes on to what comes next: the step in hand is done, or its wait was just begun."""
        begun = step is not None and step.id in running and step.id not in self._ran
        if begun:
            self._begun = now
        return step is None or step.id in done or begun
