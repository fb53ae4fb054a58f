"""Lanes as rows: a column is some minutes; letters and lines say it all, colour only repeats whose it is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from vatside.dayline.laid_day import LaidDay
from vatside.dayline.lane_strokes import Axis, Pens, Stroke, axis, hours, legend, strokes
from vatside.dayline.lanes import BREAK, DIPS, THINGS, VAT, Lane, lanes, lot_lanes, since_when
from vatside.dayline.line.model import HANDS
from vatside.plan.plan import Lot, Plan
from vatside.plan.scour_baths import baths
from vatside.ui.text.bars import merged
from vatside.ui.text.rows import Row, Span, cells, left, row
from vatside.ui.text.signs import Signs
from vatside.units.one_line import clean

WIDE = 100
"""Columns from which bars say their minutes, and lots their whole names."""
NAME, LONG_NAME = 9, 14
"""Columns of a lane's name, and where there is room."""
FEW = ("hob", VAT)
"""Things whose lanes are kept where there is no room for all."""
LOTS = ("ripe1", "ripe3", "good", "next")
"""The looks of the lots, one after the other."""
LOOKS = {HANDS: "strong", DIPS: "ripe4", VAT: "ripe4", "stock": "number"}


def lane_rows(day: LaidDay, plan: Plan, width: int, most: int, signs: Signs) -> tuple[Row, ...]:
    """The hours, *now*, a lane each for hands, things and lots, in `most` rows at most."""
    since = since_when(day)
    found = [*lanes(day, since), *lot_lanes(day, plan, since)]
    kept = found if len(found) + 3 <= most else [lane for lane in found if _is_kept(lane)]
    name = LONG_NAME if width >= WIDE else NAME
    over, pens = axis(day, width - name - 1, since), pens_of(signs, wide=width >= WIDE)
    looks = looks_of(found, plan)
    body = [_lane(day, lane, over, pens, name, looks) for lane in kept]
    head = (_hours(day, over, name), *_now(day, over, name, signs))
    foot = row(Span(f" {legend(over, pens)}", "faint"))
    return (*head, *body, foot)[:most]


def _is_kept(lane: Lane) -> bool:
    return lane.name.split()[0] in FEW or not lane.name.startswith(THINGS)


def pens_of(signs: Signs, *, wide: bool) -> Pens:
    """Lines where the terminal has them, brackets where it has not."""
    if not signs.half_blocks:
        return Pens(minutes=wide)
    return Pens("┣", "┫", "━", ("·", "░", "▒", "█"), minutes=wide)


def looks_of(found: Sequence[Lane], plan: Plan) -> Mapping[str, str]:
    """A look for each that has a bar in a lane of things, in the order in which they come; a lot has its bath's."""
    owners = dict.fromkeys(bar.label for lane in found for bar in lane.bars if lane.name.startswith(THINGS))
    others = [owner for owner in owners if owner not in LOOKS and owner != BREAK]
    looks = LOOKS | {owner: LOTS[number % len(LOTS)] for number, owner in enumerate(others)}
    return looks | {lot.name: looks[name] for name, lot in _of_baths(plan) if name in looks}


def _of_baths(plan: Plan) -> Iterator[tuple[str, Lot]]:
    """Each lot with the name by which the steps of its bath go."""
    for bath in baths(plan):
        yield from ((bath.name, lot) for lot in bath.lots)


def _hours(day: LaidDay, over: Axis, name: int) -> Row:
    return row(Span(f" {'':{name}}{hours(day, over)}", "faint"))


def _now(day: LaidDay, over: Axis, name: int, signs: Signs) -> Iterator[Row]:
    """The minute that it is, once the day has begun."""
    if day.needed.day.running:
        at = over.column(0)
        yield row(Span(f" {left('now', name)}", "strong"), " " * at, Span(signs.down, "here"))


def _lane(day: LaidDay, lane: Lane, over: Axis, pens: Pens, name: int, looks: Mapping[str, str]) -> Row:
    own = looks.get(lane.name, "edge")
    spans = [
        _span(stroke, own if lane.name == VAT else looks.get(stroke.of, own))
        for stroke in strokes(day, lane, over, pens)
    ]
    return Row((Span(f" {left(clean(lane.name), name - 1)} ", "unit"), *merged(spans)))


def _span(stroke: Stroke, look: str) -> Span:
    """Names in ink, lines in the look of whose they are."""
    if not stroke.of:
        return Span(stroke.text, "edge" if cells(stroke.text.strip()) else "")
    return Span(stroke.text, "" if stroke.is_word else look)
