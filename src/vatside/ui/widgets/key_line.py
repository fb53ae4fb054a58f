"""The bottom lines: what was just said, in a row of its own, and the keys that count right here."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from vatside.ui.base.keymap import Shown, key_row
from vatside.ui.text.rows import Row, Span, row, wrap
from vatside.ui.widgets.lines import Lines
from vatside.units.one_line import clean

SAID = 6.0
"""Seconds for which a sentence stays."""


class KeyLine(Lines):
    """A sentence stands above the keys until its time is over, and hides neither them nor the waits."""

    def __init__(self, keys: Callable[[], Sequence[Shown]], clock: Callable[[], float]) -> None:
        super().__init__(self._rows, id="keys", keys=False)
        self.said = ""
        """The sentence that was said last."""
        self.above: Callable[[int], Sequence[Row]] = lambda width: ()  # noqa: ARG005
        """Gives for a width what stands over the keys."""
        self.resting: Callable[[int], Sequence[Row]] = lambda width: ()  # noqa: ARG005
        """Gives for a width what stands in the row of the sentences while nothing is said: so no other row moves."""
        self._keys = keys
        self._clock = clock
        self._until = 0.0
        """The clock's second from which it is no longer shown."""

    def say(self, words: str, seconds: float = SAID) -> None:
        """Say a sentence for some seconds; an empty one takes the last one away."""
        self.said, self._until = words, self._clock() + seconds
        if self.is_mounted:
            self.refill()

    def unsay(self, words: str) -> None:
        """Take this sentence away, if it stands there."""
        if words and self.said == words:
            self.say("")

    def _rows(self, width: int) -> Sequence[Row]:
        return (*self.above(width), *(self._said(width) or self.resting(width)), key_row(self._keys(), width))

    def _said(self, width: int) -> tuple[Row, ...]:
        """Give what was just said; nothing once its time is over."""
        if not self.said or self._clock() >= self._until:
            return ()
        return tuple(row(Span(f" {line}", "said")) for line in wrap(clean(self.said), width - 2))
