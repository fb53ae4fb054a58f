"""The two pages of a class card: what stands on each, at which size of type, and what is left out for want of room.

Page one is for the table: danger on top, large amounts with boxes to tick, the day by the clock. Page two has every
step, what to mind, and what is for the teacher. All ways of printing it read these pages, so they say the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from enum import StrEnum
from itertools import accumulate
from math import ceil
from textwrap import wrap

from attrs import evolve, frozen

from vatside.days.class_card import Doing, Handout, Part
from vatside.days.class_clock import Row
from vatside.days.class_dips import Dipped
from vatside.plan.sheet import CARE, DANGER


class Kind(StrEnum):
    """How a block is printed."""

    TITLE = "title"
    HEAD = "head"
    TEXT = "text"
    STRONG = "strong"
    DANGER = "danger"
    AMOUNTS = "amounts"
    """Box, label, amount."""
    FOR_ALL = "for-all"
    """The same in smaller type: the teacher's."""
    DIPS = "dips"
    TIMES = "times"
    """Box, hour, what begins, numbers of its steps."""
    STEPS = "steps"
    """Number, hour, whose, what, its wait, what to mind."""
    HAZARDS = "hazards"
    """Title, lines."""


@frozen
class Block:
    """Some rows of one kind, each of so many cells."""

    kind: Kind
    rows: tuple[tuple[str, ...], ...]


Page = tuple[Block, ...]
BOX, TICKED = "☐", "☑"
DIP_HEAD = ("Dip", "Depth", "Pieces each table", "Dips", "In the vat", "In the air")
TEACHER = "Teacher"


def pages(card: Handout) -> tuple[Page, Page]:
    """Give what stands on each page, as far as the card has it."""
    return tuple(_first(card)), tuple(_second(card))


def _lines(kind: Kind, *lines: str) -> Iterator[Block]:
    """Paragraphs, where there are any."""
    if lines:
        yield Block(kind, tuple((line,) for line in lines))


def _first(card: Handout) -> Iterator[Block]:
    tables = f" · {card.tables} tables" if card.tables > 1 else ""
    yield from _lines(Kind.TITLE, card.title)
    yield from _lines(Kind.TEXT, " · ".join(part for part in (card.ready, card.vat, card.dipping) if part) + tables)
    yield from _lines(Kind.DANGER, *(f"{DANGER.opening}{line}" for line in (*card.notices, card.hurts)))
    yield from _lines(Kind.TEXT, *card.fibre)
    yield from _lines(Kind.STRONG, *card.uneven)
    for part in (part for part in card.parts if not part.teacher):
        yield from _amounts(part, Kind.AMOUNTS, "each table" if card.tables > 1 else "")
    if card.dips:
        yield Block(Kind.DIPS, tuple(cells_of(line) for line in card.dips))
    yield from _times(card)
    for part in (part for part in card.parts if part.teacher):
        yield from _amounts(part, Kind.FOR_ALL, "the teacher's, for all")
    for_all = tuple(_for_all(card)) if card.tables > 1 else ()
    if card.looks or for_all:
        yield from _lines(Kind.HEAD, "For the teacher")
        yield from _lines(Kind.TEXT, *(f"{CARE.opening}{line}" for line in card.looks), *for_all)


def _amounts(part: Part, kind: Kind, whose: str) -> Iterator[Block]:
    yield from _lines(Kind.HEAD, f"{part.name}, {whose}" if whose else part.name)
    yield Block(kind, tuple((BOX, line.label, line.each) for line in part.weighed))


def _times(card: Handout) -> Iterator[Block]:
    yield from _lines(Kind.HEAD, "The day by the clock")
    yield from _lines(Kind.STRONG, *([card.no_times] if card.no_times else []))
    yield Block(Kind.TIMES, tuple(_time(row) for row in card.times))


def _time(row: Row) -> tuple[str, ...]:
    """What is no step has no box."""
    box = TICKED if row.done else BOX
    return (box if row.numbers else "", row.at, f"{TEACHER}: {row.text}" if row.teacher else row.text, row.numbers)


def cells_of(line: Dipped) -> tuple[str, ...]:
    """Give the cells of a line of the dips."""
    return (line.lot, line.depth, line.pieces, line.dips, line.dip, line.air)


def _second(card: Handout) -> Iterator[Block]:
    yield from _lines(Kind.HEAD, f"{card.title}: steps, as page one numbers them")
    yield Block(Kind.STEPS, tuple(_step(number, line) for number, line in enumerate(card.doing, start=1) if line.text))
    yield from _lines(Kind.HEAD, "Take care")
    yield Block(Kind.HAZARDS, tuple((hazard.title, *hazard.lines) for hazard in card.hazards))
    yield from _lines(Kind.STRONG, card.end, card.defer)


def _step(number: int, line: Doing) -> tuple[str, ...]:
    return (f"{number}", line.at, TEACHER if line.teacher else "", line.text, line.wait, line.mind)


def _for_all(card: Handout) -> Iterator[str]:
    """What all tables need together."""
    for part in (part for part in card.parts if not part.teacher):
        every = " · ".join(f"{line.label} {line.whole}" for line in part.weighed)
        yield f"{part.name}, for all {card.tables} tables: {every}"


# --- how large ---------------------------------------------------------------

