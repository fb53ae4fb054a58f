"""A past day played back on the day's own screen; a guided day goes from stop to stop."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime
from typing import TYPE_CHECKING

from vatside.bench import acts
from vatside.bench.desk import Desk, local
from vatside.bench.glance import Glance
from vatside.bench.replay_desk import GuidedDesk, ReplayDesk
from vatside.days.replay import HELP as TIMES
from vatside.days.replay import Stop, read_jump
from vatside.plan.plan import Plan
from vatside.plan.sheet import CARE, Stage
from vatside.ui.base.keymap import HELP, QUIET, Key, Sections, Table, in_turn
from vatside.ui.day.head import Course
from vatside.ui.day.keys import DAY_KEYS
from vatside.ui.text.rows import Row, Signs, Span, cells, day_bar, spread, wrap
from vatside.ui.windows.ask import AskWindow
from vatside.units import Problem, show_minutes
from vatside.units.show import clean

if TYPE_CHECKING:
    from vatside.ui.day.screen import DayScreen


def replay_spans(when: datetime, speed: float, running: bool, at_end: bool, width: int) -> tuple[Span, ...]:
    """Say that this is a day of before, how fast it goes and what time it was."""
    state = "running" if running else "at its end" if at_end else "stands still"
    day = f"{when:%a} {when.day} {when:%b} " if width >= 76 else ""
    return (
        Span(" AS IT WENT ", "here"),
        Span(f" {speed:g}× ", "strong"),
        Span(f"{state}  ", "faint" if running else "care"),
        Span(f"{day}{when:%H:%M:%S}", "number"),
    )


def event_rows(number: int, count: int, words: str, when: datetime | None, width: int, most: int) -> tuple[Row, ...]:
    """Say what happened last, and which of how many things that was."""
    tail = Span(f"{number} of {count} ", "faint")
    if when is None:
        return (spread((Span(" As the day began", "faint"),), (tail,), width),)
    first, *rest = wrap(clean(words), width - 12, width - 22) or ("",)
    rows = [spread((Span(f" {when:%H:%M:%S} ", "number"), Span(first, "said")), (tail,), width)]
    rows += [Row((Span(" " * 10), Span(line, "said"))) for line in rest]
    return tuple(rows[:most])


def stop_rows(stop: Stop, number: int, count: int, width: int) -> tuple[Row, ...]:
    """Say what there is to see at a stop and which key does it, and which of how many it is."""
    key, tail = f" {stop.key} ", Span(f"{number} of {count} ", "faint")
    first, *rest = wrap(stop.words, width - cells(key) - 2, width - cells(key) - cells(tail.text) - 1)
    head = spread((Span(key, "key"), Span(first, "said")), (tail,), width)
    return (head, *(Row((Span(" " * cells(key)), Span(line, "said"))) for line in rest))


def own_day_rows(labels: Sequence[str], width: int) -> tuple[Row, ...]:
    """Say that something rings in the day that is really going on."""
    if not labels:
        return ()
    words = f"{CARE.opening}In your own day: {clean(', '.join(labels))} – q quiets"
    return tuple(Row((Span(f" {line}", "over"),)) for line in wrap(words, width - 2))


REPLAY = "The replay"
_TIME = (
    Key("space,p", "course('play')", "run", "let it run, stand still", REPLAY, "pause"),
    Key(
        "full_stop comma", "course('event',1) course('event',-1)", "step",
        "the next thing that happened, the one before", REPLAY,
    ),
    Key(
        "plus minus", "course('faster',1) course('faster',-1)", "pace", "faster, slower: from real time to 600 times",
        REPLAY,
    ),
    Key("enter", "course('jump')", "go to", "go to a time: 14:30, +20 min, -1 h, start, end", REPLAY),
    Key("c", "course('new_day')", "new day from here", "a new day with the plan as it stands here", REPLAY, "carry on"),
    Key("b", "back", "back", "back", REPLAY, "back"),
)  # fmt: skip
_KEPT = ("left", "l", "equals_sign", "i", "f", "z", "v", "1", "up", "t", "tab", "escape", "ctrl+q", "ctrl+z")
"""Keys of the day's screen that change nothing."""
_SHOWN = tuple(key for key in DAY_KEYS if key.keys.split()[0] in _KEPT)
_LETTERS = {name for key in DAY_KEYS for name in key.keys.split() if len(name) == 1} - {"q"}
_UNCHANGED = sorted(_LETTERS - {name for key in (*_TIME, *_SHOWN) for name in key.keys.replace(",", " ").split()})
REPLAY_KEYS: Table = (
    *_TIME, *_SHOWN,
    QUIET._replace(
        action="course('quiet')", words="quiet your day", when=in_turn, help="quiet the day that is really going on"
    ),
    Key(" ".join(_UNCHANGED), "course('unchanged')", "", ""),
    HELP,
)  # fmt: skip
"""The last but one say why they change nothing here."""
REPLAY_WORDS: Sections = (
    ("Nothing is changed", (("", "the day stays as it was, and its alarms are silent"),)),
)  # fmt: skip


