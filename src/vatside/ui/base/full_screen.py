"""What every full screen shares: its regions, the room it has, the sentence to say, words for too small a window."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, TypeVar

from textual.await_complete import AwaitComplete
from textual.message import Message
from textual.screen import Screen

from vatside.ui.base.closing import Closing
from vatside.ui.base.keymap import Sections, Table, bindings, help_rows, help_sections
from vatside.ui.text.rows import BLANK, Row, Span, row, wrap
from vatside.ui.widgets.key_line import SAID, KeyLine
from vatside.ui.widgets.lines import Fill, Lines

if TYPE_CHECKING:
    from vatside.log.moment import Moment

Region = TypeVar("Region", bound=Lines)

LEAST = (60, 20)
"""Columns and rows below which only the waits are shown."""


class FullScreen(Screen[None]):
    """A screen that the clock reaches; its classes say how much room it has."""

    KEYS: Table = ()
    """Its keys, all of them in one table."""
    WORDS: Sections = ()
    """Signs and words that its help explains after the keys."""
    AUTO_FOCUS = ""
    """Each screen says itself what takes the keys."""
    HORIZONTAL_BREAKPOINTS = [  # noqa: RUF012
        (0, "-tiny"),
        (LEAST[0], "-narrow"),
        (80, "-normal"),
        (120, "-wide"),
    ]
    VERTICAL_BREAKPOINTS = [(0, "-flat"), (LEAST[1], "-low"), (24, "-high")]  # noqa: RUF012
    key_line: KeyLine | None = None
    """Where a screen says its sentences."""

    def __init_subclass__(cls, **inherit: bool) -> None:
        """Bind the keys of its table."""
        if "KEYS" in cls.__dict__:
            cls.BINDINGS = bindings(cls.KEYS)
        super().__init_subclass__(**inherit)

    def __init__(self) -> None:
        super().__init__()
        self.parts: dict[str, Lines] = {}
        """The regions by name, from the moment they are made."""
        self._once: Closing[None] = Closing(self, super().dismiss)

    # Closing

    def dismiss(self, result: None = None) -> AwaitComplete:
        """Close, once."""
        return self._once.close(result)

    def on_screen_resume(self) -> None:
        """Close now, if that was asked for while a window was in front."""
        self._once.resumed()

    async def _dispatch_message(self, message: Message) -> None:
        """Leave out what comes too late."""
        if not self._once.leaves_out(message):
            await super()._dispatch_message(message)

    # Regions

    def put(self, region: Region) -> Region:
        """Remember a region by its name."""
        self.parts[region.id or ""] = region
        return region

    def part(self, name: str, fill: Fill, title: str = "", *, keys: bool = False) -> Lines:
        """Make a region of rows and remember it."""
        region = self.put(Lines(fill, id=name, title=title, keys=keys))
        region.set_class(bool(title), "framed")
        return region

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

    def say(self, words: str, seconds: float = SAID) -> None:
        """Say a sentence for some seconds, where the keys stand; a screen without them leaves it to the one below."""
        if self.key_line is not None:
            self.key_line.say(words, seconds)

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

    def action_help(self) -> None:
        """Explain the keys."""
        from vatside.ui.windows.words import ReadingWindow

        sections = (*help_sections(self.KEYS), *self.WORDS)
        self.app.push_screen(ReadingWindow("Keys", lambda width: help_rows(sections, width)))
