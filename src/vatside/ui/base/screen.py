"""What every full screen shares: the clock, a sentence to say, the signs, and words for too small a window."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from vatside.ui.base.closing import Closing
from vatside.ui.text.rows import BLANK, Row, Span, row, wrap
from vatside.ui.widgets.lines import Fill, Lines

if TYPE_CHECKING:
    from vatside.log.moment import Moment

LEAST = (60, 20)
"""Columns and rows below which only the waits are shown."""
SAID = 6.0
"""Seconds for which a sentence stays."""


class Standing(Closing[None]):
    """A screen that the clock reaches; its classes say how much room it has."""

    AUTO_FOCUS = ""
    """Each screen says itself what takes the keys."""
    HORIZONTAL_BREAKPOINTS = [  # noqa: RUF012
        (0, "-tiny"),
        (LEAST[0], "-narrow"),
        (80, "-normal"),
        (120, "-wide"),
    ]
    VERTICAL_BREAKPOINTS = [(0, "-flat"), (LEAST[1], "-low"), (24, "-high")]  # noqa: RUF012

    def __init__(self) -> None:
        super().__init__()
        self.parts: dict[str, Lines] = {}
        """The regions by name, from the moment they are made."""

    def part(self, name: str, fill: Fill, title: str = "", *, keys: bool = False) -> Lines:
        """Make a region and remember it."""
        self.parts[name] = Lines(fill, id=name, title=title, keys=keys)
        self.parts[name].set_class(bool(title), "framed")
        return self.parts[name]

    def refill(self, *names: str) -> None:
        """Show some regions anew."""
        for name in names:
            if name in self.parts:
                self.parts[name].refill()

    def renew(self) -> None:
        """Show everything anew."""
        self.refill(*self.parts)

    def on_mount(self) -> None:
        """Know the room before the first paint."""
        width, height = self.app.size
        sides = ((width, self.HORIZONTAL_BREAKPOINTS), (height, self.VERTICAL_BREAKPOINTS))
        self.add_class(*([name for least, name in steps if least <= room][-1] for room, steps in sides))

    def tick(self, now: Moment) -> None:
        """Let the clock show."""
        raise NotImplementedError

    def say(self, words: str, seconds: float = SAID) -> None:
        """Say a sentence for some seconds."""
        raise NotImplementedError

    def too_small(self) -> Lines:
        """The region that takes the place of all others in too small a window."""
        return self.part("small", self._too_small)

    def _too_small(self, width: int) -> Sequence[Row]:
        size = self.app.size
        words = (
            f"This window has {size.width} columns and {size.height} rows; "
            f"Vatside needs {LEAST[0]} and {LEAST[1]}. Nothing is lost: make it larger and go on."
        )
        return (BLANK, *(row(Span(f" {line}", "strong")) for line in wrap(words, max(width - 2, 8))))

    def on_lines_clicked(self, event: Lines.Clicked) -> None:
        """Do what was clicked on."""
        self.call_later(self.run_action, event.act)
