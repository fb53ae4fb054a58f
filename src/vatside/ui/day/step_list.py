"""The steps of the stage on the screen: what to do, what is next; for the plan, when each stage begins.

And what a wet glove does that presses once too often, and where the cursor goes after a step that was meant.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from datetime import date, datetime

from attrs import frozen

from vatside.bench.day_line import line_of
from vatside.bench.desk import Desk
from vatside.bench.glance import Glance, Progress, next_of_day, next_step
from vatside.dayline.day_steps import GENTLE, ROTATE
from vatside.dayline.day_words import in_hand
from vatside.dayline.laid_day import LaidDay
from vatside.dayline.steps import Step, stage_name
from vatside.plan.sheet import CARE, DANGER, Stage
from vatside.ui.dips import now as dip_now
from vatside.ui.text.head_rows import is_unticked
from vatside.ui.text.rows import BLANK, Row, Signs, Span, cells, hanging, paragraph, row, spread, wide_of, wrap
from vatside.ui.text.wait_rows import clock_text
from vatside.ui.widgets.lines import Lines
from vatside.units import show_count, show_minutes


def step_rows(steps: Sequence[Step], progress: Progress, width: int, signs: Signs, begin: str = "") -> tuple[Row, ...]:
    """Print the steps of a stage, the next one standing out; the first column is left to the cursor.

    Of the next one it is said when it is to be begun, where that is known.
    """
    if not steps:
        return (row(Span("Nothing to do here.", "faint")),)
    coming = next_step(steps, progress)
    rows: list[Row] = []
    group = ""
    for item in steps:
        if item.group != group:
            group = item.group
            rows += ([BLANK] if rows else []) + [row(Span(group, "head"))]
        rows += _step(item, item is coming, begin, progress, width, signs)
    return tuple(rows)


def _step(item: Step, coming: bool, begin: str, progress: Progress, width: int, signs: Signs) -> list[Row]:
    sign, role = _state(item, progress, signs, coming=coming)
    tail = _tail(item, begin if coming else "", progress)
    # One space before a time would read as "7.5 L of 30 min".
    lines = wrap(item.text, width - 3, width - 5 - cells(tail.text) if tail.text else width - 4)
    first = spread((Span(f" {sign} ", role), Span(lines[0], role)), (tail,) if tail.text else (), width, item.id)
    rows = [first, *(row(Span(f"   {line}", role), key=item.id) for line in lines[1:])]
    # They stay behind a step that is done, so that no row moves under the hand.
    look = "done" if item.id in progress.over else DANGER.ink
    for caution in (caution for caution in item.cautions if caution.must_acknowledge):
        rows += hanging((Span(f"   {DANGER.sign} ", look),), caution.title, width, look, item.id)
    return rows


def _state(item: Step, progress: Progress, signs: Signs, *, coming: bool) -> tuple[str, str]:
    if item.id in progress.done:
        return signs.done, "done"
    if item.id in progress.running:
        return signs.running, "strong"
    return signs.later, "next" if coming else "done" if item.id in progress.passed else ""


def _tail(item: Step, begin: str, progress: Progress) -> Span:
    """What stands at the right edge: the length of the wait, what is left of it, or when to begin."""
    wait = progress.running.get(item.id)
    if wait is not None:
        return Span(clock_text(wait), "care" if wait.over else "number")
    if item.id in progress.over:
        return Span("")
    length = show_minutes(item.minutes) if item.minutes else ""
    return Span(f"{begin}  {length}".strip(), "faint")


def next_line(coming: Step | None, stage_over: bool, width: int) -> Row:
    """Say the next thing to do in one line."""
    if coming is None:
        words = "This stage is done." if stage_over else "Nothing to do here."
        return row(Span(f" {words}", "faint"))
    return spread((Span(" Next  ", "faint"), Span(coming.text, "next")), (), width)


def elsewhere_row(coming: Step, begin: str, stage: str, width: int) -> Row:
    """Say in one line what is to be done next on another stage, and when."""
    return spread((Span(f" Next {begin} {stage}: ", "care"), Span(coming.text, "next")), (), width)


def done_words(stage: Stage, steps: Sequence[Step], coming: Step | None, signs: Signs) -> str:
    """Say that a stage is done, and which way to turn to what is next; it can lie before it."""
    order = tuple(Stage)
    further = ""
    if coming is not None:
        arrow = signs.arrows[0] if order.index(coming.stage) < order.index(stage) else signs.arrows[-1]
        further = f"; {arrow} {stage_name(coming.stage, steps)} is next"
    return f"{stage_name(stage, steps)} is done{further}. u takes the last step back."


def day_rows(
    steps: Sequence[Step], done: Sequence[str], day: LaidDay | None, width: int, signs: Signs, said: str = "",
    passed: AbstractSet[str] = frozenset(),
) -> tuple[Row, ...]:  # fmt: skip
    """Print when each stage begins, when all is ready, what the day asks of the hands, and what is `said` of it.

    Of a `day` that cannot be laid there are no times.
    """
    left = [step for step in steps if step.id not in done and step.id not in passed]
    stages = tuple(dict.fromkeys(step.stage for step in steps))
    begins = {stage: _begin(stage, steps, day) for stage in stages} if day else {}
    dates = {begin.date() for begin in begins.values()}
    times = Times(min(dates) if dates else None, wide=len(dates) > 1)
    heads = {
        stage: _stage(
            stage, stage_name(stage, steps), left, times.text(begins.get(stage)),
            signs.later if is_unticked(stage, steps, passed) else signs.done,
        )
        for stage in stages
    }  # fmt: skip
    tails = _tails(heads, left, width)
    rows = [spread(heads[stage], tails[stage], width, stage.value) for stage in stages]
    if day:
        timed = list(zip(begins.values(), rows, strict=True))
        dip = stages.index(Stage.DIP) if Stage.DIP in stages else len(stages)
        timed[dip:dip] = _ready(day, steps, done, times, width, signs)
        rows = [line for _, line in sorted(timed, key=lambda item: item[0])]
    hands = sum(step.work_min for step in left)
    foot = f"Hands on for {show_minutes(hands)}; the rest is waiting." if left else "Every step is done."
    care = paragraph(f"{CARE.opening}{said}", width, "care") if said else ()
    return (*rows, BLANK, *care, *paragraph(foot, width, "faint"))


@frozen
class Times:
    """Times of day in one column; another day than the first is named."""

    first: date | None
    wide: bool

    def text(self, time: datetime | None) -> str:
        """Print one time, or the room for it."""
        if time is None:
            return " " * 5
        other = f"{time:%a} " if time.date() != self.first else "    "
        return f"{other if self.wide else ''}{time:%H:%M}"


def _ready(
    day: LaidDay, steps: Sequence[Step], done: Sequence[str], times: Times, width: int, signs: Signs
) -> Iterator[tuple[datetime, Row]]:
    """Print when the first piece can go in; if that is late, by how much, and the hour that is wanted."""
    of_vat = [step for step in steps if step.stage is Stage.VAT]
    if of_vat and all(step.id in done for step in of_vat):
        sign = signs.done.rjust(len(times.text(day.at(0))))
        yield day.at(0), spread((Span(f" {sign}  Vat ready", "done"),), (), width)
    if day.ready is None:
        return
    ready = day.at(day.ready)
    name = "Vat and fibre ready" if day.needed.ready in day.needed.rounds else "Vat ready"
    near = (Span(f" {times.text(ready)}  ", "number"), Span(name, "strong"))
    yield ready, spread(near, _late(day, day.ready, wide_of(near), width), width)


def _late(day: LaidDay, ready: int, near: int, width: int) -> tuple[Span, ...]:
    if day.wanted is None or ready <= day.wanted:
        return ()
    lateness = in_hand(day.wanted - ready)
    full = f"{lateness}, wanted {day.at(day.wanted):%H:%M}"
    return (Span(full if near + 1 + cells(full) <= width else lateness, "care"),)


def _begin(stage: Stage, steps: Sequence[Step], day: LaidDay) -> datetime:
    """When a stage begins; one that is done, or of which the last step runs, stands first.

    Dipping begins with the dips: what is wetted for them long before would put it ahead of its vat.
    """
    begins = {step.id: day.starts[step.id] for step in steps if step.stage is stage and step.id in day.starts}
    dips = [begins[dip] for dip in (GENTLE, ROTATE) if dip in begins]
    return min(dips or begins.values(), default=day.at(0))


def _stage(stage: Stage, name: str, left: Sequence[Step], begin: str, done: str) -> tuple[Span, ...]:
    """Say when a stage begins, or by the sign for `done` that it is over."""
    if any(step.stage is stage for step in left):
        return Span(f" {begin}  ", "number"), Span(name)
    return (Span(f" {done.rjust(len(begin))}  {name}", "done"),)


def _tails(heads: Mapping[Stage, Sequence[Span]], left: Sequence[Step], width: int) -> dict[Stage, tuple[Span, ...]]:
    """Count what is left of each stage; the waits as well, where every stage has room for them."""
    for counts in (_steps_and_waits, _steps):
        words = {stage: counts([step for step in left if step.stage is stage]) for stage in heads}
        if all(wide_of(heads[stage]) + 1 + cells(text) <= width for stage, text in words.items()):
            break
    return {stage: (Span(text, "faint"),) if text else () for stage, text in words.items()}


def _steps(left: Sequence[Step]) -> str:
    return show_count(len(left), "step") if left else ""


def _steps_and_waits(left: Sequence[Step]) -> str:
    waits = sum(step.minutes or 0 for step in left)
    return f"{_steps(left)}, waits {show_minutes(waits)}" if waits else _steps(left)


class StepList(Lines):
    """The steps with their waits; the cursor stands on the one that space does."""

    def __init__(self, desk: Desk, signs: Signs, stage: Stage, glance: Glance) -> None:
        super().__init__(self._rows, id="steps")
        self.add_class("framed")
        self.desk = desk
        self.signs = signs
        self.stage = stage
        self.glance = glance
        self._put_on = ""
        """Where the cursor was put without the dyer."""
        self.put_title()

    def put_title(self) -> None:
        """Say above the steps what they are."""
        self.border_title = "The day" if self.stage is Stage.PLAN else "Do"

    def turn(self, stage: Stage) -> None:
        """Begin at the top of another stage."""
        self.stage, self.key = stage, ""
        self.scroll_home(animate=False)
        self.put_title()

    @property
    def step_in_hand(self) -> Step | None:
        """The step that the cursor is on."""
        return self.desk.step(self.key)

    @property
    def next_step(self) -> Step | None:
        """The next step of this stage, or else of the day."""
        order = line_of(self.desk).order(self.glance.now)
        return self._next_here or next_of_day(self.desk.steps, self.glance.progress, order)

    @property
    def _next_here(self) -> Step | None:
        return next_step(self.desk.steps_in(self.stage), self.glance.progress)

    @property
    def is_finished(self) -> bool:
        """Tell whether every step of the stage is done."""
        return all(step.id in self.glance.progress.over for step in self.desk.steps_in(self.stage))

    def keep_cursor(self) -> None:
        """Keep the cursor on something there is: the next step, unless the dyer chose another.

        On the plan the stage that is first is known once the day is laid, and on the board the dips come to their
        end: until she moves, the cursor goes along.
        """
        by_board = self.stage is Stage.DIP and self.key in self.glance.progress.done
        goes_along = (self.stage is Stage.PLAN or by_board) and self.key == self._put_on
        if goes_along or self.key not in self.keys:
            self.choose_next()

    def choose_next(self) -> None:
        """Put the cursor on a wait of this stage that is over, or else on the next step; on the plan, on its stage.

        With nothing left to begin it goes to what runs, or stays, so that a done step never comes to hand by itself.
        """
        running = self.glance.progress.running
        over = [step for step, wait in running.items() if wait.over]
        coming = self._next_here
        begin = [key for key in self.keys if self._has_more(key)] if self.stage is Stage.PLAN else []
        wanted = (*begin, *over, *([coming.id] if coming else []), *running, self.key, *self.keys[-1:])
        there = [key for key in wanted if key in self.keys]
        if there:
            self._put_on = there[0]
            self.choose(there[0])

    def _has_more(self, key: str) -> bool:
        """Tell whether anything of a stage is left to begin; the rows of the plan stand in the order of their hours.

        In too small a window nothing is filled anew, and the rows are still those of the stage before.
        """
        stage = next((item for item in Stage if item.value == key), None)
        return stage is not None and next_step(self.desk.steps_in(stage), self.glance.progress) is not None

    def _rows(self, width: int) -> Sequence[Row]:
        if self.stage is Stage.PLAN:
            return self._day(width)
        # While pieces are in the vat and the air, who is next comes first.
        call = dip_now.call(self.desk, self.glance.now, width) if self.stage is Stage.DIP else ()
        steps, progress = self.desk.steps_in(self.stage), self.glance.progress
        coming = self._next_here
        return (*call, *step_rows(steps, progress, width, self.signs, self.begin_of(coming) if coming else ""))

    def begin_of(self, step: Step) -> str:
        """Print when a step is to be begun; empty where that is unknown."""
        return line_of(self.desk).begin_of(step, self.glance.now)

    @property
    def starts(self) -> Mapping[str, datetime]:
        """When each step is to be begun."""
        return line_of(self.desk).starts(self.glance.now)

    def _day(self, width: int) -> Sequence[Row]:
        """Say when each stage begins, and what a long day costs."""
        progress = self.glance.progress
        done = tuple(progress.done)
        seen = line_of(self.desk).seen(self.glance.now)
        over = len(progress.over)
        sentence = seen.problem if not seen.day and over < len(self.desk.steps) else "" if over else seen.long
        return day_rows(self.desk.steps, done, seen.day, width, self.signs, sentence, progress.passed)


BOUNCE = 0.5
"""Seconds after a wait was begun in which a second press counts for a slip. Ours, no source."""


class WetGlove:
    """Remembers what ran before the last press, and when it began a wait."""

    def __init__(self) -> None:
        self._ran: frozenset[str] = frozenset()
        self._begun = float("-inf")

    def presses(self, running: Iterable[str], now: float) -> bool:
        """Tell whether a press at a second counts; with what runs before it. The cursor has gone on since the last."""
        if now < self._begun + BOUNCE:
            return False
        self._ran = frozenset(running)
        return True

    def goes_on(self, step: Step | None, done: Iterable[str], running: Iterable[str], now: float) -> bool:
        """Tell whether the cursor goes on to what comes next: the step in hand is done, or its wait was just begun."""
        begun = step is not None and step.id in running and step.id not in self._ran
        if begun:
            self._begun = now
        return step is None or step.id in done or begun
