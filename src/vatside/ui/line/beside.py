"""Lays the day beside the screen, in threads, so that no key waits for it; and shows the next three steps."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from threading import Thread
from time import sleep
from typing import TYPE_CHECKING

from textual import on
from textual.message import Message
from textual.message_pump import MessagePump

from vatside.bench.day_line import line_of
from vatside.bench.desk import Desk
from vatside.ui.base.host import Host
from vatside.ui.base.screens import FullScreen
from vatside.ui.text.rows import Row, Span, row
from vatside.ui.widgets.lines import Lines

if TYPE_CHECKING:
    from vatside.bench.day_line import DayLine, LaidJob, Tried
    from vatside.log.waits import Moment

    Trials = Callable[[], Iterator[Tried]]

WAY_S = 0.15
"""Seconds for which a search stands still after each key: longer than most keys take to their last paint. Ours."""


def way_of(input_at: Callable[[], float], wait: Callable[[float], object] = sleep) -> Callable[[], None]:
    """What a search calls to give way to whoever is at the keys, by the second of the latest one."""
    seen = [input_at()]

    def give_way() -> None:
        while seen[0] != (latest := input_at()):
            seen[0] = latest
            wait(WAY_S)

    return give_way


class Beside:
    """Runs the jobs of a day line for a screen or widget, which is sent what they come to."""

    class Laid(Message):
        """A day was laid."""

        def __init__(self, job: LaidJob) -> None:
            super().__init__()
            self.job = job

    class Helped(Message):
        """One more change was tried; without any: the last one was."""

        def __init__(self, trials: Trials, tried: Tried | None) -> None:
            super().__init__()
            self.trials = trials
            self.tried = tried

    class Failed(Message):
        """A job ended with a fault, which is raised again where faults are written down."""

        def __init__(self, error: Exception) -> None:
            super().__init__()
            self.error = error

    def __init__(self, owner: MessagePump, line: DayLine) -> None:
        self.owner = owner
        self.line = line
        self.trials: Trials | None = None
        """What is being tried."""
        self._lays = False

    def lay(self, now: Moment) -> None:
        """Lay the day, if anything is another than when it was last laid."""
        job = self.line.job(now)
        if job is not None:
            self._lays = True
            self._start(lambda: self._send(Beside.Laid(job())))

    def take(self, laid: LaidJob) -> None:
        """Show what was laid from now on."""
        self._lays = False
        self.line.take(laid)

    def try_out(self) -> None:
        """Work out what would help, if that is to be known."""
        trials = self.line.trial()
        if trials is not None:
            self.trials = trials
            self._start(lambda: self._try(trials))

    def helped(self, event: Helped) -> bool:
        """Take one more change up; False if it is no longer asked for."""
        if event.trials is not self.trials:
            return False
        if event.tried is None:
            self.trials = None
        else:
            self.line.tried = event.tried
        return True

    def stop(self) -> None:
        """Want no answer any more."""
        if self.trials is not None:
            self.trials = None
            self.line.drop_trial()
        if self._lays:
            self._lays = False
            self.line.drop()

    def _try(self, trials: Trials) -> None:
        for tried in trials():
            if self.trials is not trials:
                return
            self._send(Beside.Helped(trials, tried))
        self._send(Beside.Helped(trials, None))

    def _start(self, work: Callable[[], None]) -> None:
        from vatside.dayline.line.search import GIVES_WAY  # late: the day's screen stands before a day is laid

        app = self.owner.app
        way = way_of(lambda: app.input_at) if isinstance(app, Host) else None

        def run() -> None:
            GIVES_WAY.set(way)
            try:
                work()
            except Exception as error:
                self._send(Beside.Failed(error))

        Thread(target=run, daemon=True).start()

    def _send(self, message: Message) -> None:
        with suppress(RuntimeError):  # the app has ended meanwhile
            self.owner.post_message(message)


NEXT = 3
ROOM = (120, 36)
"""Columns and rows of a window that has room for them: ours."""
SAID_S = 20
"""Seconds for which it is said what moved."""


QUIET_S = 2.0
"""Seconds for which nothing was done before a shorter day is looked for: no key then waits for it. Ours."""


class NextThree(Lines):
    """Has the day laid at each event and once a minute, and says what moved: where there is room it shows it too."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(self._rows, id="coming", keys=False)
        self.desk = desk
        self._beside: Beside | None = None
        self._known: tuple[object, object] | None = None
        self._since = 0.0

    @property
    def counts(self) -> bool:
        """The window has room, the day is under way here, and nobody is typing."""
        desk, size = self.desk, self.app.size
        begun = bool(desk.state.done or desk.state.waits)
        roomy = size.width >= ROOM[0] and size.height >= ROOM[1]
        return roomy and begun and desk.typed is None and not desk.keeping.readonly

    @property
    def rests(self) -> bool:
        """Nothing was typed or done for a moment."""
        known, seconds = (self.desk.plan, self.desk.state), self.desk.seconds
        if self._known is None or known[0] is not self._known[0] or known[1] is not self._known[1]:
            self._known, self._since = known, seconds
        return seconds - self._since >= QUIET_S and self.desk.typed is None and not self.desk.keeping.readonly

    def refill(self) -> None:
        """Show them anew, and lay the day anew where something happened."""
        super().refill()
        if self.is_mounted and (self.counts or self.rests):
            self.beside.lay(self.desk.clock.now())

    @property
    def beside(self) -> Beside:
        """What lays the day."""
        if self._beside is None:
            self._beside = Beside(self, line_of(self.desk))
        return self._beside

    def _rows(self, width: int) -> Sequence[Row]:
        day = self.beside.line.seen(self.desk.clock.now()).day if self.counts else None
        if day is None:
            return ()
        from vatside.ui.line.line_rows import act_rows  # late: only a large window has room for them

        steps = act_rows(day, width - 1)[:NEXT]
        return (row(Span(" Next", "head")), *(Row((Span(" "), *step_row.spans)) for step_row in steps))

    def on_unmount(self) -> None:
        """Want no answer any more."""
        if self._beside is not None:
            self._beside.stop()

    @on(Beside.Laid)
    def _laid(self, event: Beside.Laid) -> None:
        self.beside.take(event.job)
        if event.job.moved and self.counts and isinstance(self.screen, FullScreen):
            self.screen.say(event.job.moved, SAID_S)
        self.refill()

    @on(Beside.Failed)
    def _failed(self, event: Beside.Failed) -> None:
        self.beside.stop()
        raise event.error
