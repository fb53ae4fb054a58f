"""What happened to the vat: a picture of temperature and pH over the day, and a list of all that was read and done.

A stroke of the picture is as thick as it is unsure what is expected: thin where the vat was read, thicker with time;
full up to now, dotted ahead. It is drawn in braille, eight dots to a cell, and in letters where there is none.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import datetime, timedelta

from attrs import frozen

from vatside.bench.desk import local
from vatside.chemistry.rates import Estimate
from vatside.log.waits import after
from vatside.outlook.vat_course import Course
from vatside.ui.text.rows import BLANK, Row, Signs, Span, cells, hanging, merged, paragraph, row, spread
from vatside.units.show import clean

AXIS = 5
"""Columns of the numbers at the left edge of the picture."""
LEAST = 30
"""Columns below which there is no picture."""
HIGH, LOW = 9, 4
"""Rows of a curve, with all the room and with little."""
ROOMY, SMALL = 36, 24
"""Rows of a screen from which a curve has all its room, and from which it is not small."""
BRAILLE = 0x2800
DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
"""Bits of the dots of a cell, row by row [Unicode 16.0, chapter 21.1, Braille Patterns]."""
HOURS = (15, 30, 60, 120, 180, 360, 720)
"""Minutes between two hours of the axis."""
APART = 7
"""Columns between them at the least."""


@frozen
class Happened:
    """One line of the list."""

    at: datetime
    """On the wall."""
    text: str
    done: bool
    """Something was done; else something was read."""


@frozen
class Wanted:
    """The windows that the fibre wants."""

    celsius: tuple[float, float]
    pH: tuple[float, float]  # noqa: N815  (chemistry's own symbol)


@frozen
class Curve:
    """One quantity over the day."""

    name: str
    unit: str
    decimals: int
    expected: Callable[[float], Estimate | None]
    """At a minute of the course."""
    read: Sequence[tuple[float, float]]
    """Minutes and values."""
    wanted: tuple[float, float]


@frozen
class Over:
    """The minutes of the course over the columns of the picture."""

    end: float
    wide: int

    def dot(self, minute: float) -> int:
        """Give the column of dots in which a minute lies: there are two to a cell."""
        last = 2 * self.wide - 1
        return min(max(round(minute / max(self.end, 1e-9) * last), 0), last)

    def column(self, minute: float) -> int:
        """Give the column in which a minute lies."""
        return self.dot(minute) // 2

    def minute(self, dot: int) -> float:
        """Give the minute of a column of dots."""
        return self.end * dot / (2 * self.wide - 1)


def rows_of_a_curve(height: int) -> int:
    """Give the rows that a curve gets on a screen of so many."""
    return HIGH if height >= ROOMY else LOW + 1 if height >= SMALL else LOW


def history_rows(happened: Sequence[Happened], picture: Sequence[Row], width: int, signs: Signs) -> tuple[Row, ...]:
    """Print the picture, then the list, the latest first."""
    if not happened:
        sentence = "Nothing was read or done yet: r takes a reading."
        return (*picture, *paragraph(sentence, width, "faint"))
    listed = (line for item in reversed(happened) for line in _line(item, width, signs))
    return (*picture, *((BLANK,) if picture else ()), *listed)


def _line(item: Happened, width: int, signs: Signs) -> list[Row]:
    sign = Span(f"{signs.up} ", "changed") if item.done else Span(f"{signs.later} ", "faint")
    head = (Span(f" {item.at:%H:%M} ", "number"), sign)
    return hanging(head, clean(item.text), width - 1, "strong" if item.done else "")


def picture_rows(course: Course, wanted: Wanted, width: int, tall: int, signs: Signs) -> tuple[Row, ...]:
    """Draw temperature and pH over the day, one above the other, then what happened when; nothing where narrow."""
    over = Over(course.end, width - AXIS - 1)
    if width < LEAST:
        return ()
    curves = (
        Curve("Warmth", " °C", 0, lambda minute: course.at(minute).celsius, course.read_C, wanted.celsius),
        Curve("pH", "", 1, lambda minute: course.at(minute).pH, course.read_pH, wanted.pH),
    )
    drawn = [
        line
        for curve in curves
        for line in (_head(curve, course, width, signs), *_grid(curve, course.now, over, tall, signs))
    ]
    return (*drawn, *_marks(course, over, signs), _hours(course, over), *_legend(course, width, signs))


def _head(curve: Curve, course: Course, width: int, signs: Signs) -> Row:
    """Name the quantity, say what is expected of it now, or was at the end (as read, if it was), and what is wanted."""
    low, high = (f"{value:.{curve.decimals}f}" for value in curve.wanted)
    known = curve.expected(course.end if course.now is None else course.now)
    when = "at the end" if course.now is None else "now"
    if course.now is None and curve.read:
        known, when = Estimate(*[curve.read[-1][1]] * 3), "last read"
    near = Span(f"  {_said(known, curve, when)}" if known else "", "number")
    return spread((Span(f" {curve.name}", "head"), near), (Span(f"{signs.dash} {low}–{high}", "faint"),), width)


def _said(known: Estimate, curve: Curve, when: str) -> str:
    low, likely, high = (f"{value:.{curve.decimals}f}" for value in (known.low, known.likely, known.high))
    return f"{likely}{curve.unit} {when}" + (f" ({low}–{high})" if low != high else "")


def _span(curve: Curve, over: Over) -> tuple[float, float]:
    """Give the values at the foot and the top of a curve: all that is drawn, and its window, in whole units."""
    known = [expected for dot in range(2 * over.wide) if (expected := curve.expected(over.minute(dot)))]
    values = [*(band.low for band in known), *(band.high for band in known), *(value for _, value in curve.read)]
    step = 1.0 if curve.decimals == 0 else 0.5
    low, high = min(*values, *curve.wanted) // step * step, -(-max(*values, *curve.wanted) // step) * step
    return low, max(high, low + step)


@frozen
class Scale:
    """The values of a curve over its rows."""

    low: float
    high: float
    tall: int

    def dot(self, value: float) -> int:
        """Give the row of dots in which a value lies, from the top: there are four to a cell."""
        last = 4 * self.tall - 1
        return min(max(round((self.high - value) / (self.high - self.low) * last), 0), last)

    def row(self, value: float) -> int:
        """Give the row in which a value lies."""
        return self.dot(value) // 4


def _grid(curve: Curve, now: float | None, over: Over, tall: int, signs: Signs) -> Iterator[Row]:
    scale = Scale(*_span(curve, over), tall)
    strokes, read = _strokes(curve, now, over, scale), {(scale.row(value), over.column(at)) for at, value in curve.read}
    windows = {scale.row(value): value for value in curve.wanted}
    numbers = {0: scale.high, tall - 1: scale.low} | windows
    for y in range(tall):
        number = f"{numbers[y]:{AXIS - 1}.{curve.decimals}f} " if y in numbers else " " * AXIS
        ground = [signs.dash if y in windows and x % 2 == 0 else " " for x in range(over.wide)]
        if now is not None:
            ground[over.column(now)] = signs.rule
        spans = [
            Span(signs.read, "strong") if (y, x) in read
            else _stroke(strokes[y, x], over.minute(2 * x), curve, now, signs) if (y, x) in strokes
            else Span(sign, "edge" if sign == signs.rule else "good")
            for x, sign in enumerate(ground)
        ]  # fmt: skip
        yield Row((Span(number, "faint"), *merged(spans)))


def _strokes(curve: Curve, now: float | None, over: Over, scale: Scale) -> Mapping[tuple[int, int], int]:
    """Give the dots of each cell that the expected band goes through, ahead of now in every other column."""
    dots: dict[tuple[int, int], int] = {}
    for dot in range(2 * over.wide):
        minute = over.minute(dot)
        known = curve.expected(minute)
        if known is None or (now is not None and minute > now and dot % 2):
            continue
        for y in range(scale.dot(known.high), scale.dot(known.low) + 1):
            place = (y // 4, dot // 2)
            dots[place] = dots.get(place, 0) | DOTS[y % 4][dot % 2]
    return dots


def _stroke(dots: int, minute: float, curve: Curve, now: float | None, signs: Signs) -> Span:
    """Draw a cell of a stroke, in copper where what is likely lies outside of what is wanted."""
    ahead, known = now is not None and minute > now, curve.expected(minute)
    sign = chr(BRAILLE + dots) if signs.half_blocks else signs.strokes[ahead]
    if known is not None and not curve.wanted[0] <= known.likely <= curve.wanted[1]:
        return Span(sign, "care")
    return Span(sign, "faint" if ahead else "ripe4")


def _marks(course: Course, over: Over, signs: Signs) -> Iterator[Row]:
    """Print what happened when: what was put in, dips, and *now*."""
    line = {over.column(minute): Span(signs.later, "faint") for minute in course.dips}
    line |= {over.column(minute): Span(signs.up, "changed") for minute in course.put_in}
    if course.now is not None:
        at = min(over.column(course.now), over.wide - 3)
        line |= {at + place: Span(letter, "strong") for place, letter in enumerate(" now", start=-1)}
    if line:
        yield Row((Span(" " * AXIS), *merged([line.get(x, Span(" ")) for x in range(over.wide)])))


def _hours(course: Course, over: Over) -> Row:
    """Print the hours, each with its first figure in its column."""
    per = over.wide / max(course.end, 1e-9)
    step = next((step for step in HOURS if step * per >= APART), HOURS[-1])
    line = [" "] * over.wide
    for minute, moment in _full(course, step):
        column, text = over.column(minute), f"{moment:%H:%M}"
        if column + len(text) <= over.wide:
            line[column : column + len(text)] = text
    return row(Span(" " * AXIS + "".join(line).rstrip(), "faint"))


def _full(course: Course, step: int) -> Iterator[tuple[float, datetime]]:
    """Give each minute of the course at which a full hour, or a part of one, begins on the wall."""
    first = local(course.begin)
    day = first.replace(hour=0, minute=0, second=0, microsecond=0)
    minute = -((first - day) / timedelta(minutes=1) % step) % step
    while minute <= course.end:
        yield minute, local(after(course.begin, 60 * minute + 1))
        minute += step


def _legend(course: Course, width: int, signs: Signs) -> Iterator[Row]:
    """Say what the signs stand for; only of those that are there."""
    meanings = (
        f"{signs.read} read" if course.read_C or course.read_pH else "",
        f"{signs.dash} wanted",
        f"{signs.up} done" if course.put_in else "",
        f"{signs.later} dips" if course.dips else "",
        "ahead: without dips" if course.now is not None else "",
    )
    line = ""
    for words in filter(None, meanings):
        if cells(line) + cells(words) + 1 > width:
            yield row(Span(line, "faint"))
            line = ""
        line += f" {words} "
    yield row(Span(line.rstrip(), "faint"))