class Playback(Course):
    """One past day on the day's screen; nothing on it can be changed."""

    keys = REPLAY_KEYS
    words = REPLAY_WORDS
    moving = ("figures", "steps", "banner", "day")
    shows_form = True

    def __init__(
        self, desk: ReplayDesk, signs: Signs, live: Callable[[], Desk | None], begin: Callable[[Plan], None]
    ) -> None:
        """`live` gives the day that is really going on; `begin` makes a new day of a plan."""
        super().__init__(desk, signs)
        self.desk: ReplayDesk = desk
        self._live = live
        self._begin = begin
        self.following = True
        """Whether the stage on the screen goes along with what happens."""

    # What is shown

    def time_spans(self, glance: Glance, width: int) -> Sequence[Span]:
        """Say that this is a replay, and where it is."""
        desk = self.desk
        return replay_spans(
            local(glance.now), desk.player.speed, desk.running, desk.player.at_end(desk.real), width
        )  # fmt: skip

    def day_line(self, glance: Glance, width: int) -> Sequence[Row]:  # noqa: ARG002
        """Say how far the replay has come."""
        length = self.desk.player.line.length
        return (Row(day_bar(self.desk.position / length if length else 1.0, width, self.signs)),)

    def above_notices(self, width: int) -> Sequence[Row]:
        """Say what rings in the day that is going on now."""
        live = self._live()
        ringing = [wait.label for wait in live.waits(live.clock.now()) if wait.ringing] if live else []
        return own_day_rows(ringing, width)

    def above_keys(self, width: int) -> Sequence[Row]:
        """Say what happened last."""
        latest, count = self.desk.latest, len(self.desk.whole.entries)
        when = local(latest.at) if latest else None
        return event_rows(self.desk.state.seq, count, self.desk.latest_words(), when, width, 2)

    def turned(self) -> None:
        """Stay at the stage that was turned to by hand."""
        self.following = False

    def latest(self) -> tuple[Stage, str] | None:
        """Give the stage and step of what happened last, unless another stage was turned to by hand."""
        stage = self.desk.stage_of_latest()
        return (stage, self.desk.step_of_latest()) if self.following and stage is not None else None

    # The keys

    def play(self, day: DayScreen) -> None:
        """Run, or stand still."""
        self.following = True
        self._after(day, self.desk.play())

    def faster(self, day: DayScreen, sign: int) -> None:
        """Go faster, or slower."""
        self._after(day, self.desk.faster(sign))

    def event(self, day: DayScreen, by: int) -> None:
        """Go to what happened next, or before."""
        self._after(day, self.desk.to_event(by))

    def _after(self, day: DayScreen, words: str) -> None:
        self.desk.advance()
        day.follow()
        day.renew()
        day.say(words)

    def jump(self, day: DayScreen) -> None:
        """Ask for a time of that day."""
        desk = self.desk
        was_running = desk.running

        def read(text: str) -> float | Problem:
            return read_jump(text, desk.player.line, desk.position) if text.strip() else Problem(TIMES)

        def says(seconds: float) -> str:
            when = local(desk.player.line.moment_at(seconds))
            return f"{when:%A} {when.day} {when:%B}, {when:%H:%M:%S}; {show_minutes(seconds / 60)} into the day"

        def answered(seconds: float | None) -> None:
            if seconds is not None:
                desk.jump(seconds)
            if was_running and not desk.running:
                desk.play()
            self._after(day, "")

        if was_running:
            desk.play()
        day.app.push_screen(AskWindow("Go to", read, says), answered)

    def new_day(self, day: DayScreen) -> None:  # noqa: ARG002
        """Begin a new day with the plan as it stands here."""
        self._begin(self.desk.new_plan())

    def quiet(self, day: DayScreen) -> None:
        """Quiet the day that is really going on; the alarms of the replay are silent anyway."""
        live = self._live()
        day.say(acts.quiet(live) if live else "Nothing rings: the alarms of a replay are silent.")
        day.refill("banner")

    def unchanged(self, day: DayScreen) -> None:
        """Say why a key that changes something does nothing here."""
        day.say("A replay shows the day as it was: nothing is changed. c begins a new day from here.")


class Guided(Playback):
    """The course of such a day: in place of what happened last it says what there is to see."""

    desk: GuidedDesk

    def above_keys(self, width: int) -> Sequence[Row]:
        """Say what is to be seen at the stop that was reached last."""
        at = self.desk.stops.index(self.desk.stop) + 1
        return stop_rows(self.desk.stop, at, len(self.desk.stops), width)
