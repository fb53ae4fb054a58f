"""The terminal on POSIX: one thread that reads and one that writes, whatever happens to the terminal meanwhile."""

from __future__ import annotations

import os
import select
import termios
from codecs import getincrementaldecoder
from collections.abc import Callable
from contextlib import suppress
from typing import Any

from textual.drivers.linux_driver import LinuxDriver

from vatside.ui.terminal.ground import QUESTION, GroundAnswer, knows_questions
from vatside.ui.terminal.keyboard import Keyboard
from vatside.ui.terminal.writer import Writer

LOOK_EVERY = 0.1
"""Seconds between two looks whether a sequence stays unfinished, and whether it is time to end."""


STDERR = 2
ENDING = b"\x1b[?2004l\x1b[?1000l\x1b[?1003l\x1b[?1006l\x1b[<u\x1b[?1049l\x1b[?25h\x1b[?1004l\x1b[?7h"
"""What gives the screen back."""


class TerminalDriver(LinuxDriver):
    """Reads until the terminal is gone and says so once; goes on after a stop as if nothing had been."""

    def __init__(self, app: Any, **settings: Any) -> None:
        self._is_gone = False
        self._running = False
        """The terminal is ours."""
        self.gone: Callable[[], None] = getattr(app, "terminal_gone", app.exit)
        """What to do once the terminal is gone."""
        super().__init__(app, **settings)

    def start_application_mode(self) -> None:
        """Take the terminal over; nothing if it is ours already."""
        if self._running:
            return
        super().start_application_mode()  # type: ignore[no-untyped-call]
        self._running = self._key_thread is not None and self._key_thread.is_alive()
        if knows_questions(os.environ.get("TERM", "")):
            self.write(QUESTION)

    @property
    def _writer_thread(self) -> Any:
        """Our writer, wherever the library makes its own: that one holds everything up once it cannot write."""
        return self._writer

    @_writer_thread.setter
    def _writer_thread(self, other: Any) -> None:
        self._writer = Writer(other._file, self._tell_gone, self._tell_free) if other is not None else None

    def stop_application_mode(self) -> None:
        """Give the terminal back as it was; once."""
        if self._running:
            self._running = False
            super().stop_application_mode()

    def give_back(self) -> None:
        """Give the terminal back without waiting for anything, from any thread."""
        with suppress(termios.error, OSError):
            if self.attrs_before is not None:
                termios.tcsetattr(self.fileno, termios.TCSANOW, self.attrs_before)
            os.set_blocking(STDERR, False)
            os.write(STDERR, ENDING)

    # A signal may come in the middle of anything, a lock held: the event loop does what it asks for.

    def _sigtstp_application(self, *_: object) -> None:
        self._loop.call_soon_threadsafe(super()._sigtstp_application)

    def _sigcont_application(self, *_: object) -> None:
        self._loop.call_soon_threadsafe(self._go_on)

    def _go_on(self) -> None:
        """Go on after a stop: by ctrl+z the terminal was given back and is taken again, else it is still ours."""
        if self._running:
            self._take_again()
        elif self._auto_restart and not self.exit_event.is_set():
            self.resume_application_mode()

    def _take_again(self) -> None:
        """After a stop that nobody told us of: a shell may have put the terminal back into its own ways."""
        with suppress(termios.error):
            ways = termios.tcgetattr(self.fileno)
            ways[3], ways[0] = self._patch_lflag(ways[3]), self._patch_iflag(ways[0])
            termios.tcsetattr(self.fileno, termios.TCSANOW, ways)
        self.write("\x1b[?1049h\x1b[?25l")
        self._enable_mouse_support()
        self._enable_bracketed_paste()
        self._app.call_later(self._app.refresh, layout=True)

    # Reading

    def _run_input_thread(self) -> None:
        try:
            self.run_input_thread()
        except OSError:
            self._tell_gone()

    def run_input_thread(self) -> None:
        """Read keys until it is time to end, or the terminal is gone."""
        keyboard, decode = Keyboard(), getincrementaldecoder("utf-8")("replace").decode
        ground = GroundAnswer(self._tell_ground)
        poll = select.poll()
        poll.register(self.fileno, select.POLLIN | select.POLLHUP | select.POLLERR)
        while not self.exit_event.is_set():
            if poll.poll(1000 * LOOK_EVERY):
                data = os.read(self.fileno, 4096)
                if not data:
                    self._tell_gone()
                    return
                self._pass_on(keyboard.feed(ground.without(decode(data))))
            self._pass_on(keyboard.tick())

    def _pass_on(self, messages: Any) -> None:
        for message in messages:
            if self._loop.is_closed():
                return
            self.process_message(message)

    def _tell_free(self) -> None:
        """After writes were left out, have everything painted anew."""
        with suppress(RuntimeError):
            self._loop.call_soon_threadsafe(lambda: self._app.refresh(layout=True))

    def _tell_ground(self, dark: bool) -> None:
        """Pass on, from the thread that reads, what ground the terminal has."""
        tell: Callable[[bool], None] | None = getattr(self._app, "terminal_ground", None)
        if tell is not None:
            with suppress(RuntimeError):
                self._loop.call_soon_threadsafe(tell, dark)

    def _tell_gone(self) -> None:
        """Say, from any thread and only once, that there is no terminal any more."""
        if not self._is_gone:
            self._is_gone = True
            with suppress(RuntimeError):
                self._loop.call_soon_threadsafe(self.gone)
