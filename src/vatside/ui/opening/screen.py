"""The first screen asks for the day."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from attrs import evolve
from textual.app import ComposeResult
from textual.message import Message

from vatside.plan.sheet import CARE
from vatside.storage.places import SAMPLE
from vatside.ui.base.host import host_of
from vatside.ui.base.keymap import HELP, LEAVE, LOOK, QUIET, Key, Sections, Table, key_row, only, shown
from vatside.ui.base.screens import FullScreen
from vatside.ui.opening import rows
from vatside.ui.text.rows import Row, Signs, paragraph
from vatside.ui.widgets.lines import SAID, WaitsBar
from vatside.units.show import clean

PAGE = 50
"""Days that are read before the first list is painted: more than any window shows. Ours, no source."""

if TYPE_CHECKING:
    from vatside.bench.open_day import LeftAlarms
    from vatside.clocks.clock import Clock
    from vatside.log.waits import Moment
    from vatside.storage.folder import SessionCard


DAY = "Which day"

OPENING_KEYS: Table = (
    QUIET,
    Key("enter,space", "open", "open", "open it; a sample is opened as a copy of your own", DAY),
    Key("a", "new", "new day", "a new day", DAY, "add"),
    Key(
        "c", "again", "again",
        "do it again: scaled to the fibre of today, with what went differently taken over or left",
        DAY, "carry on",
    ),
    Key(
        "p", "replay", "as it went", "the day as it was, faster, event by event, or from there a new day",
        DAY, "pause",
    ),
    Key("m", "compare", "side by side", "side by side: mark one day, then press it on another", DAY, "match"),
    Key(
        "escape", "unmark", "forget the mark", "forget which day was marked", DAY,
        when=only(lambda screen: screen.listed.marked),
    ),
    Key("g", "card", "its blue", "what made its blue, on one card", DAY, "blue"),
    Key("o", "shelf", "shelf", "the shelf, and what the chosen day needs of it", DAY, "beyond"),
    LEAVE[0], LOOK,
    Key("up down", "", "another day", "another day", DAY),
    LEAVE[1], HELP,
)  # fmt: skip

WORDS: Sections = (
    (
        "What the signs say",
        (
            ("◷", "waits are running in it"),
            ("✓", "its vat was kept or let go"),
            ("∪", "a kept vat, or a kept stock: Enter asks first; c then begins a new day that carries on from it"),
            (CARE.sign, "it cannot be opened, or only to be looked at; the words below it say why"),
        ),
    ),
)

ON_A_KEPT_VAT = Key("c", "", "begin a day on it", "begin a day on it", means="carry on")


class OpeningScreen(FullScreen):
    """Saved days, a new one, the samples; what is in the folder is read after the first paint."""

    KEYS = OPENING_KEYS
    WORDS = WORDS

    class Wanted(Message):
        """Something is to be done with the chosen day, or with it and the one that was marked before."""

        def __init__(self, what: str, path: Path | None = None, other: Path | None = None) -> None:
            super().__init__()
            self.what = what
            self.path = path
            self.other = other

    def __init__(
        self, folder: Path, clock: Callable[[], Clock], signs: Signs, words: str = "", *, at_once: bool = True
    ) -> None:
        super().__init__()
        self.folder = folder
        self.clock = clock
        self.signs = signs
        self.said = words
        """What went wrong the last time, or with a theme."""
        self.at_once = at_once
        """Read the folder without being asked; a day that was named on the command line comes first."""
        self.left = False
        self.listed = rows.Listed()
        self.waits_bar = WaitsBar(signs, (), most=3, marked=False)
        self.alarms: LeftAlarms | None = None
        """What rings in the days that nobody has open; None until the folder was looked at."""

    def regions(self) -> ComposeResult:
        """The name, the list, the keys."""
        yield self.part("crown", lambda width: rows.crown_rows(width, self.signs))
        yield self.part("shelf", self._rows, keys=True)
        yield self.part("said", self._words)

    def bottom(self) -> ComposeResult:
        """What runs, and the keys."""
        yield self.put(self.waits_bar)
        yield self.part("keys", self._keys)

    def on_mount(self) -> None:
        """Take the keys; look into the folder once the screen stands."""
        lines = self.parts["shelf"]
        lines.point_with(self.signs.here)
        lines.focus()
        lines.key = rows.NEW
        if self.at_once:
            self.call_after_refresh(self.look)

    def on_screen_suspend(self) -> None:
        """Something else is on the screen."""
        self.left = True

    def on_screen_resume(self) -> None:
        """Look again: the day just left may have changed."""
        if self.left and self.is_current:
            self.look()

    def look(self) -> None:
        """Read the folder and the samples; of a long list that was never read, its first page before the rest."""
        from vatside.storage.folder import list_sessions

        if self.listed.saved is None:
            page = list_sessions(self.folder, most=PAGE)
            self._show(page)
            if len(page) == PAGE:
                self.call_after_refresh(self.look)
                return
        else:
            self._show(list_sessions(self.folder))
        self.call_after_refresh(self._look_closer)

    def _show(self, saved: tuple[SessionCard, ...]) -> None:
        from vatside.storage.folder import samples

        self.listed = evolve(self.listed, saved=saved, samples=self.listed.samples or samples())
        lines = self.parts["shelf"]
        lines.refill()
        day = rows.in_hand(saved, self.clock().now().utc.astimezone().date()) if saved else None
        if lines.key == rows.NEW and day:
            self.choose(day.path)

    def _look_closer(self) -> None:
        """Load what the day's screen needs while the dyer is still choosing, and look which vats are kept."""
        if not self.is_current:
            return
        _warm_up()
        from vatside.days.kept_stock import standing_stocks
        from vatside.days.kept_vats import standing_vats

        saved = [card.path for card in self.listed.saved or () if not card.problem]
        self.listed = evolve(self.listed, kept=standing_vats(saved), jars=standing_stocks(saved))
        self.parts["shelf"].refill()
        self._look_for_alarms()

    def _look_for_alarms(self) -> None:
        """Look which days that are not open have waits; the day on the bench rings by itself."""
        from vatside.bench.open_day import LeftAlarms, left_days

        desk = host_of(self).desk
        path = desk.keeping.path if desk else None
        self.alarms = LeftAlarms(left_days(self.listed.saved or (), path.resolve() if path else None))
        self.tick(self.clock().now())

    def choose(self, path: Path) -> None:
        """Put the cursor on a day: one comes back to the list from it."""
        self.parts["shelf"].choose(f"{rows.SAVED}{path}")

    def _rows(self, width: int) -> Sequence[Row]:
        if self.listed.saved is None and not self.is_current:  # below a day it is read once it is gone to
            return ()
        # Before the folder is read there is nothing to date: the clock need not be there yet.
        now = self.clock().now().utc.astimezone() if self.listed.saved else None
        return rows.shelf_rows(self.listed, now, width, self.signs)

    def _words(self, width: int) -> Sequence[Row]:
        return paragraph(clean(self.said), width, "care")

    def _keys(self, width: int) -> Sequence[Row]:
        return (key_row(shown(self.KEYS, self), width),)

    def say(self, words: str, seconds: float = SAID) -> None:  # noqa: ARG002
        """Say what went wrong; it stays until something is opened."""
        self.said = words
        self.refill("said")

    def tick(self, now: Moment) -> None:
        """Show what runs in the day on the bench and what rings in those that were left; the list stands still."""
        desk = host_of(self).desk
        due = self.alarms.due(now) if self.alarms else ()
        if trouble := host_of(self).notice_alarms("left", due):
            self.say(trouble)
        self.waits_bar.look_at((*due, *(desk.waits(now) if desk else ())))
        if self.alarms and self.is_current and self.alarms.rings(now):
            self.app.bell()
        self.refill("waits", "keys")

    @property
    def is_ringing(self) -> bool:
        """Tell whether something rings, in the day on the bench or in one that was left."""
        return any(wait.ringing for wait in self.waits_bar.waits)

    def action_quiet(self) -> None:
        """Hear every alarm, and write it into the day that it belongs to."""
        from vatside.bench import acts

        host, sentences = host_of(self), []
        if host.desk is not None and not host.desk.keeping.readonly and host.desk.glance(host.clock.now()).ringing:
            sentences.append(acts.quiet(host.desk))
        if self.alarms is not None and self.alarms.due(host.clock.now()):
            sentences.append(self.alarms.hear(host.clock))
        self.say("  ".join(sentences))
        self.tick(host.clock.now())

    @property
    def _chosen(self) -> tuple[str, Path | None]:
        key = self.parts["shelf"].key
        for kind in (rows.SAVED, SAMPLE, rows.KEPT, rows.JAR):
            if key.startswith(kind):
                return kind, Path(key.removeprefix(kind))
        return key if key in (rows.SHELF, rows.GUIDE) else rows.NEW, None

    def with_chosen(self, what: str, other: Path | None = None) -> None:
        """Do something with the chosen day; ask for one if none is chosen."""
        _, path = self._chosen
        if path is None:
            self.say("Choose a day first, with the arrows.")
        else:
            self.post_message(self.Wanted(what, path, other))

    def action_open(self) -> None:
        """Open what is chosen."""
        kind, path = self._chosen
        if kind == rows.KEPT and path is not None:
            self._ask_to_carry_on(path)
        else:
            self.post_message(self.Wanted(kind, path))

    def _ask_to_carry_on(self, path: Path) -> None:
        """A day on a kept vat is not begun by one key: the vat stands only until something is done in it."""
        from vatside.ui.windows.ask import tell_trouble

        vat = next((vat for vat in self.listed.kept if vat.path == path), None)
        if vat is not None:
            begin = (ON_A_KEPT_VAT, lambda: self._want(rows.KEPT, path))
            tell_trouble(self.app, "Carry on from this vat?", lambda width: rows.carry_rows(vat, width), begin)

    def _want(self, what: str, path: Path) -> None:
        self.post_message(self.Wanted(what, path))

    def action_new(self) -> None:
        """Begin a new day."""
        self.post_message(self.Wanted(rows.NEW))

    def action_again(self) -> None:
        """Do the chosen day again."""
        self.with_chosen(rows.AGAIN)

    def action_replay(self) -> None:
        """Play the chosen day back."""
        self.with_chosen(rows.REPLAY)

    def action_card(self) -> None:
        """Show what made the blue of the chosen day."""
        self.with_chosen(rows.CARD)

    def action_compare(self) -> None:
        """Mark the chosen day; the second time, show both side by side."""
        marked, key = self.listed.marked, self.parts["shelf"].key
        if self._chosen[1] is None:
            self.say("Choose a day first, with the arrows.")
        elif marked in ("", key):
            self._mark("" if marked else key)
            self.say("" if marked else "Marked. Choose the other day and press m again; Escape forgets it.")
        else:
            self._mark("")
            self.with_chosen(rows.COMPARE, Path(marked.partition(":")[2]))

    def action_unmark(self) -> None:
        """Forget which day was to be compared."""
        self._mark("")
        self.say("")

    def _mark(self, key: str) -> None:
        self.listed = evolve(self.listed, marked=key)
        self.parts["shelf"].refill()

    def action_shelf(self) -> None:
        """Show what is on the shelf, for the chosen day or the one on the bench."""
        self.post_message(self.Wanted(rows.SHELF, self._chosen[1]))


def _warm_up() -> None:
    """Load what the day's screen needs while the dyer is still choosing."""
    from importlib import import_module

    for name in ("vatside.bench.open_day", "vatside.ui.day.screen", "vatside.bench.ticker"):
        import_module(name)
