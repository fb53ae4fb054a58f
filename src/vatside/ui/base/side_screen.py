"""What the screens beside the day share: a head, a sentence to say, the waits of the day that is going on."""

from __future__ import annotations

from pathlib import Path

from textual.app import ComposeResult

from vatside.bench import acts
from vatside.log.waits import Moment
from vatside.ui.base.host import host_of
from vatside.ui.base.keymap import shown
from vatside.ui.base.screens import FullScreen
from vatside.ui.text.rows import Row, Signs, Span, row, spread
from vatside.ui.widgets.lines import KeyLine, WaitsBar
from vatside.units.show import clean


class SideScreen(FullScreen):
    """A screen that is not the day's; the day goes on meanwhile, and its waits stay at the bottom edge."""

    CSS_PATH = str(Path(__file__).with_name("side_screen.tcss"))

    def __init__(self, signs: Signs) -> None:
        super().__init__()
        self.signs = signs
        self.waits_bar = WaitsBar(signs, (), most=2, marked=False)
        self.key_line: KeyLine = KeyLine(lambda: shown(self.KEYS, self), lambda: host_of(self).clock.now().elapsed)

    def bottom(self) -> ComposeResult:
        """What runs in the day on the bench, and the keys."""
        self._look()
        yield self.put(self.waits_bar)
        yield self.put(self.key_line)

    def head_rows(self, title: str, tail: str, width: int) -> tuple[Row, ...]:
        """Say where one is."""
        name = (Span(f" {title}", "strong"),)
        return (spread(name, (Span(f"{clean(tail)} ", "faint"),), width), row(Span(self.signs.bare * width, "edge")))

    @property
    def is_ringing(self) -> bool:
        """Tell whether something rings in the day on the bench."""
        return any(wait.ringing for wait in self.waits_bar.waits)

    def _look(self) -> None:
        desk = host_of(self).desk
        self.waits_bar.look_at(desk.waits(desk.clock.now()) if desk else ())

    def tick(self, now: Moment) -> None:  # noqa: ARG002
        """Let the waits of the day go on."""
        self._look()
        self.refill("waits", "keys")

    def action_quiet(self) -> None:
        """Hear the alarms of the day that is going on."""
        desk = host_of(self).desk
        if desk is not None and not desk.keeping.readonly:
            self.say(acts.quiet(desk))
            self._look()
            self.refill("waits")

    def action_back(self) -> None:
        """Go back."""
        self.dismiss()
