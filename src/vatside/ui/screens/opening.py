"""The first screen asks for the day."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.message import Message

from vatside.ui.screens.standing import SAID, Standing
from vatside.ui.view.keys import Key, key_row
from vatside.ui.view.rows import Row, Span, clean, row, wrap
from vatside.ui.view.shelf import NEW, SAMPLE, SAVED, crown_rows, shelf_rows
from vatside.ui.view.signs import Signs

if TYPE_CHECKING:
    from vatside.session.clock import Clock
    from vatside.session.events import Moment
    from vatside.session.library import SessionCard
    from vatside.ui.view.waits import WaitView


class OpeningScreen(Standing):
    """Saved days, a new one, the samples; what is in the folder is read after the first paint."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,space", "open", show=False),
        Binding("n", "new", show=False),
        Binding("c", "again", show=False),
        Binding("question_mark", "help", show=False),
    ]

    class Wanted(Message):
        """A day was chosen."""

        def __init__(self, what: str, path: Path | None = None) -> None:
            super().__init__()
            self.what = what
            self.path = path

    def __init__(self, folder: Path, clock: Callable[[], Clock], signs: Signs, words: str = "") -> None:
        super().__init__()
        self.folder = folder
        self.clock = clock
        self.signs = signs
        self.said = words
        """What went wrong the last time, or with a theme."""
        self.saved: tuple[SessionCard, ...] | None = None
        self.samples: tuple[SessionCard, ...] = ()
        self.waits: tuple[WaitView, ...] = ()

    def compose(self) -> ComposeResult:
        """The name, the list, the keys."""
        yield self.too_small()
        yield self.part("crown", lambda width: crown_rows(width, self.signs))
        yield self.part("shelf", self._rows, keys=True)
        yield self.part("said", self._words)
        yield self.part("waits", self._wait_rows)
        yield self.part("keys", self._keys)

    def on_mount(self) -> None:
        """Take the keys; look into the folder once the screen stands."""
        lines = self.parts["shelf"]
        lines.focus()
        lines.key = NEW
        self.call_after_refresh(self.look)

    def on_screen_resume(self) -> None:
        """Look again: the day just left may have changed."""
        if self.saved is not None:
            self.look()

    def look(self) -> None:
        """Read the folder and the samples."""
        from vatside.session.library import list_sessions, samples

        self.saved = list_sessions(self.folder)
        self.samples = self.samples or samples()
        lines = self.parts["shelf"]
        lines.refill()
        if lines.key == NEW and self.saved and self.saved[0].waits:
            lines.choose(f"{SAVED}{self.saved[0].path}")
        self.call_after_refresh(_warm_up)

    def _rows(self, width: int) -> Sequence[Row]:
        # Before the folder is read there is nothing to date: the clock need not be there yet.
        now = self.clock().now().utc.astimezone() if self.saved else None
        return shelf_rows(self.saved, self.samples, now, width, self.signs)

    def _words(self, width: int) -> Sequence[Row]:
        return tuple(row(Span(f" {line}", "care")) for line in wrap(clean(self.said), width - 2))

    def _keys(self, width: int) -> Sequence[Row]:
        keys = (
            Key("Enter", "open", "open"), Key("n", "new day", "new"), Key("c", "same plan again", "again"),
            Key("t", "look", "app.look"), Key("ctrl+q", "leave", "app.leave"), Key("?", "help", "help"),
        )  # fmt: skip
        return (key_row(keys, width),)

    def say(self, words: str, seconds: float = SAID) -> None:  # noqa: ARG002
        """Say what went wrong; it stays until something is opened."""
        self.said = words
        self.refill("said")

    def show_waits(self, waits: Sequence[WaitView]) -> None:
        """Show what runs in the day that is on the bench."""
        self.waits = tuple(waits)
        self.refill("waits")

    def _wait_rows(self, width: int) -> Sequence[Row]:
        from vatside.ui.view.waits import wait_rows

        return wait_rows(self.waits, None, width, 3, self.signs) if self.waits else ()

    def tick(self, now: Moment) -> None:
        """The list stands still; what runs comes by `show_waits`."""

    @property
    def _chosen(self) -> tuple[str, Path | None]:
        key = self.parts["shelf"].key
        for kind in (SAVED, SAMPLE):
            if key.startswith(kind):
                return kind, Path(key.removeprefix(kind))
        return NEW, None

    def action_open(self) -> None:
        """Open what is chosen."""
        self.post_message(self.Wanted(*self._chosen))

    def action_new(self) -> None:
        """Begin a new day."""
        self.post_message(self.Wanted(NEW))

    def action_again(self) -> None:
        """Begin a new day with the plan of the chosen one."""
        kind, path = self._chosen
        self.post_message(self.Wanted(NEW, path if kind != NEW else None))

    def action_help(self) -> None:
        """Explain the keys."""
        from vatside.ui.screens.reading import ReadingWindow
        from vatside.ui.view.help import opening_help

        self.app.push_screen(ReadingWindow("Keys", opening_help))


def _warm_up() -> None:
    """Load what the day's screen needs while the dyer is still choosing."""
    from importlib import import_module

    for name in ("vatside.ui.days", "vatside.ui.screens.day", "vatside.ui.ticker"):
        import_module(name)
