"""What happened to the vat: two small curves of its readings, and a list of all that was read and done."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from attrs import frozen

from vatside.ui.text.rows import BLANK, Row, Signs, Span, row, spread, wrap
from vatside.units.show import clean

AXIS = 6
"""Columns of the numbers at the left edge of a curve."""
TALL = 5
"""Rows of a curve."""


@frozen
class Happened:
    """One line of the list."""

    at: datetime
    """On the wall."""
    text: str
    done: bool
    """Something was done; else something was read."""


@frozen
class Curve:
    """One quantity over time."""

    name: str
    unit: str
    points: Sequence[tuple[float, float]]
    """Minutes and values, in order of time."""
    low: float
    high: float
    """The window that it should stay in."""
    decimals: int = 0
    ends: tuple[str, str] = ("", "")
    """The times on the wall of the first and the last reading."""


def history_rows(
    happened: Sequence[Happened], curves: Sequence[Curve], done: Sequence[float], width: int, signs: Signs
) -> tuple[Row, ...]:
    """Print the curves, then the list, the latest first; `done` holds the minutes at which something was done."""
    rows: list[Row] = []
    for curve in curves:
        if len(curve.points) > 1 and width >= 30:
            rows += [*curve_rows(curve, done, width, signs), BLANK]
    if not happened:
        said = "Nothing was read or done yet: r takes a reading."
        return (*rows, *(row(Span(f" {line}", "faint")) for line in wrap(said, width - 2)))
    for item in reversed(happened):
        rows += _line(item, width, signs)
    return tuple(rows)


def _line(item: Happened, width: int, signs: Signs) -> list[Row]:
    first, *rest = wrap(clean(item.text), max(width - 10, 10)) or ("",)
    role = "strong" if item.done else ""
    sign = signs.up if item.done else signs.later
    head = row(Span(f" {item.at:%H:%M} ", "number"), Span(f"{sign} ", "changed" if item.done else "faint"))
    return [Row((*head.spans, Span(first, role))), *(row(Span(" " * 9 + line, role)) for line in rest)]


def curve_rows(curve: Curve, done: Sequence[float], width: int, signs: Signs) -> tuple[Row, ...]:
    """Draw a curve: a block for each reading, its window shaded, arrows below where something was done."""
    wide = width - AXIS - 2
    grid = _grid(curve, wide, signs)
    name, now = Span(f" {curve.name}", "head"), Span(f"  {_last(curve)}; shaded: as wanted", "faint")
    head = spread((name, now), (), width)
    return (head, *grid, *_foot(curve, done, wide, signs))


def _last(curve: Curve) -> str:
    """Print the last reading and when it was taken; what follows from it now is the account's to say."""
    at = f" at {curve.ends[1]}" if curve.ends[1] else ""
    return f"{curve.points[-1][1]:.{curve.decimals}f}{curve.unit}{at}"


def _span(curve: Curve) -> tuple[float, float]:
    """The values at the bottom and the top of the curve: its points, and its window with as much room round it."""
    values = [value for _, value in curve.points]
    room = (curve.high - curve.low) / 3
    return min(*values, curve.low - room), max(*values, curve.high + room)


def _grid(curve: Curve, wide: int, signs: Signs) -> list[Row]:
    low, high = _span(curve)
    step = (high - low) / TALL
    columns = _columns(curve, wide)
    rows = []
    for number in range(TALL):
        top = high - number * step
        shaded = curve.low < top - step / 4 and curve.high > top - 3 * step / 4
        cells = [signs.shades[0] if shaded else " "] * wide
        for column, (_, value) in zip(columns, curve.points, strict=True):
            if top - step < value <= top or (number == TALL - 1 and value <= top - step):
                cells[column] = signs.shades[-1]
        label = f"{top - step / 2:{AXIS - 2}.{curve.decimals}f} "
        rows.append(Row((Span(" " + label, "faint"), *_spans(cells, signs))))
    return rows


def _spans(cells: Sequence[str], signs: Signs) -> list[Span]:
    """Join neighbours that look alike."""
    spans: list[Span] = []
    for cell in cells:
        role = "number" if cell == signs.shades[-1] else "bare"
        if spans and spans[-1].role == role:
            spans[-1] = Span(spans[-1].text + cell, role)
        else:
            spans.append(Span(cell, role))
    return spans


def _columns(curve: Curve, wide: int) -> list[int]:
    return [_column(minute, curve, wide) for minute, _ in curve.points]


def _column(minute: float, curve: Curve, wide: int) -> int:
    begin, end = curve.points[0][0], curve.points[-1][0]
    share = (minute - begin) / max(end - begin, 1e-9)
    return min(max(round(share * (wide - 1)), 0), wide - 1)


def _foot(curve: Curve, done: Sequence[float], wide: int, signs: Signs) -> list[Row]:
    """Arrows where something was done, then the times at both ends."""
    begin, end = curve.points[0][0], curve.points[-1][0]
    marks = [_column(minute, curve, wide) for minute in done if begin <= minute <= end]
    arrows = "".join(signs.up if column in marks else " " for column in range(wide)).rstrip()
    first, last = curve.ends
    times = first + " " * max(wide - len(first) - len(last), 1) + last
    inset = Span(" " * AXIS)
    return [*([row(inset, Span(arrows, "changed"))] if marks else []), row(inset, Span(times, "faint"))]
