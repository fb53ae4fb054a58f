"""The library's driver taken over: a terminal that stands still, types in parts, or is gone."""

from __future__ import annotations

import os
import re
import select
import termios
import threading
import time
from codecs import getincrementaldecoder
from collections.abc import Callable, Generator, Iterator
from contextlib import suppress
from queue import Full, Queue
from typing import IO, Any

from textual import constants
from textual._xterm_parser import BRACKETED_PASTE_END as END
from textual._xterm_parser import BRACKETED_PASTE_START as START
from textual._xterm_parser import XTermParser
from textual.drivers.linux_driver import LinuxDriver
from textual.message import Message

from vatside.ui.base.host import listen
from vatside.ui.theme.choice import QUESTION, GroundAnswer, knows_questions

MOST = 200
"""Writes that may wait. Ours: several screens full."""
HELD_UP = 1.0
"""Seconds that a terminal may stand still before what it does not take is left. Ours, no source."""


class Writer(threading.Thread):
    """Takes text and writes it, in order."""

    def __init__(self, file: IO[str], gone: Callable[[], None], free: Callable[[], None]) -> None:
        super().__init__(daemon=True, name="textual-output")
        self._file = file
        self._gone = gone
        self._free = free
        self._queue: Queue[str | None] = Queue(MOST)
        self._lost = False
        self._stands_still = False
        """The terminal takes nothing; what should be written meanwhile is left."""

    def write(self, text: str) -> None:
        """Take a text; one that the terminal does not take for a while is left, so that nothing else stands still."""
        if self._lost or (self._stands_still and not self._queue.empty()):
            return
        if self._stands_still:
            self._stands_still = False
            self._free()
        try:
            self._queue.put(text, timeout=HELD_UP)
        except Full:
            self._stands_still = True

    def isatty(self) -> bool:
        """Tell that this is a terminal."""
        return True

    def fileno(self) -> int:
        """Give the number of the file behind it."""
        return self._file.fileno()

    def flush(self) -> None:
        """Do nothing: the thread does so."""

    def run(self) -> None:
        """Write until there is nothing more to come."""
        try:
            while (text := self._queue.get()) is not None:
                self._file.write(text)
                if self._queue.empty():
                    self._file.flush()
            self._file.flush()
        except (OSError, ValueError):
            self._lost = True
            self._gone()
            self._forget()

    def _forget(self) -> None:
        """Let nobody wait for room."""
        while not self._queue.empty():
            self._queue.get_nowait()

    def stop(self) -> None:
        """Write what is left, for a moment at most."""
        if self._lost or self._stands_still:
            return
        try:
            self._queue.put(None, timeout=HELD_UP)
        except Full:
            return
        self.join(HELD_UP)


PASTE_ENDS = 1.0
"""Seconds without a part of a paste after which it is over, whether or not its end mark came. Ours, no source."""
BY_HAND = 8
"""Characters that may arrive at once from a key that is pressed; more than that is part of a paste. Ours."""
LARGEST_PASTE = 100_000
"""Characters of a paste that are kept: no field takes more. Ours."""
SEQUENCE_ENDS = 1.0
"""Seconds that the rest of a key's sequence may take on a slow line, once more than Escape has come. Ours."""
_BEGUN = re.compile(r"\x1b[\[O][\d;:<?]*\Z")
"""The beginning of a sequence that nobody types."""
ESCAPE = "[27u"
"""What makes of an Escape that has come the key and nothing else (the kitty keyboard protocol)."""
_GOES_ON = r"\x1b\[O\]PX^_\\bf\x7f"
"""What belongs to an Escape before it: the terminal's own sequences, and the moves by words that some keyboards send.
No key of ours takes Alt, so any other key that comes with an Escape was pressed after it."""
_ALONE = re.compile(rf"(?<=\x1b)(?=[^{_GOES_ON}])")
_AFTER = re.compile(rf"[^{_GOES_ON}]")


