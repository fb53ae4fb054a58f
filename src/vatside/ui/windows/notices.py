"""Notices: their rows, what they offer to put right, and the window of all of them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import chain
from typing import Any

from attrs import evolve
from textual.app import App, ComposeResult

from vatside.bench import acts
from vatside.bench.day_line import line_of
from vatside.bench.desk import Desk
from vatside.plan.batches import stage_title
from vatside.plan.plan import Plan
from vatside.plan.sheet import CARE, DANGER, Notice, Remedy, Stage, Weight, gravest_first, severity
from vatside.ui.base.keymap import PUT_RIGHT, UNDO, Key, only
from vatside.ui.base.screens import Window
from vatside.ui.text.form_rows import refused_words
from vatside.ui.text.rows import BLANK, Row, Span, hanging, paragraph, row, wrapped
from vatside.ui.widgets.lines import Lines
from vatside.units.show import clean

MORE = f" … {DANGER.key}"
"""Says that there is more, and the key that shows it."""
PUTS_RIGHT = "j puts it right"
"""Says which key takes what a notice offers."""


def notice_rows(notices: Sequence[Notice], width: int, *, fixed: bool = False) -> tuple[Row, ...]:
    """Print notices in full, with the key that puts each right; without it where the day is `fixed`."""
    rows: list[Row] = []
    for notice in notices:
        grave = severity(notice.weight)
        text = notice.in_full if fixed else notice_words(notice)
        sign, _, words = f"{grave.opening or '· '}{clean(text)}".partition(" ")
        rows += hanging((Span(f" {sign} ", grave.ink),), words, width - 1, grave.ink)
    return tuple(rows)


def notice_words(notice: Notice) -> str:
    """Give a notice's sentence, and the key that puts it right with what that does."""
    if not notice.remedies:
        return notice.text
    return f"{notice.text} {PUTS_RIGHT}: {'; or '.join(remedy.label for remedy in notice.remedies)}."


def banner_rows(notices: Sequence[Notice], width: int, most: int, *, fixed: bool = False) -> tuple[Row, ...]:
    """Print the gravest notices in at most so many rows; what is left out is said."""
    worth = [item for item in gravest_first(notices) if item.weight is not Weight.NOTE]
    rows = notice_rows(worth, width - len(MORE), fixed=fixed)
    if len(rows) <= most:
        return rows
    kept = rows[:most]
    return (*kept[:-1], Row((*kept[-1].spans, Span(MORE, "key"))))


def by_stage(notices: Iterable[Notice]) -> tuple[Notice, ...]:
    """Order notices stage by stage, the gravest of each first."""
    stages = tuple(Stage)
    return tuple(sorted(gravest_first(notices), key=lambda notice: stages.index(notice.stage)))


def all_rows(notices: Iterable[Notice], plan: Plan, width: int, *, fixed: bool = False) -> tuple[Row, ...]:
    """Print every notice, stage by stage; each can be chosen by its number in `by_stage`."""
    rows: list[Row] = []
    ordered = by_stage(notices)
    for number, notice in enumerate(ordered):
        if number == 0 or notice.stage is not ordered[number - 1].stage:
            rows += ([BLANK] if rows else []) + [row(Span(stage_title(plan, notice.stage), "head"))]
        rows += (evolve(line, key=str(number)) for line in notice_rows((notice,), width, fixed=fixed))
    return tuple(rows) or (row(Span("Nothing to look out for in this plan.", "faint")),)


WAYS_BY_DIGIT = 9
"""Ways that a digit can choose among."""


def offered(notices: Iterable[Notice], figure: str = "") -> tuple[Notice, ...]:
    """Give the notices that can be put right, those about a figure first, then the gravest."""
    curable = [notice for notice in gravest_first(notices) if notice.remedies]
    return tuple(sorted(curable, key=lambda notice: not concerns(notice, figure)))


