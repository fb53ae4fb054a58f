"""The look ahead from the dip board: what each piece will come to, and what to look out for."""

from __future__ import annotations

from collections.abc import Mapping

from attrs import field, frozen

from vatside.bench.desk import Desk
from vatside.log.fold import State
from vatside.log.vat_clock import standing_at
from vatside.outlook import dip_board

EVERY = 5.0
"""Seconds between two looks ahead, which are long work."""


@frozen
class Ahead:
    """What was seen on the last look ahead."""

    state: State | None
    until: float
    """When it is to be looked again, on the clock that never jumps."""
    warnings: tuple[str, ...] = ()
    comes_to: Mapping[str, float] = field(factory=dict)
    """What each piece that has dips to come will come to, %."""


class LookAhead:
    """Looks ahead again once something happened, or the last look is old."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._seen = Ahead(None, 0.0)

    def now(self) -> Ahead:
        """Give what is seen now."""
        state, sheet, now = self._desk.state, self._desk.sheet, self._desk.clock.now()
        if self._seen.state is not state or now.elapsed >= self._seen.until:
            stands = standing_at(state, now)
            comes_to = {item.piece: item.reaches for item in dip_board.forecasts(stands, sheet)}
            said = dip_board.warnings(stands, sheet, now)
            self._seen = Ahead(state, now.elapsed + EVERY, said, comes_to)
        return self._seen
