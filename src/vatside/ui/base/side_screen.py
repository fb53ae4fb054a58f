"""What the screens beside the day share: a head, a sentence to say, the waits of the day that is going on."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from vatside.log.moment import Moment
from vatside.ui.base.host import host_of
from vatside.ui.base.screen import SAID, Standing
from vatside.ui.text.rows import Row, Span, row, spread, wrap
from vatside.ui.text.signs import Signs
from vatside.units.one_line import clean


class Beside(Standing):
    """A screen that is not the day's; the day goes on meanwhile, and its waits stay at the bottom edge."""

    CSS_PATH = str(Path(__file__).with_name("beside.tcss"))

    def __init__(self, signs: Signs) -> None:
        super().__init__()
        self.signs = signs
        self.said = ("", 0.0)

    def say(self, words: str, seconds: float = SAID) -> None:
        """Say a sentence for some seconds, where the keys stand."""
        self.said = (words, host_of(self).clock.now().elapsed + seconds)
        self.refill("keys")

    def head_rows(self, title: str, tail: str, width: int) -> tuple[Row, ...]:
        """Say where one is."""
        name = (Span(f" {title}", "strong"),)
        return (spread(name, (Span(f"{clean(tail)} ", "faint"),), width), row(Span(self.signs.bare * width, "edge")))

    @property
    def is_ringing(self) -> bool:
        """Tell whether something rings in the day on the bench."""
        desk = host_of(self).desk
        return desk is not None and any(wait.ringing for wait in desk.waits(desk.clock.now()))

    def running(self, width: int) -> Sequence[Row]:
        """Say what runs in the day on the bench."""
        from vatside.ui.text.wait_rows import wait_rows

        desk = host_of(self).desk
        waits = desk.waits(desk.clock.now()) if desk else ()
        return wait_rows(waits, None, width, 2, self.signs) if waits else ()

    def key_words(self, width: int) -> Sequence[Row]:
        """Say which keys count here, or what was just said."""
        words, until = self.said
        if words and host_of(self).clock.now().elapsed < until:
            return tuple(row(Span(f" {line}", "said")) for line in wrap(clean(words), width - 2))
        return (self.key_row(width),)

    def tick(self, now: Moment) -> None:  # noqa: ARG002
        """Let the waits of the day go on."""
        self.refill("waits", "keys")

    def ask(
        self,
        title: str,
        means: Callable[[str], tuple[bool, str]],
        answered: Callable[[str | None], None],
        text: str = "",
    ) -> None:
        """Ask for a line of text."""
        from vatside.ui.windows.ask import AskWindow

        self.app.push_screen(AskWindow(title, means, text), answered)

    def read(self, title: str, fill: Callable[[int], Sequence[Row]]) -> None:
        """Show words to read."""
        from vatside.ui.windows.words import ReadingWindow

        self.app.push_screen(ReadingWindow(title, fill))

    def action_quiet(self) -> None:
        """Hear the alarms of the day that is going on."""
        from vatside.bench import acts

        desk = host_of(self).desk
        if desk is not None and not desk.keeping.readonly:
            self.say(acts.quiet(desk))
            self.refill("waits")

    def action_back(self) -> None:
        """Go back."""
        self.dismiss()
