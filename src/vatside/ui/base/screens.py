"""What full screens and windows share: closing once, keys, regions; and the window of words to read."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any, ClassVar, Generic, TypeVar

from textual import events
from textual.app import ComposeResult
from textual.await_complete import AwaitComplete
from textual.binding import BindingType
from textual.containers import Vertical
from textual.message import Message
from textual.screen import ModalScreen, Screen, ScreenResultType

from vatside.ui.base.keymap import LEAVE, Key, Sections, Table, bindings, help_rows, help_sections, key_row, shown
from vatside.ui.text.rows import BLANK, Row, paragraph
from vatside.ui.widgets.lines import SAID, Fill, KeyLine, Lines
from vatside.units.show import clean

if TYPE_CHECKING:
    from vatside.log.waits import Moment

ACTING = (events.InputEvent, events.Paste, events.Callback)
"""Events that do something for the dyer; all others are the life of a widget."""


class Closing(Generic[ScreenResultType]):
    """Closes a screen once, and tells what comes for it too late."""

    def __init__(self, screen: Screen[Any], close: Callable[[ScreenResultType | None], AwaitComplete]) -> None:
        self._screen = screen
        self._close = close
        """The library's own way to close it."""
        self._answer: tuple[ScreenResultType | None] | None = None
        """What it closes with as soon as nothing is in front of it."""

    @property
    def is_gone(self) -> bool:
        """Tell whether the screen stood once, and was closed."""
        return self._screen.is_mounted and self._screen not in self._screen.app.screen_stack

    def close(self, result: ScreenResultType | None) -> AwaitComplete:
        """Close, once; a screen that is covered closes when nothing is in front of it any more."""
        if not self.is_gone and self._answer is None:
            self._answer = (result,)
            if self._screen.app.screen is self._screen:
                return self._close(result)
        return AwaitComplete()

    def resumed(self) -> None:
        """Close now, if that was asked for while something was in front."""
        if self._answer is not None and self._screen.app.screen is self._screen:
            self._close(self._answer[0])

    def leaves_out(self, message: Message) -> bool:
        """Tell whether a message comes too late; the library's own still take the screen down in order."""
        own = type(message).__module__.startswith(("textual.messages", "textual.events"))
        return self.is_gone and (isinstance(message, ACTING) or not own)


EDGE_ROOM = 50
"""Columns of keys that the edge of the smallest window takes."""


class Window(ModalScreen[ScreenResultType]):
    """The base of all windows: Textual lets no key of the app itself through to one."""

    BINDINGS: ClassVar[list[BindingType]] = bindings(LEAVE)

    KEYS: Table = ()
    """Its keys beside those, all of them in one table."""
    look = "window"
    """The classes of its frame."""
    ON_EDGE: ClassVar[bool] = False
    """Its keys stand on the edge of its frame, and not in a region of their own."""
    title_words = ""

    def __init_subclass__(cls, **inherit: bool) -> None:
        """Bind the keys of its table."""
        if "KEYS" in cls.__dict__:
            cls.BINDINGS = bindings(cls.KEYS)
        super().__init_subclass__(**inherit)

    def __init__(self) -> None:
        super().__init__()
        self._once: Closing[ScreenResultType] = Closing(self, super().dismiss)

    def compose(self) -> ComposeResult:
        """A frame with a title round its regions."""
        with Vertical(classes=self.look) as window:
            # A border's title reads markup: what a person typed must not become any.
            window.border_title = clean(self.title_words).replace("[", r"\[")
            window.border_subtitle = self.key_rows(EDGE_ROOM)[0].text.strip() if self.ON_EDGE else ""
            yield from self.regions()

    def regions(self) -> ComposeResult:
        """What stands in the frame."""
        yield from ()

    def dismiss(self, result: ScreenResultType | None = None) -> AwaitComplete:
        """Close, once."""
        return self._once.close(result)

    def on_screen_resume(self) -> None:
        """Close now, if that was asked for while another window was in front."""
        self._once.resumed()

    async def _dispatch_message(self, message: Message) -> None:
        """Leave out what comes too late."""
        if not self._once.leaves_out(message):
            await super()._dispatch_message(message)

    async def _invoke_and_clear_callbacks(self) -> None:
        """Leave out what parts that are gone had wanted to do after the next paint: it falls to whoever is painted."""
        self._callbacks[:] = [(callback, node) for callback, node in self._callbacks if node.is_attached]
        await super()._invoke_and_clear_callbacks()

    def action_leave(self) -> None:
        """Close without an answer."""
        self.dismiss()

    def key_rows(self, width: int) -> tuple[Row]:
        """Say in one row which keys count just now."""
        return (key_row(shown(self.KEYS, self), width),)


class ReadingWindow(Window[None]):
    """Words that scroll; Escape, Enter or the key that opened it closes it."""

    KEYS = (
        Key("up down", "", "scroll", "scroll"),
        Key("escape,enter,space,question_mark,l", "leave", "back", "back", means="log"),
    )
    ON_EDGE = True

    def __init__(self, title: str, fill: Fill, *, at_end: bool = False) -> None:
        super().__init__()
        self.title_words = title
        self.fill = fill
        self.at_end = at_end

    def regions(self) -> ComposeResult:
        """One region."""
        yield Lines(self.fill, id="reading")

    def on_mount(self) -> None:
        """Begin a log at its end."""
        if self.at_end:
            self.call_after_refresh(self.query_one(Lines).scroll_end, animate=False)


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

    async def _invoke_and_clear_callbacks(self) -> None:
        """Leave out what parts that are gone had wanted to do after the next paint: it falls to whoever is painted."""
        self._callbacks[:] = [(callback, node) for callback, node in self._callbacks if node.is_attached]
        await super()._invoke_and_clear_callbacks()

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

    def compose(self) -> ComposeResult:
        """What stands in too small a window; its regions; what stands below them."""
        yield self.part("small", self._too_small)
        yield from self.regions()
        yield from self.bottom()

    def regions(self) -> ComposeResult:
        """What it shows."""
        yield from ()

    def bottom(self) -> ComposeResult:
        """What stands below."""
        yield from ()

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

    def _too_small(self, width: int) -> Sequence[Row]:
        """Say what takes the place of all other regions in too small a window."""
        size = self.app.size
        words = (
            f"This window has {size.width} columns and {size.height} rows; "
            f"Vatside needs {LEAST[0]} and {LEAST[1]}. Nothing is lost: make it larger and go on."
        )
        return (BLANK, *paragraph(words, max(width, 10), "strong"))

    def action_help(self) -> None:
        """Explain the keys."""
        sections = (*help_sections(self.KEYS), *self.WORDS)
        self.app.push_screen(ReadingWindow("Keys", lambda width: help_rows(sections, width)))
