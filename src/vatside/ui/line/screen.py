"""The day line: lanes with *now*, the steps to come, what is in hand or late, what would help; and its keys."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from textual import on
from textual.app import ComposeResult

from vatside.bench import day_places
from vatside.bench.day_line import line_of
from vatside.bench.desk import Desk
from vatside.dayline.day_words import why
from vatside.dayline.laid_day import LaidDay
from vatside.log.waits import Moment
from vatside.ui.base.keymap import AT_THE_VAT, BACK, QUIET, UNDO, Key, Sections, Table, only
from vatside.ui.base.screens import ReadingWindow
from vatside.ui.base.session_screen import SessionScreen
from vatside.ui.line.beside import SAID_S, Beside
from vatside.ui.line.line_rows import act_rows, head_rows, lane_rows, warned_rows, why_rows
from vatside.ui.text.rows import Row, Signs
from vatside.ui.windows.ask import ask, choose

LINE = "The day line"

LINE_KEYS: Table = (
    QUIET,
    Key(
        "equals_sign", "place", "hands, hours",
        "people, hobs, pots, lunch, all done by, when a lot is there: what the day counts on", LINE,
    ),
    Key(
        "enter", "why", "why then", "why it stands there: what it waits for", LINE,
        when=only(lambda screen: screen.chosen),
    ),
    Key("up down", "", "another", "what comes before, what comes after", LINE),
    Key("x", "fewer", "one fewer", "one person or piece fewer, with its share of the weight", LINE, "take out"),
    BACK, UNDO, *AT_THE_VAT,
)  # fmt: skip

LINE_WORDS: Sections = (
    (
        "What the line says",
        (
            ("now", "everything left of it went by"),
            ("═ =", "everybody stops"),
            ("1 2 3", "in the lane of hands: of several people so many are busy"),
            ("D, F", "a letter stands for a name that has no room; the line below says which"),
            ("latest", "so late it may begin, if the others keep their times"),
        ),
    ),
)


REST = 9
"""Rows of four steps with their heading and of what stands at the bottom: the lanes give way to them. Ours."""


class LineScreen(SessionScreen):
    """The whole day at a glance; it is laid beside the screen, so that no key waits for it."""

    CSS_PATH = "line.tcss"
    KEYS = LINE_KEYS
    WORDS = LINE_WORDS

    def __init__(self, desk: Desk, signs: Signs) -> None:
        super().__init__(desk, signs)
        self.line = line_of(desk)
        self.beside = Beside(self, self.line)
        self._shown: LaidDay | None = None
        """The day that is shown; the day's own screen may lay another one."""

    def regions(self) -> ComposeResult:
        """Where the day stands, lanes, acts, warnings, what runs."""
        yield self.part("head", self._head)
        yield self.part("lanes", self._lanes)
        yield self.part("acts", self._acts, "Next", keys=True)
        yield self.part("warned", self._warned)

    def on_mount(self) -> None:
        """Lay the day."""
        self.call_after_refresh(self._begin)

    def on_unmount(self) -> None:
        """Want no answer any more."""
        self.beside.stop()

    def _begin(self) -> None:
        self.parts["acts"].focus()
        self.renew()
        self._choose_first()

    # What is shown

    def _head(self, width: int) -> Sequence[Row]:
        words = self.line.problem or "The day is being laid out."
        return head_rows(self.desk.plan.title, self.line.day, words, width)

    def _lanes(self, width: int) -> Sequence[Row]:
        day = self.line.day
        if day is None:
            return ()
        others = len(self._head(width)) + len(self._warned(width)) + REST
        most = min(self.size.height // 2, self.size.height - others)
        return lane_rows(day, self.desk.plan, width, max(most, 0), self.signs)

    def _acts(self, width: int) -> Sequence[Row]:
        return act_rows(self.line.day, width) if self.line.day else ()

    def _warned(self, width: int) -> Sequence[Row]:
        if self.line.day is None:
            return ()
        most = 3 if self.size.height < 24 else 4 if self.size.height < 30 else 7
        tried, trying = self.line.tried, self.beside.trials is not None
        return warned_rows(self.line.day, tried.helps, trying=trying, width=width, most=most, holds_up=tried.holds_up)

    def renew(self) -> None:
        """Show everything anew; what happened lays the day anew."""
        self._lay(self.desk.clock.now())
        super().renew()

    def tick(self, now: Moment) -> None:
        """Let the clock show; a new minute lays the day anew."""
        super().tick(now)
        self._lay(now)
        if self.line.day is not self._shown:
            self._show()

    def _lay(self, now: Moment) -> None:
        self.line.seen(now)
        self.beside.lay(now)

    @on(Beside.Laid)
    def _laid(self, event: Beside.Laid) -> None:
        self.beside.take(event.job)
        if event.job.moved:
            self.say(event.job.moved, SAID_S)
        self._show()
        self._lay(self.desk.clock.now())

    def _show(self) -> None:
        """Show the day that was laid last."""
        self._shown = self.line.day
        self.beside.try_out()
        self.refill("head", "lanes", "acts", "warned", "keys")
        self._choose_first()

    def _choose_first(self) -> None:
        """Keep the cursor on a step that is still to come."""
        acts = self.parts["acts"]
        if acts.keys and acts.key not in acts.keys:
            acts.choose(acts.keys[0])
            self.refill("keys")

    @on(Beside.Helped)
    def _helped(self, event: Beside.Helped) -> None:
        if self.beside.helped(event):
            self.refill("warned")

    @on(Beside.Failed)
    def _failed(self, event: Beside.Failed) -> None:
        self.beside.stop()
        raise event.error

    # What the keys do

    @property
    def chosen(self) -> str:
        """The step in hand."""
        acts = self.parts.get("acts")
        return acts.key if acts is not None and acts.key in acts.keys else ""

    def action_why(self) -> None:
        """Say why the step in hand stands where it stands."""
        day, task = self.line.day, self.chosen
        if day is None or not task:
            self.say("No step is in hand.")
            return
        sentences = why(day, task)
        self.app.push_screen(ReadingWindow("Why then?", lambda width: why_rows(day, task, sentences, width)))

    def action_place(self) -> None:
        """Offer what the day counts on: hands, things, hours."""
        offered = {place_row.key: place_row for place_row in day_places.rows_of_place(self.desk)}
        rows = [(key, place_row.label, place_row.said) for key, place_row in offered.items()]
        choose(self.app, "What the day counts on", rows, lambda key: self._ask(offered[key]), values=True)

    def action_fewer(self) -> None:
        """Ask of which lot one stays away."""
        offered = dict(zip(day_places.ROW_KEYS, day_places.one_fewer(self.desk), strict=False))
        if not offered:
            self.say("No lot has a piece that can stay away: one piece is left of each, or it was in the vat.")
            return

        def take(key: str) -> None:
            self.perform(lambda: day_places.take_one_out(self.desk, offered[key]))

        rows = [(key, each.label, f"then {each.said}") for key, each in offered.items()]
        choose(self.app, "One fewer: which?", rows, take, values=True)

    def _ask(self, of: day_places.PlaceRow) -> None:
        def take(text: str) -> None:
            self.perform(lambda: day_places.put_place(self.desk, of, text))

        says = of.help or "the day is laid anew"
        ask(self.app, of.label, partial(day_places.read_place, self.desk, of), lambda _: says, take, of.text)