def concerns(notice: Notice, figure: str) -> bool:
    """Tell whether a notice is about a figure, or sets it to put things right."""
    return notice.figure == figure or any(path == figure for remedy in notice.remedies for path, _ in remedy.places)


def choose_remedy(app: App[Any], notice: Notice, take: Callable[[Remedy], None]) -> None:
    """Let the only way there is be taken, or the one that the dyer picks."""
    if len(notice.remedies) == 1:
        take(notice.remedies[0])
        return
    from vatside.ui.windows.ask import choose

    ways = {str(number): remedy for number, remedy in enumerate(notice.remedies[:WAYS_BY_DIGIT], start=1)}
    rows = tuple((key, clean(remedy.label), "") for key, remedy in ways.items())
    choose(app, "Put right by", rows, lambda key: take(ways[key]))


class NoticesWindow(Window[None]):
    """Every notice; the one in hand is put right from here."""

    KEYS = (
        Key("up down", "", "another", "another notice"),
        PUT_RIGHT,
        UNDO._replace(when=only(lambda screen: not screen._fixed)),
        Key("escape,enter,space,i", "leave", "back", "back", means="look out"),
    )
    look = "window tall"
    title_words = "To look out for"

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.said = ""

    def regions(self) -> ComposeResult:
        """The notices, and a line of words below."""
        yield Lines(self._rows, id="reading")
        yield Lines(self._words, id="answers", keys=False)

    def on_mount(self) -> None:
        """Begin at the first notice that can be put right."""
        self._show()

    @property
    def notices(self) -> tuple[Notice, ...]:
        """The notices in the order in which they stand."""
        return by_stage((*self._of_the_day(), *self.desk.notices))

    def _of_the_day(self) -> Iterator[Notice]:
        """Say of a day that has not begun what its length brings, as the list of its stages does."""
        now = self.desk.clock.now()
        length = "" if self.desk.state.done else line_of(self.desk).seen(now).long
        if length:
            yield Notice(Stage.PLAN, Weight.CARE, length)

    def _rows(self, width: int) -> Sequence[Row]:
        refused = refused_words(self.desk.plan, self.desk.sheet, self.desk.wrong)
        lines = (paragraph(f"{CARE.opening}Not taken: {clean(words)}", width, "care") for words in refused)
        first = tuple(chain.from_iterable(lines))
        rest = all_rows(self.notices, self.desk.plan, width, fixed=self._fixed) if self.notices or not first else ()
        return (*first, BLANK, *rest) if first and rest else (*first, *rest)

    def _words(self, width: int) -> Sequence[Row]:
        return (*wrapped(clean(self.said), width, "said"), *self.key_rows(width))

    @property
    def _fixed(self) -> bool:
        """Tell a day that is only looked at."""
        return self.desk.keeping.readonly is not None

    @property
    def offers(self) -> bool:
        """Tell whether anything can be put right."""
        return not self._fixed and any(notice.remedies for notice in self.notices)

    def _show(self) -> None:
        """Show everything anew; a notice that can be put right comes to hand."""
        lines = self.query_one("#reading", Lines)
        lines.focus()
        lines.refill()
        at = (str(number) for number, notice in enumerate(self.notices) if notice.remedies)
        lines.choose(next(at, next(iter(lines.keys), "")))
        self.query_one("#answers", Lines).refill()

    def action_advice(self) -> None:
        """Put the notice in hand right."""
        key, notices = self.query_one("#reading", Lines).key, self.notices
        notice = notices[int(key)] if key.isdigit() and int(key) < len(notices) else None
        if notice is None or not notice.remedies or self._fixed:
            self.said = "Nothing is offered that would put this one right."
            self.query_one("#answers", Lines).refill()
            return
        choose_remedy(self.app, notice, self._take)

    def _take(self, remedy: Remedy) -> None:
        self.said = acts.take_remedy(self.desk, remedy)
        self._show()

    def action_undo(self) -> None:
        """Take the last act back."""
        if not self._fixed:
            from vatside.bench.undo import take_back

            self.said = take_back(self.desk)
            self._show()
