"""Two days side by side; what differs comes first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

from vatside.days.compare import Row as Pair
from vatside.ui.text.rows import BLANK, Row, Span, left, row, wrap
from vatside.ui.text.signs import Signs
from vatside.units.one_line import clean

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
    found: list[Row] = []
    for group, some in groupby(pairs, key=lambda pair: pair.group):
        found += ([BLANK] if found else []) + [row(Span(group, "head"))]
        for pair in some:
            mark = (UNLIKE if signs.half_blocks else "*") if pair.differs else " "
            texts = (pair.left or "–", pair.right or "–")
            found += _beside(pair.label, texts, label, side, "number" if pair.differs else "faint", mark)
    return found


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
