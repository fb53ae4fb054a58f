"""What the terminal sends, as messages; whatever is cut, late or senseless in it, the next key is heard."""

from __future__ import annotations

import re
import time
from collections.abc import Callable, Generator, Iterator

from textual import constants
from textual._xterm_parser import BRACKETED_PASTE_END as END
from textual._xterm_parser import BRACKETED_PASTE_START as START
from textual._xterm_parser import XTermParser
from textual.message import Message

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
