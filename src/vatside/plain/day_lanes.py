"""The lanes of a day in letters: one column is some minutes, so that the day fits."""

from __future__ import annotations

from collections.abc import Iterator

from vatside.dayline.laid_day import LaidDay
from vatside.dayline.lanes import BREAK, Bar, Lane, busy, lanes
from vatside.dayline.line.model import HANDS

SCALES = (2, 5, 8, 10, 15, 20, 30, 60)
"""Minutes of a column."""
NAME = 8
"""Columns of a lane's name."""
HOUR = 60


def scale_of(minutes: int, columns: int) -> int:
    """The finest scale at which so many minutes fit."""
    return next((scale for scale in SCALES if minutes <= scale * columns), SCALES[-1])


def drawn(day: LaidDay, wide: int) -> Iterator[str]:
    """The hours, then a line for each lane."""
    columns = wide - NAME
    scale = scale_of(max(day.laid.end, 1), columns)
    count = min(-(-max(day.laid.end, 1) // scale), columns)
    yield f"{'':{NAME}}{_hours(day, scale, count)}".rstrip()
    for lane in lanes(day):
        bars = _hands(day, lane, scale, count) if lane.name == HANDS else _bars(lane, scale, count)
        yield f"{lane.name[: NAME - 1]:{NAME}}{bars}".rstrip()
    yield f"a column is {scale} min; hands: # all of it, + half, - a little, L everybody stops"


def _hours(day: LaidDay, scale: int, count: int) -> str:
    line = [" "] * (count + 2)
    first = -day.at(0).minute % HOUR
    for minute in range(first, count * scale, HOUR):
        column, text = minute // scale, f"{day.at(minute):%H}"
        if column + 2 <= len(line) and (scale * 4 <= HOUR or (minute // HOUR) % 2 == 0):
            line[column : column + 2] = text
    return "".join(line)


def _hands(day: LaidDay, lane: Lane, scale: int, count: int) -> str:
    counts, stops = busy(day), [bar for bar in lane.bars if bar.label == BREAK]
    return "".join(_busy_sign(counts, stops, column * scale, scale) for column in range(count))


def _busy_sign(counts: list[int], stops: list[Bar], begin: int, scale: int) -> str:
    if any(stop.begin < begin + scale and begin < stop.end for stop in stops):
        return "L"
    here = counts[begin : begin + scale]
    share = sum(1 for taken in here if taken) / scale
    return "#" if share > 0.7 else "+" if share > 0.3 else "-" if share > 0 else "."


def _bars(lane: Lane, scale: int, count: int) -> str:
    line = [" "] * count
    for bar in lane.bars:
        first, last = bar.begin // scale, max(bar.begin // scale, -(-bar.end // scale) - 1)
        wide = min(last, count - 1) - first + 1
        for offset, sign in enumerate(_bar(bar.label, wide)):
            line[first + offset] = sign
    return "".join(line)


def _bar(label: str, wide: int) -> str:
    """`[wool----]`, and less where there is less room."""
    if wide < 1:
        return ""
    if wide == 1:
        return label[:1].upper()
    return "[" + label[: wide - 2].ljust(wide - 2, "-") + "]"