SMALLEST = 9.0
"""Type that reads well at a table, pt; nothing is smaller. Ours."""
SIZES = tuple(quarter / 4 for quarter in range(48, 35, -1))
"""Sizes of type, pt, the largest that fits a page being taken."""
SCALES = {Kind.TITLE: 1.6, Kind.HEAD: 1.1, Kind.DANGER: 1.1, Kind.AMOUNTS: 1.3, Kind.DIPS: 1.1, Kind.TIMES: 1.1}
"""How much larger than its page's type a kind is; the others are of its size."""
PAIRED = (Kind.AMOUNTS, Kind.FOR_ALL, Kind.TIMES, Kind.STEPS, Kind.HAZARDS)
"""Kinds in two columns."""
SHEET_PT = (7.6 * 72, 10.3 * 72)
"""Room for type on the narrower and on the shorter of A4 and Letter, with margins of 8 mm, pt."""
GAP_PT = 14.0
LINE = 1.15
"""Height of a line, sizes of type."""
LETTER = 0.45
"""Mean width of a letter, sizes of type: measured with common sans-serif faces, on the wide side. Ours."""
BOLD, BOLDER = (Kind.TITLE, Kind.HEAD, Kind.DANGER, Kind.STRONG), 1.12
"""Kinds in bold, and how much wider that runs. Ours."""
INDENT = 2.0
"""By so many sizes of type the further lines of a row stand in."""
HOUR = 2.8
"""Width of the column of hours, sizes of type: `00:00` in bold takes 2.5 (Arial's figures are 0.556 wide)."""
BETWEEN = 0.3
"""Room above or below a block, sizes of type."""
DIP_CELLS = (30, 10, 20, 10, 10, 10)
"""Letters that the cells of a line of the dips have room for, at a middling size of type. Ours."""


def height_pt(page: Page, size: float) -> float:
    """Estimate how high a page is in print, pt, by the lines of each block at its own size."""
    return sum(_block_pt(block, size * SCALES.get(block.kind, 1.0)) + BETWEEN * size for block in page)


def _block_pt(block: Block, size: float) -> float:
    if block.kind is Kind.DIPS:
        each = [max(ceil(len(cell) / room) for cell, room in zip(row, DIP_CELLS, strict=True)) for row in block.rows]
        return (1 + sum(each)) * size * LINE
    paired = block.kind in PAIRED
    timed = block.kind is Kind.TIMES
    indent = (INDENT + HOUR if timed else INDENT) * size
    width = (SHEET_PT[0] - GAP_PT) / 2 - indent if paired else SHEET_PT[0]
    letters = int(width / (size * LETTER * (BOLDER if block.kind in BOLD else 1.0)))
    each = [len(wrap(" ".join(row[2:] if timed else row), letters)) for row in block.rows]
    return (_balanced(each) if paired else sum(each)) * size * LINE


def _balanced(each: Sequence[int]) -> int:
    """Lines of the longer of two columns that part rows, none of them broken, as evenly as may be."""
    whole, firsts = sum(each), accumulate(each, initial=0)
    return min(max(first, whole - first) for first in firsts)


def type_size(page: Page) -> float:
    """Give the largest size of type at which a page is taken to fit its sheet, pt; the smallest if none does."""
    return next((size for size in SIZES if fits(page, size)), SMALLEST)


def fits(page: Page, size: float = SMALLEST) -> bool:
    """Tell whether a page is taken to fit its sheet in type of a size."""
    return height_pt(page, size) <= SHEET_PT[1]


Cut = Callable[[Handout], Handout]


def fitted(card: Handout) -> tuple[tuple[Page, tuple[str, ...]], tuple[Page, tuple[str, ...]]]:
    """Give both pages, each with what had to be left out of it: what can best be done without goes first."""
    return _fitted(card, 0, FIRST_CUTS), _fitted(card, 1, SECOND_CUTS)


def _fitted(card: Handout, which: int, cuts: tuple[tuple[str, Cut], ...]) -> tuple[Page, tuple[str, ...]]:
    left_out: tuple[str, ...] = ()
    for words, cut in cuts:
        if fits(_with_left_out(pages(card)[which], left_out)):
            break
        card, left_out = cut(card), (*left_out, words)
    return _with_left_out(pages(card)[which], left_out), left_out


def _with_left_out(page: Page, left_out: tuple[str, ...]) -> Page:
    lines = [f"Left out for want of room: {', '.join(left_out)}."] if left_out else []
    return (*page, *_lines(Kind.STRONG, *lines))


def _without_steps(stage: str = "") -> Cut:
    """Take the steps of a stage out, or the teacher's; the others keep their numbers."""

    def cut(card: Handout) -> Handout:
        gone = (line.teacher if not stage else line.stage == stage for line in card.doing)
        return evolve(
            card,
            doing=tuple(evolve(line, text="") if out else line for line, out in zip(card.doing, gone, strict=True)),
        )

    return cut


FIRST_CUTS: tuple[tuple[str, Cut], ...] = (
    ("the teacher's amounts", lambda card: evolve(card, parts=tuple(part for part in card.parts if not part.teacher))),
    ("the teacher's times", lambda card: evolve(card, times=tuple(row for row in card.times if not row.teacher))),
    ("what is for the teacher", lambda card: evolve(card, looks=(), tables=1)),
    ("the dips of each lot", lambda card: evolve(card, dips=())),
    ("the times", lambda card: evolve(card, times=())),
    ("the lots", lambda card: evolve(card, fibre=())),
)
SECOND_CUTS: tuple[tuple[str, Cut], ...] = (
    ("the teacher's steps", _without_steps()),
    ("the steps of the finish", _without_steps("Finish")),
    ("the steps of the scour", _without_steps("Scour")),
)