class Keyboard(XTermParser):
    """Reads keys, the mouse and pastes; to be fed with what comes and ticked when nothing does."""

    def __init__(self, now: Callable[[], float] = time.monotonic) -> None:
        super().__init__()
        self._now = now
        self._recent = ""
        """The last few characters, to see sequences that come in parts."""
        self._heard = 0.0
        self._pasted: list[str] | None = None
        """The parts of a paste; None outside one."""
        self._part = 0.0
        """When the last part of it came."""
        self._held = ""
        """The beginning of what may be the end mark."""
        self._owed = ""
        """The rest of an end mark that did not come in time."""

    def feed(self, data: str) -> Iterator[Message]:
        """Give the messages of what came."""
        self._heard = self._now()
        if self._owed:
            owed, self._owed = self._owed, ""
            data = data.removeprefix(owed)
        while data:
            data = yield from self._take(data)

    def _take(self, data: str) -> Generator[Message, None, str]:
        """Take what is of one kind, keys or a paste, and give back the rest."""
        if self._pasted is not None:
            return (yield from self._paste(data))
        if self._recent.endswith("\x1b") and _AFTER.match(data):
            data = ESCAPE + data
        data = _ALONE.sub(ESCAPE, data)
        before = self._recent[-len(START) + 1 :]
        at = (before + data).find(START)
        cut = at + len(START) - len(before) if at >= 0 else len(data)
        self._recent = (before + data[:cut])[-32:]
        yield from self._read(data[:cut])
        if at >= 0:
            self._pasted, self._held, self._part, self._recent = [], "", self._now(), ""
        return data[cut:]

    def _paste(self, data: str) -> Generator[Message, None, str]:
        assert self._pasted is not None
        if len(data) > BY_HAND:
            self._part = self._now()
        text, end, rest = (self._held + data).partition(END)
        self._held = "" if end else _begun_end(text)
        self._pasted.append(text[: len(text) - len(self._held)])
        if end:
            yield from self._end_paste()
        return rest

    def _end_paste(self) -> Iterator[Message]:
        """Give the paste as one message; an Escape in it would lead the reader of sequences astray."""
        text, self._pasted = "".join(self._pasted or ())[:LARGEST_PASTE], None
        yield from self._read(text.replace("\x1b", "") + END)

    def _read(self, data: str) -> Iterator[Message]:
        """Read keys; what has no sense (a character that there is not) is left out with what came along with it."""
        try:
            yield from super().feed(data) if data else ()
        except (ValueError, OverflowError, StopIteration, RuntimeError):
            self._begin_anew()

    def _begin_anew(self) -> None:
        kept = {name: getattr(self, name) for name in ("last_x", "last_y", "mouse_pixels", "terminal_size")}
        size = self.terminal_pixel_size
        super().__init__()
        self.__dict__.update(kept, terminal_pixel_size=size)

    def tick(self) -> Iterator[Message]:
        """Give what waited for more that did not come; to be called every tenth of a second."""
        now = self._now()
        if self._pasted is not None:
            if now - self._part >= PASTE_ENDS:
                self._owed, self._held = END[len(self._held) :] if self._held else "", ""
                yield from self._end_paste()
            return
        least = SEQUENCE_ENDS if _BEGUN.search(self._recent) else constants.ESCAPE_DELAY
        if self._timeout_time is not None and now - self._heard >= least:
            self._recent, self._timeout_time = "", 0.0
            try:
                yield from super().tick()
            except (ValueError, OverflowError, StopIteration, RuntimeError):
                self._begin_anew()


def _begun_end(text: str) -> str:
    """Give the longest end of a text that may be the beginning of the end mark."""
    return next((END[:length] for length in range(len(END) - 1, 0, -1) if text.endswith(END[:length])), "")


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
        self.told: Callable[[int], None] = getattr(app, "told_to_leave", app.exit)
        """What to do once a signal asks for the end. Without a terminal of ours signals are another's: a test run's."""
        super().__init__(app, **settings)

    def start_application_mode(self) -> None:
        """Take the terminal over; nothing if it is ours already."""
        if self._running:
            return
        listen(self.told)
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
