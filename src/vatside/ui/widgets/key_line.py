"""The bottom line: the keys that count right here, or for some seconds what was just said."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from vatside.ui.base.keymap import Shown, key_row
from vatside.ui.text.rows import Row, Span, row, wrap
from vatside.ui.widgets.lines import Lines
from vatside.units.one_line import clean

SAID = 6.0
"""Seconds for which a sentence stays."""


class KeyLine(Lines):
    """Keys and sentences share one place: a sentence hides the keys until its time is over."""

    def __init__(self, keys: Callable[[], Sequence[Shown]], clock: Callable[[], float]) -> None:
        super().__init__(self._rows, id="keys", keys=False)
        self.said = ""
        """The sentence that was said last."""
        self.above: Callable[[int], Sequence[Row]] = lambda width: ()  # noqa: ARG005
        """Gives for a width what stands over the keys."""
        self._keys = keys
        self._clock = clock
        self._until = 0.0
        """The clock's second from which it is no longer shown."""

    def say(self, words: str, seconds: float = SAID) -> None:
        """Say a sentence for some seconds; an empty one brings the keys back."""
        self.said, self._until = words, self._clock() + seconds
        if self.is_mounted:
            self.refill()

    def unsay(self, words: str) -> None:
        """Bring the keys back, if this sentence stands there."""
        if words and self.said == words:
            self.say("")

    def _rows(self, width: int) -> Sequence[Row]:
        return (*self.above(width), *(self._said(width) or (key_row(self._keys(), width),)))

    def _said(self, width: int) -> tuple[Row, ...]:
        """Give what was just said; nothing once its time is over."""
        if not self.said or self._clock() >= self._until:
            return ()
        return tuple(row(Span(f" {line}", "said")) for line in wrap(clean(self.said), width - 2))
