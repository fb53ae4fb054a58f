"""A day played back that stops by itself wherever there is something to be said of it."""

from __future__ import annotations

from vatside.bench.replay_desk import ReplayDesk
from vatside.clocks.clock import Clock
from vatside.days.guide import Stop, stops
from vatside.days.replay import Player
from vatside.log.session import Session


class GuidedDesk(ReplayDesk):
    """The desk of a replay with stops; like every replay it writes nothing anywhere."""

    def __init__(self, session: Session, real: Clock) -> None:
        self.stops = stops(session)
        self._passed = 0
        """Number of the stop that the day stands at, or has come past."""
        super().__init__(session, real)

    @property
    def stop(self) -> Stop:
        """What is to be said now: the stop that was reached last."""
        return self.stops[self._passed]

    def advance(self) -> bool:
        """Go on with the clock, no further than the next stop."""
        coming = self._passed + 1
        if self.player.playing and coming < len(self.stops) and self.position >= self._where(coming):
            self.player_clock.player = self.player.pause(self.real).jump(self._where(coming), self.real)
        self._look_back()
        return super().advance()

    def _look_back(self) -> None:
        self._passed = max(at for at in range(len(self.stops)) if self._where(at) <= self.position)

    def _go(self, player: Player, words: str) -> str:
        """Go to where a key leads; the stops on the way are passed by."""
        said = super()._go(player, words)
        self._look_back()
        return said

    def to_event(self, by: int) -> str:
        """Go to the next stop, or to the one before, and stand still there."""
        at = min(max(self._passed + by, 0), len(self.stops) - 1)
        if by < 0 and self.position > self._where(self._passed):
            at = self._passed
        self.player_clock.player = self.player.pause(self.real)
        return self.jump(self._where(at))

    def _where(self, at: int) -> float:
        """Give the position of a stop."""
        seq = self.stops[at].seq
        return self.player.line.positions[seq - 1] if seq else 0.0
