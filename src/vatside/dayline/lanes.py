"""Where hands, hobs, pots, sinks and vat are needed: a lane each, with bars, and these as strokes in columns.

Minutes count from the beginning of the day; what began before, as far as it is known, has minutes below zero. Whoever
shows the strokes brings the signs; a stroke says whose it is, so that colour can repeat it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence, Set

from attrs import frozen

from vatside.dayline.held_day import away
from vatside.dayline.laid_day import LaidDay
from vatside.dayline.line.model import HANDS, Task
from vatside.dayline.steps import Step
from vatside.plan.batches import baths
from vatside.plan.measures import fibre_key
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.units import Amount, show_amount, show_minutes

#: Lanes of things, in the order in which they are shown.
THINGS = ("hob", "pot", "sink", "jar")
BREAK = "break"
VAT = "vat"
DIPS = "dips"
#: Minutes of what went before that are shown at most: ours.
PAST = 240
#: Bars of one lot that are no further apart are one bar, minutes: ours.
TOGETHER = 10


@frozen
class Bar:
    """A stretch of a lane and whose it is."""

    begin: int
    end: int
    label: str


@frozen
class Lane:
    """One pair of hands or one thing."""

    name: str
    bars: tuple[Bar, ...]


def since_when(day: LaidDay) -> int:
    """The minute at which what is known of the day begins: now, or below zero, by so much as is worth a look."""
    return max(min([0, *day.needed.day.running.values()]), -PAST)


def lanes(day: LaidDay, since: int = 0) -> tuple[Lane, ...]:
    """Every lane that has a bar after `since`: hands first, then things, then the vat."""
    all_lanes = [Lane(HANDS, _hands(day, since))]
    for thing in THINGS:
        all_lanes += _of_thing(day, thing, since)
    all_lanes.append(Lane(VAT, _vat(day, since)))
    return tuple(lane for lane in all_lanes if lane.bars)


def lot_lanes(day: LaidDay, plan: Plan, since: int = 0) -> tuple[Lane, ...]:
    """What is done to each lot after `since`: in its baths, in the vat, in its finish."""
    by_lot = []
    for lot in plan.lots:
        own = (*(bath.id("") for bath in baths(plan) if lot in bath.lots), f"finish.{fibre_key(lot)}.")
        bars = sorted(_of_lot(day, lot.id, own, since), key=lambda bar: (bar.begin, bar.end))
        by_lot.append(Lane(lot.name, tuple(_together(bars))))
    return tuple(lane for lane in by_lot if lane.bars)


def _of_lot(day: LaidDay, lot: str, own: tuple[str, ...], since: int) -> Iterator[Bar]:
    for task in day.needed.day.tasks:
        step, start = day.needed.steps[task.id], day.laid.starts[task.id]
        turn = day.needed.rounds.get(task.id)
        mine = step.id.startswith(own) if turn is None else any(piece.startswith(f"{lot}.") for piece in turn.pieces)
        if mine and start + task.minutes > since:
            yield Bar(max(start, since), start + task.minutes, DIPS if turn else step.stage.value.lower())


def _together(bars: Sequence[Bar]) -> list[Bar]:
    """Bars of one kind that follow each other as one."""
    joined: list[Bar] = []
    for bar in bars:
        last = joined[-1] if joined else None
        if last and last.label == bar.label and bar.begin <= last.end + TOGETHER:
            joined[-1] = Bar(last.begin, max(last.end, bar.end), bar.label)
        else:
            joined.append(bar)
    return joined


def busy(day: LaidDay, since: int = 0) -> list[int]:
    """For each minute from `since` up to the end how many pairs of hands are at work."""
    counts = [0] * max(day.laid.end - since, 0)
    for bar in _hands(day, since):
        if bar.label != BREAK:
            for minute in range(bar.begin - since, min(bar.end - since, len(counts))):
                counts[minute] += 1
    return counts


def _hands(day: LaidDay, since: int = 0) -> tuple[Bar, ...]:
    bars = [
        Bar(begin, end, _label(day.needed.steps[task.id]))
        for task in day.needed.day.tasks
        for begin, end in _used(day, task, HANDS, since)
    ]
    bars += [
        Bar(minute, minute + 1, _label(day.needed.steps[name]))
        for name, minutes in day.laid.nudges.items()
        for minute in minutes
        if minute >= since
    ]
    bars += [Bar(begin, begin + pause.minutes, BREAK) for begin, pause in day.breaks]
    bars += [Bar(max(begin, since), min(end, day.laid.end), BREAK) for begin, end in away(day) if end > since]
    return tuple(sorted(bars, key=lambda bar: bar.begin))


def _used(day: LaidDay, task: Task, thing: str, earliest: int) -> Iterator[tuple[int, int]]:
    start = day.laid.starts[task.id]
    for use in task.uses:
        if use.resource == thing and start + use.until > earliest:
            yield max(start + use.since, earliest), start + use.until


def _label(step: Step) -> str:
    return step.group or step.stage.value.lower()


def _of_thing(day: LaidDay, thing: str, since: int) -> Iterator[Lane]:
    """The lanes of a thing, one for each unit of it."""
    resource = day.needed.day.resources[thing]
    placed: list[list[Bar]] = [[] for _ in range(max(resource.units, 1))]
    for bar, unit in sorted(_held(day, thing, since), key=lambda each: each[0].begin):
        row = placed[unit] if unit is not None else _free(placed, bar)
        row.append(bar)
    for number, row in enumerate(placed):
        yield Lane(_name(thing, number, resource.sizes, resource.units), tuple(row))


def _free(placed: Sequence[list[Bar]], bar: Bar) -> list[Bar]:
    return next((row for row in placed if not row or row[-1].end <= bar.begin), placed[-1])


def _held(day: LaidDay, thing: str, since: int) -> Iterator[tuple[Bar, int | None]]:
    tasks = {task.id: task for task in day.needed.day.tasks}
    for task in day.needed.day.tasks:
        for begin, end in _used(day, task, thing, since):
            yield Bar(begin, end, _label(day.needed.steps[task.id])), None
    for number, span in enumerate(day.needed.day.spans):
        begin = day.laid.starts[span.first]
        end = day.laid.starts[span.last] + (tasks[span.last].minutes if span.to_end else 0)
        if span.resource == thing and end > max(begin, since):
            yield Bar(max(begin, since), end, _label(day.needed.steps[span.first])), day.laid.units.get(number)


def _name(thing: str, number: int, sizes: Sequence[float], units: int) -> str:
    if sizes:
        return f"{thing} {show_amount(Amount(sizes[number], 'L'))}"
    return thing if units == 1 else f"{thing} {number + 1}"


def _vat(day: LaidDay, since: int) -> tuple[Bar, ...]:
    """What is done to the vat, and the dips."""
    bars = []
    for task in day.needed.day.tasks:
        step, start = day.needed.steps[task.id], day.laid.starts[task.id]
        if step.stage is Stage.VAT or task.id in day.needed.rounds:
            label = DIPS if task.id in day.needed.rounds else step.wait_label.lower() or VAT
            if start + task.minutes > since:
                bars.append(Bar(max(start, since), start + task.minutes, label))
    return tuple(sorted(bars, key=lambda bar: bar.begin))


LEGEND = 2
"""Lines of the legend at most."""
DIGITS = frozenset("123456789")
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
    stops: str = "="
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
    by_lane = {lane.name: strokes(day, lane, over, pens) for lane in lanes(day)}
    for name, drawn_ in by_lane.items():
        text = "".join(stroke.text for stroke in drawn_)
        yield f"{name[: NAME - 1]:{NAME}}{text}".rstrip()
    yield from legend(over, pens, [stroke for drawn_ in by_lane.values() for stroke in drawn_], wide)


def legend(over: Axis, pens: Pens, all_strokes: Sequence[Stroke], wide: int, most: int = LEGEND) -> list[str]:
    """What a column is, and each sign and letter that stands in the lanes, as far as `most` lines have room."""
    signs = {sign for stroke in all_strokes if stroke.of == HANDS for sign in stroke.text}
    _, little, half, everything = pens.hands
    words = {everything: "busy", half: "half", little: "a little", pens.stops: "all stop"}
    parts = [f"a column is {over.scale} min"]
    parts += [_pairs(signs & DIGITS)] if signs & DIGITS else []
    parts += [f"{sign} {word}" for sign, word in words.items() if sign in signs]
    parts += [f"{letter} {' or '.join(names)}" for letter, names in _letters(all_strokes).items()]
    lines = [parts[0]]
    for part in parts[1:]:
        if len(lines[-1]) + len(part) + 2 <= wide:
            lines[-1] += f", {part}"
        elif len(lines) < most:
            lines.append(part)
    return lines


def _pairs(digits: Set[str]) -> str:
    """`1 to 3 pairs busy`."""
    low, high = min(digits), max(digits)
    return f"{low} to {high} pairs busy" if low < high else f"{low} {'pair' if low == '1' else 'pairs'} busy"


def _letters(all_strokes: Sequence[Stroke]) -> dict[str, list[str]]:
    """The names for which bars have no room, by the letter that stands for them."""
    letters: dict[str, list[str]] = {}
    for stroke in all_strokes:
        if stroke.is_word and len(stroke.text) == 1 and stroke.of not in letters.setdefault(stroke.text, []):
            letters[stroke.text].append(stroke.of)
    return {letter: sorted(letters[letter]) for letter in sorted(letters)}


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
    return _hand_strokes(day, lane, over, pens) if lane.name == HANDS else _bars(lane, over, pens)


def _hand_strokes(day: LaidDay, lane: Lane, over: Axis, pens: Pens) -> list[Stroke]:
    counts, stops = busy(day, over.since), [bar for bar in lane.bars if bar.label == BREAK]
    people = day.needed.day.resources[HANDS].units
    signs = [_busy_sign(counts, stops, column, over, pens, people) for column in range(over.count)]
    return [Stroke(sign, HANDS if sign != pens.hands[0] else "") for sign in signs]


def _busy_sign(counts: Sequence[int], stops: Sequence[Bar], column: int, over: Axis, pens: Pens, people: int) -> str:
    """How busy the hands are; of several people how many at most."""
    begin = over.since + column * over.scale
    if any(stop.begin < begin + over.scale and begin < stop.end for stop in stops):
        return pens.stops
    in_column = counts[column * over.scale : (column + 1) * over.scale]
    share = sum(1 for taken in in_column if taken) / over.scale
    if people > 1 and share > 0:
        return str(min(max(in_column), 9))
    none, little, half, everything = pens.hands
    return everything if share > ALL_OF_IT else half if share > HALF_OF_IT else little if share > 0 else none


def _bars(lane: Lane, over: Axis, pens: Pens) -> list[Stroke]:
    line: list[Stroke] = []
    at = 0
    for bar in lane.bars:
        first = max(over.column(bar.begin), at)
        last = max(over.column(bar.begin), -(-(bar.end - over.since) // over.scale) - 1)
        wide = min(last, over.count - 1) - first + 1
        if wide < 1:
            continue
        line += [Stroke(" " * (first - at))] if first > at else []
        line += _bar(bar, wide, pens)
        at = first + wide
    return [*line, Stroke(" " * (over.count - at))]


def _fitting(label: str, room: int) -> str:
    """As many whole words as there is room for, else the letter that stands for it: no word is cut."""
    if len(label) <= room:
        return label
    return label[: room + 1].rpartition(" ")[0] or label[:1].upper()


def _bar(bar: Bar, wide: int, pens: Pens) -> Iterator[Stroke]:
    """`[wool----]`, and less where there is less room."""
    if wide < 4:
        begin, end = pens.begin if wide == 3 else "", pens.end if wide > 1 else ""
        yield Stroke(begin, bar.label)
        yield Stroke(bar.label[:1].upper(), bar.label, is_word=True)
        yield Stroke(end, bar.label)
        return
    label = _fitting(bar.label, wide - 2)
    length = f" {show_minutes(bar.end - bar.begin)}"
    if pens.minutes and len(label) + len(length) + 1 <= wide - 2:
        label += length
    yield Stroke(pens.begin, bar.label)
    yield Stroke(label, bar.label, is_word=True)
    yield Stroke(pens.fill * (wide - 2 - len(label)), bar.label)
    yield Stroke(pens.end, bar.label)
