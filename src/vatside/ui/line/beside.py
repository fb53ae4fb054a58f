"""Lays the day beside the screen, in threads that end with the process, so that no key waits for it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from threading import Thread
from typing import TYPE_CHECKING

from textual.message import Message
from textual.message_pump import MessagePump

if TYPE_CHECKING:
    from vatside.bench.day_line import DayLine, Found
    from vatside.dayline.what_if import Help
    from vatside.log.moment import Moment

    Trials = Callable[[], Iterator[tuple[Help, ...]]]


class Beside:
    """Runs the jobs of a day line for a screen or widget, which is sent what they come to."""

    class Laid(Message):
        """A day was laid."""

        def __init__(self, found: Found) -> None:
            super().__init__()
            self.found = found

    class Helped(Message):
        """One more change was tried; without any: the last one was."""

        def __init__(self, trials: Trials, helps: tuple[Help, ...] | None) -> None:
            super().__init__()
            self.trials = trials
            self.helps = helps

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

    def take(self, found: Found) -> None:
        """Show what was laid from now on."""
        self._lays = False
        self.line.take(found)

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
        if event.helps is None:
            self.trials = None
        else:
            self.line.helps = event.helps
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
        for helps in trials():
            if self.trials is not trials:
                return
            self._send(Beside.Helped(trials, helps))
        self._send(Beside.Helped(trials, None))

    def _start(self, work: Callable[[], None]) -> None:
        def run() -> None:
            try:
                work()
            except Exception as error:
                self._send(Beside.Failed(error))

        Thread(target=run, daemon=True).start()

    def _send(self, message: Message) -> None:
        with suppress(RuntimeError):  # the app has ended meanwhile
            self.owner.post_message(message)
