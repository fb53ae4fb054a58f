"""The lanes of a day as strokes in columns: one column is some minutes, so that the day fits.

Whoever shows them brings the signs; a stroke says whose it is, so that colour can repeat it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from attrs import frozen

from vatside.dayline.laid_day import LaidDay
from vatside.dayline.lanes import BREAK, Bar, Lane, busy, lanes
from vatside.dayline.line.model import HANDS
from vatside.units import show_minutes

SCALES = (2, 5, 8, 10, 15, 20, 30, 60)
"""Minutes of a column."""
NAME = 8
"""Columns of a lane's name."""
HOUR = 60
ALL_OF_IT, HALF_OF_IT = 0.7, 0.3
"""Shares of a column above which hands are busy all of it, and half of it: ours."""


@frozen
class Pens:
    """The signs that lanes are drawn with."""

    begin: str = "["
    end: str = "]"
    fill: str = "-"
    hands: tuple[str, str, str, str] = (".", "-", "+", "#")
    """Not at all, a little, half, all of a column."""
    stops: str = "L"
    """Everybody stops."""
    minutes: bool = False
    """The length of a bar stands in it where it has room."""


@frozen
class Stroke:
    """Some columns of a lane."""

    text: str
    of: str = ""
    """Whose bar it is; empty for nothing."""
    is_word: bool = False
    """A name, not a line."""


@frozen
class Axis:
    """The minutes that the columns stand for, from `since` on."""

    since: int
    scale: int
    count: int

    def column(self, minute: float) -> int:
        """The column of a minute."""
        return int((minute - self.since) // self.scale)


def axis(day: LaidDay, columns: int, since: int = 0) -> Axis:
    """The finest scale at which the day fits from `since` to its end."""
    minutes = max(day.laid.end - since, 1)
    scale = next((scale for scale in SCALES if minutes <= scale * columns), SCALES[-1])
    return Axis(since, scale, min(-(-minutes // scale), columns))


def drawn(day: LaidDay, wide: int) -> Iterator[str]:
    """The hours, then a line for each lane."""
    over, pens = axis(day, wide - NAME), Pens()
    yield f"{'':{NAME}}{hours(day, over)}".rstrip()
    for lane in lanes(day):
        text = "".join(stroke.text for stroke in strokes(day, lane, over, pens))
        yield f"{lane.name[: NAME - 1]:{NAME}}{text}".rstrip()
    yield legend(over, pens)


def legend(over: Axis, pens: Pens) -> str:
    """What a column is, and what stands for the hands."""
    _, little, half, everything = pens.hands
    return f"a column is {over.scale} min: {everything} busy, {half} half, {little} a little, {pens.stops} a break"


def hours(day: LaidDay, over: Axis) -> str:
    """The full hours over their columns."""
    line = [" "] * (over.count + 2)
    first = over.since + (-day.at(over.since).minute % HOUR)
    for minute in range(first, over.since + over.count * over.scale, HOUR):
        column, moment = over.column(minute), day.at(minute)
        if over.scale * 4 <= HOUR or moment.hour % 2 == 0:
            line[column : column + 2] = f"{moment:%H}"
    return "".join(line)[: over.count]


def strokes(day: LaidDay, lane: Lane, over: Axis, pens: Pens) -> list[Stroke]:
    """One lane in its columns."""
    return _hands(day, lane, over, pens) if lane.name == HANDS else _bars(lane, over, pens)


def _hands(day: LaidDay, lane: Lane, over: Axis, pens: Pens) -> list[Stroke]:
    counts, stops = busy(day, over.since), [bar for bar in lane.bars if bar.label == BREAK]
    people = day.needed.day.resources[HANDS].units
    signs = [_busy_sign(counts, stops, column, over, pens, people) for column in range(over.count)]
    return [Stroke(sign, HANDS if sign != pens.hands[0] else "") for sign in signs]


def _busy_sign(counts: Sequence[int], stops: Sequence[Bar], column: int, over: Axis, pens: Pens, people: int) -> str:
    """How busy the hands are; of several people how many at most."""
    begin = over.since + column * over.scale
    if any(stop.begin < begin + over.scale and begin < stop.end for stop in stops):
        return pens.stops
    here = counts[column * over.scale : (column + 1) * over.scale]
    share = sum(1 for taken in here if taken) / over.scale
    if people > 1 and share > 0:
        return str(min(max(here), 9))
    none, little, half, everything = pens.hands
    return everything if share > ALL_OF_IT else half if share > HALF_OF_IT else little if share > 0 else none


def _bars(lane: Lane, over: Axis, pens: Pens) -> list[Stroke]:
    found: list[Stroke] = []
    at = 0
    for bar in lane.bars:
        first = max(over.column(bar.begin), at)
        last = max(over.column(bar.begin), -(-(bar.end - over.since) // over.scale) - 1)
        wide = min(last, over.count - 1) - first + 1
        if wide < 1:
            continue
        found += [Stroke(" " * (first - at))] if first > at else []
        found += _bar(bar, wide, pens)
        at = first + wide
    return [*found, Stroke(" " * (over.count - at))]


def _bar(bar: Bar, wide: int, pens: Pens) -> Iterator[Stroke]:
    """`[wool----]`, and less where there is less room."""
    if wide < 4:
        begin, end = pens.begin if wide == 3 else "", pens.end if wide > 1 else ""
        yield Stroke(begin, bar.label)
        yield Stroke(bar.label[:1].upper(), bar.label, is_word=True)
        yield Stroke(end, bar.label)
        return
    label = bar.label[: wide - 2]
    length = f" {show_minutes(bar.end - bar.begin)}"
    if pens.minutes and len(label) + len(length) + 1 <= wide - 2:
        label += length
    yield Stroke(pens.begin, bar.label)
    yield Stroke(label, bar.label, is_word=True)
    yield Stroke(pens.fill * (wide - 2 - len(label)), bar.label)
    yield Stroke(pens.end, bar.label)
