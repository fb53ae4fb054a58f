"""Two days side by side, and what made the blue of one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

from textual.app import ComposeResult

from vatside.days.blue_card import card_lines
from vatside.days.compare import Row as Pair
from vatside.days.compare import compare
from vatside.days.day_record import DayRecord, day_record
from vatside.days.why_apart import apart_lines
from vatside.log.state import Session
from vatside.ui.base.keymap import BACK, HELP, LEAVE, LOOK, QUIET, Key, Sections, Table
from vatside.ui.base.screens import ReadingWindow
from vatside.ui.base.side_screen import SideScreen
from vatside.ui.text.rows import BLANK, Row, Signs, Span, hanging, left, row, wrap, wrapped
from vatside.units.show import clean

LABEL = 17
HANG = 3
"""How far what goes on below a listed reason stands in."""


def card_rows(day: DayRecord, width: int) -> tuple[Row, ...]:
    """Print everything that made a blue."""
    rows = wrapped(f"{clean(day.plan.title)}, {day.day}", width, "strong")
    for label, value in card_lines(day):
        rows += hanging((Span(f" {left(clean(label), LABEL)} ", "faint"),), clean(value), width)
    return tuple(rows)


def apart_rows(one: DayRecord, other: DayRecord, width: int) -> tuple[Row, ...]:
    """Print why two blues came out apart, likeliest first, then both cards."""
    both = (*card_rows(one, width), BLANK, *card_rows(other, width))
    names = f"{clean(one.plan.title)}, {one.day} → {clean(other.plan.title)}, {other.day}"
    rows = [*wrapped(names, width, "strong"), BLANK]
    for sentence in apart_lines(one, other):
        inset = len(sentence) - len(sentence.lstrip())
        listed = inset > 0
        hang = inset + HANG if listed else 0
        first, *rest = wrap(clean(sentence.strip()), width - hang) or ("",)
        rows.append(row(Span(" " * inset + first, "number" if listed else "")))
        rows += [row(Span(" " * hang + line)) for line in rest]
    return (*rows, BLANK, *both)


UNLIKE = "≠"
EDGES = 2
"""Columns that the list's margin and its scroll bar take."""


def head_rows(names: tuple[str, str], unlike: int, count: int, width: int, signs: Signs) -> tuple[Row, ...]:
    """Name both days above their columns."""
    label, side = columns(width - EDGES)
    title = f"{unlike} of {count} things differ{'s' if unlike == 1 else ''}"
    rows = [Row((Span(" "), *line.spans)) for line in _beside(title, names, label, side, "strong", " ")]
    return (*rows[:3], row(Span(signs.bare * width, "edge")))


def compare_rows(pairs: Sequence[Pair], every: bool, width: int, signs: Signs) -> tuple[Row, ...]:
    """Print the rows that differ under their groups, then those that do not."""
    unlike = [pair for pair in pairs if pair.differs]
    alike = [pair for pair in pairs if not pair.differs]
    rows = _groups(unlike, width, signs) or [row(Span("Nothing differs.", "strong"))]
    if every and alike:
        rows += [BLANK, row(Span(f"{signs.bare * 2} The same in both {signs.bare * max(width - 21, 0)}", "edge"))]
        rows += _groups(alike, width, signs)
    return tuple(rows)


def columns(width: int) -> tuple[int, int]:
    """Give the width of the labels and of each of the two sides."""
    side = min(max((width - 20) // 3, 16), 34)
    return width - 2 * side - 4, side


def _groups(pairs: Iterable[Pair], width: int, signs: Signs) -> list[Row]:
    label, side = columns(width)
    rows: list[Row] = []
    for group, of_group in groupby(pairs, key=lambda pair: pair.group):
        rows += ([BLANK] if rows else []) + [row(Span(group, "head"))]
        for pair in of_group:
            mark = (UNLIKE if signs.half_blocks else "*") if pair.differs else " "
            texts = (pair.left or "–", pair.right or "–")
            rows += _beside(pair.label, texts, label, side, "number" if pair.differs else "faint", mark)
    return rows


def _beside(label: str, texts: tuple[str, str], wide: int, side: int, role: str, mark: str) -> list[Row]:
    """Put a label and two texts beside each other, each wrapped in its column."""
    parts = [wrap(clean(label), wide), *(wrap(clean(text), side) for text in texts)]
    rows = []
    for number in range(max(map(len, parts))):
        first, one, other = (part[number] if number < len(part) else "" for part in parts)
        spans = (
            Span(f"{mark if number == 0 else ' '} ", "care"), Span(left(first, wide)),
            Span(" "), Span(left(one, side), role), Span(" "), Span(other, role),
        )  # fmt: skip
        rows.append(Row(spans))
    return rows


SIDES = "Side by side"

COMPARE_KEYS: Table = (
    QUIET,
    Key("up down", "", "scroll", "scroll", SIDES),
    Key("g", "apart", "why the blues differ", "both blue cards, and what most likely explains it", SIDES, "blue"),
    Key("left right", "swap", "change sides", "change sides", SIDES),
    Key("z", "all", "all, only what differs", "leave out what is the same in both, show it again", SIDES, "all"),
    BACK, LOOK, *LEAVE, HELP,
)  # fmt: skip
COMPARE_WORDS: Sections = (
    ("Signs", (("≠", "not the same in both"), ("–", "that day has nothing of the kind"))),
)  # fmt: skip


class CompareScreen(SideScreen):
    """What differs between two days, and what does not."""

    KEYS = COMPARE_KEYS
    WORDS = COMPARE_WORDS

    def __init__(self, left: Session, right: Session, signs: Signs) -> None:
        super().__init__(signs)
        self.sides = (day_record(left), day_record(right))
        self.every = True
        self.pairs: tuple[Pair, ...] = compare(*self.sides)

    def regions(self) -> ComposeResult:
        """One long list between head and keys."""
        yield self.part("head", self._head)
        yield self.part("list", self._rows, keys=True)

    def on_mount(self) -> None:
        """Take the keys."""
        self.parts["list"].focus()

    def _head(self, width: int) -> Sequence[Row]:
        one, other = (f"{side.plan.title}, {side.day}" for side in self.sides)
        unlike = sum(pair.differs for pair in self.pairs)
        return head_rows((one, other), unlike, len(self.pairs), width, self.signs)

    def _rows(self, width: int) -> Sequence[Row]:
        return compare_rows(self.pairs, self.every, width, self.signs)

    def action_swap(self) -> None:
        """Change sides."""
        left, right = self.sides
        self.sides = (right, left)
        self.pairs = compare(*self.sides)
        self.refill("head", "list")

    def action_all(self) -> None:
        """Show what is the same as well, or not."""
        self.every = not self.every
        self.refill("list")

    def action_apart(self) -> None:
        """Show both blue cards, and why the blues differ."""
        one, other = self.sides
        self.app.push_screen(ReadingWindow("The same blue?", lambda width: apart_rows(one, other, width)))
