"""A day played back: the same desk on a virtual clock, on which nothing can be changed, and one that stops by itself.

The guided one stops wherever there is something to be said of the day.
"""

from __future__ import annotations

from vatside.bench.desk import Desk
from vatside.bench.glance import Glance
from vatside.bench.keeping import Keeping
from vatside.clocks.clock import Clock
from vatside.days.done import to_last_act
from vatside.days.repeat import new_day_from
from vatside.days.replay import Player, Stop, forward, state_at_seq, stops, timeline
from vatside.log.events.day import Entry, Event, LotAdded, LotRemoved
from vatside.log.events.vat import CorrectionMade, DipEnded, DipStarted, PieceDone, ReadingTaken, VatMade
from vatside.log.state import Session
from vatside.log.waits import Moment
from vatside.log.words.day import entry_words
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.storage.session_file import ReadOnly

SPEEDS = (1.0, 10.0, 60.0, 150.0, 300.0, 600.0)
"""Virtual seconds in a real one, as one key after the other gives them."""
IN_THE_VAT = (VatMade, ReadingTaken, CorrectionMade)
AT_THE_BOARD = (DipStarted, DipEnded, PieceDone)
REASON = "a replay shows the day as it was"


class ReplayClock:
    """Shows the time of the day that is played."""

    counts_sleep = True

    def __init__(self, player: Player, real: Clock) -> None:
        self.player = player
        self.real = real

    @property
    def seconds(self) -> float:
        """The real time that the player goes by; it stands still while the machine sleeps."""
        return self.real.awake()

    def now(self) -> Moment:
        """What the clocks showed then."""
        return self.player.now(self.seconds)

    def awake(self) -> float:
        """Seconds for which the machine has been awake, by the real clock."""
        return self.seconds


class Played(Keeping):
    """The log up to the point that the replay has come to; there is no file, and nothing to write into it."""

    @property
    def readonly(self) -> str:
        """Why nothing can be added."""
        return REASON

    @property
    def mark(self) -> str:
        """What every screen of it says in its head."""
        return "AS IT WENT"

    @property
    def standing(self) -> str:
        """Nothing is wrong; the head says that it is a replay."""
        return ""

    def log(self, event: Event, now: Moment) -> None:  # noqa: ARG002
        """Refuse."""
        raise ReadOnly(REASON)


class ReplayDesk(Desk):
    """The desk as it stood at every moment of a day."""

    def __init__(self, session: Session, real: Clock) -> None:
        self.whole = to_last_act(session)
        self._words = (0, "")
        """The entry that was put into words last, and the words."""
        self.player_clock = ReplayClock(Player(timeline(self.whole)), real)
        super().__init__(self.player_clock, Played(session.upto(0), None))
        self.advance()

    @property
    def player(self) -> Player:
        """The playback."""
        return self.player_clock.player

    @property
    def real(self) -> float:
        """The real time that the player goes by."""
        return self.player_clock.seconds

    @property
    def position(self) -> float:
        """Seconds from the beginning of the day."""
        return self.player.position(self.real)

    @property
    def running(self) -> bool:
        """Whether time goes by on the screen."""
        return self.player.playing and not self.player.at_end(self.real)

    @property
    def seconds(self) -> float:
        """Seconds on the real clock: marks of change fade in real time, whatever the speed of the replay."""
        return self.player_clock.seconds

    def advance(self) -> bool:
        """Bring everything to where the player is; True if anything happened since."""
        old = self.keeping.state
        self.keeping.state = forward(old, self.player.line, self.position)
        if self.state.seq != old.seq and self._is_behind():
            self._draft(self.state.plan)
        return self.state.seq != old.seq

    def glance(self, _now: Moment) -> Glance:
        """Look at everything as it stood then, whatever the time is now."""
        self.advance()
        return super().glance(self.clock.now())

    @property
    def latest(self) -> Entry | None:
        """What happened last."""
        return self.state.entries[-1] if self.state.entries else None

    def latest_words(self) -> str:
        """Say what happened last."""
        entry = self.latest
        if entry is None:
            return ""
        if self._words[0] != entry.seq:
            before = state_at_seq(self.whole, entry.seq - 1)
            self._words = (entry.seq, entry_words(entry, before, self.whole.upto(entry.seq)))
        return self._words[1]

    def step_of_latest(self) -> str:
        """The step that the latest happening belongs to; empty if it belongs to none."""
        event = self.latest.event if self.latest else None
        wait = getattr(event, "wait", "")
        waits = (*self.state.waits, *self.state.past_waits)
        of_wait = next((item.step for item in waits if item.id == wait), None)
        return str(getattr(event, "step", "") or of_wait or "")

    def stage_of_latest(self) -> Stage | None:
        """The stage in which the latest thing happened; None for what belongs to none, such as a note."""
        step = self.step(self.step_of_latest())
        event = self.latest.event if self.latest else None
        if step is not None:
            return step.stage
        if isinstance(event, IN_THE_VAT):
            return Stage.VAT
        if isinstance(event, AT_THE_BOARD):
            return Stage.DIP
        path = str(getattr(event, "path", "") or getattr(event, "figure", ""))
        name = path.partition(".")[0]
        if name in set(Stage):
            return Stage(name)
        return Stage.PLAN if path or isinstance(event, LotAdded | LotRemoved) else None

    def new_plan(self) -> Plan:
        """Give the plan as it stands here, for another day."""
        return new_day_from(self.whole, self.position)

    # The player

    def play(self) -> str:
        """Let time go by, or stand still."""
        moved = self.player.pause(self.real) if self.running else self.player.play(self.real)
        return self._go(moved, "")

    def faster(self, by: int) -> str:
        """Go on at the next speed, or at the one before."""
        at = min(range(len(SPEEDS)), key=lambda number: abs(SPEEDS[number] - self.player.speed))
        speed = SPEEDS[min(max(at + by, 0), len(SPEEDS) - 1)]
        words = "As fast as it was." if speed == 1 else f"{speed:g} times as fast as it was."
        return self._go(self.player.at_speed(speed, self.real), words)

    def to_event(self, by: int) -> str:
        """Go to the entry after, or to the one before."""
        player = self.player
        return self._go(player.next_event(self.real) if by > 0 else player.previous_event(self.real), "")

    def jump(self, position: float) -> str:
        """Go to a position."""
        return self._go(self.player.jump(position, self.real), "")

    def _go(self, player: Player, words: str) -> str:
        self.player_clock.player = player
        return words


class GuidedDesk(ReplayDesk):
    """The desk of a replay with stops; like every replay it writes nothing anywhere."""

    def __init__(self, session: Session, real: Clock) -> None:
        self.stops = stops(to_last_act(session))
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
        sentence = super()._go(player, words)
        self._look_back()
        return sentence

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
