"""The day line as rows: acts, and why they stand where they stand; lanes of hands, things and lots."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from vatside.dayline.day_words import (
    Deed,
    Stop,
    calls,
    clock_at,
    deeds,
    head,
    in_hand,
    stop_words,
    stops,
    wait_words,
    words_of,
)
from vatside.dayline.laid_day import LaidDay
from vatside.dayline.lanes import (
    BREAK,
    DIPS,
    LEGEND,
    THINGS,
    VAT,
    Axis,
    Lane,
    Pens,
    Stroke,
    axis,
    hours,
    lanes,
    legend,
    lot_lanes,
    since_when,
    strokes,
)
from vatside.dayline.line.model import HANDS
from vatside.dayline.warn import Fit, outlook, soonest_words
from vatside.dayline.what_if import Help
from vatside.plan.batches import baths
from vatside.plan.plan import Lot, Plan
from vatside.plan.sheet import CARE
from vatside.ui.text.rows import (
    Row,
    Signs,
    Span,
    cells,
    hanging,
    left,
    merged,
    paragraph,
    right,
    row,
    spread,
    wrap,
    wrapped,
)
from vatside.units import show_minutes
from vatside.units.show import capital, clean

NEXT = 3
"""Steps that stand out: what comes next."""
SOON = 15
"""Minutes within which a call in a wait is told: ours."""
TELLS_LATEST = 66
"""Columns from which it is said how late a step may begin."""
TIME, HANDS_WIDE, LATEST = 12, 10, 13
"""Columns of the time, the minutes of hands, and how late it may begin."""

LOOK_OF = {Fit.LATE: CARE.ink, Fit.TIGHT: CARE.ink, Fit.FITS: "good", Fit.FREE: "", Fit.PAST: "faint"}


def head_rows(title: str, day: LaidDay | None, meanwhile: str, width: int) -> tuple[Row, ...]:
    """What day it is, what is in hand or late, and when it ends; `meanwhile`, while nothing is laid."""
    name = (Span(f" Day line · {clean(title)}", "strong"),)
    if day is None:
        return (row(*name), *paragraph(meanwhile, width, "faint"))
    seen = outlook(day)
    sign = CARE.opening if seen.fit in (Fit.LATE, Fit.TIGHT) else ""
    spare = "" if seen.spare is None or seen.fit is Fit.PAST else f"{sign}{in_hand(seen.spare)} "
    return (spread(name, (Span(spare, LOOK_OF[seen.fit]),), width), *paragraph(f"{capital(head(day))}.", width))


def act_rows(day: LaidDay, width: int) -> tuple[Row, ...]:
    """A line for each step that is to come, the next three stronger; a call that is due soon stands above them."""
    to_do = deeds(day)
    wide = TIME if any(len(clock_at(day, deed.at)) > 5 for deed in to_do) else 6
    soon = [_call(day, minute, words, wide, width) for minute, _, words in sorted(calls(day)) if minute <= SOON]
    listed = [(deed.at, 1, _deed(day, deed, number < NEXT, wide, width)) for number, deed in enumerate(to_do)]
    listed += [(stop.at, 0, _stop(day, stop, wide, width)) for stop in stops(day)]
    in_order = (each for _, _, each in sorted(listed, key=lambda one: one[:2]))
    return (*soon, *in_order) if to_do or soon else (row(Span("Nothing is left to do today.", "done")),)


def _stop(day: LaidDay, stop: Stop, wide: int, width: int) -> Row:
    """Lunch and the like stand among the steps; no key chooses them."""
    begins = "now" if stop.at <= 0 else clock_at(day, stop.at)
    late = clock_at(day, stop.latest) if stop.latest is not None and stop.latest > stop.at else ""
    tail = right(show_minutes(stop.end - max(stop.at, 0)), HANDS_WIDE)
    tail += right(f"latest {late}" if late else "", LATEST) if width >= TELLS_LATEST else ""
    return spread((Span(left(begins, wide), "number"), Span(stop_words(day, stop))), (Span(tail, "faint"),), width)


def _call(day: LaidDay, minute: int, words: str, wide: int, width: int) -> Row:
    spans = (Span(left(clock_at(day, minute), wide), "number"), Span(f"{words}, while it waits", "next"))
    return spread(spans, (), width)


def _deed(day: LaidDay, deed: Deed, is_next: bool, wide: int, width: int) -> Row:
    begins = "now" if deed.at <= 0 and day.needed.day.running else clock_at(day, deed.at)
    hands = deed.hands_end - deed.at
    tail = right(show_minutes(hands) if hands else "", HANDS_WIDE)
    late = f"latest {day.at(deed.latest):%H:%M}" if deed.latest > deed.at else ""
    tail += right(late, LATEST) if width >= TELLS_LATEST else ""
    near = (Span(left(begins, wide), "number"), Span(clean(words_of(deed)), "strong" if is_next else ""))
    return spread(near, (Span(tail, "faint"),), width, deed.task)


def warned_rows(
    day: LaidDay, helps: Sequence[Help], *, trying: bool, width: int, most: int, holds_up: str = ""
) -> tuple[Row, ...]:
    """What is to be said before it is too late, what would help, each change with its gain; or what `holds_up`."""
    seen = outlook(day)
    look = LOOK_OF[seen.fit] or "care"
    rows = [line for sentence in seen.sentences for line in hanging((Span(" ! ", look),), sentence, width - 1, look)]
    if seen.fit is Fit.LATE:
        rows += [row(Span(f"   {line}")) for line in _helping(day, helps, trying=trying, width=width)]
    elif holds_up:
        rows += paragraph(holds_up, width, "faint")
    return tuple(rows[:most])


def _helping(day: LaidDay, helps: Sequence[Help], *, trying: bool, width: int) -> list[str]:
    if trying and not helps:
        return ["What would help is being worked out."]
    words = [capital(each.words) for each in helps]
    if not any(each.enough for each in helps):
        none = "" if helps else "No single change, and no two of them, would bring it in time. "
        words.insert(0, f"{none}{soonest_words(day)}")
    return [line for each in words for line in wrap(each, width - 4)]


def why_rows(day: LaidDay, task: str, sentences: Sequence[str], width: int) -> tuple[Row, ...]:
    """Why a step stands where it stands."""
    deed = next((deed for deed in deeds(day) if deed.task == task), None)
    if deed is None:
        return (row("It is done, or stands elsewhere by now."),)
    title = f"{clock_at(day, deed.at)}  {words_of(deed)}{wait_words(day, deed)}"
    rows = wrapped(clean(title), width, "strong")
    for sentence in sentences:
        rows += [row(), *wrapped(clean(sentence), width)]
    if deed.latest > deed.at:
        late = f"It may begin {clock_at(day, deed.latest)} at the latest, if the others keep their times."
        rows += [row(), *wrapped(late, width, "faint")]
    return tuple(rows)


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
    all_lanes = [*lanes(day, since), *lot_lanes(day, plan, since)]
    kept = all_lanes if len(all_lanes) + 3 <= most else [lane for lane in all_lanes if _is_kept(lane)]
    name = LONG_NAME if width >= WIDE else NAME
    over, pens = axis(day, width - name - 1, since), pens_of(signs, wide=width >= WIDE)
    looks = looks_of(all_lanes, plan)
    drawn = [strokes(day, lane, over, pens) for lane in kept]
    body = [_lane(lane, each, name, looks) for lane, each in zip(kept, drawn, strict=True)]
    head = (_hours(day, over, name), *_now(day, over, name, signs))
    room = max(min(most - len(head) - len(body), LEGEND), 1)
    words = legend(over, pens, [stroke for each in drawn for stroke in each], width - 2, room)
    return (*head, *body, *(row(Span(f" {line}", "faint")) for line in words))[:most]


def _is_kept(lane: Lane) -> bool:
    return lane.name.split()[0] in FEW or not lane.name.startswith(THINGS)


def pens_of(signs: Signs, *, wide: bool) -> Pens:
    """Lines where the terminal has them, brackets where it has not."""
    if not signs.half_blocks:
        return Pens(minutes=wide)
    return Pens("┣", "┫", "━", ("·", "░", "▒", "█"), "═", minutes=wide)


def looks_of(all_lanes: Sequence[Lane], plan: Plan) -> Mapping[str, str]:
    """A look for each that has a bar in a lane of things, in the order in which they come; a lot has its bath's."""
    owners = dict.fromkeys(bar.label for lane in all_lanes for bar in lane.bars if lane.name.startswith(THINGS))
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


def _lane(lane: Lane, drawn: Sequence[Stroke], name: int, looks: Mapping[str, str]) -> Row:
    own = looks.get(lane.name, "edge")
    spans = [_span(stroke, own if lane.name == VAT else looks.get(stroke.of, own)) for stroke in drawn]
    return Row((Span(f" {left(clean(lane.name), name - 1)} ", "unit"), *merged(spans)))


def _span(stroke: Stroke, look: str) -> Span:
    """Names in ink, lines in the look of whose they are."""
    if not stroke.of:
        return Span(stroke.text, "edge" if cells(stroke.text.strip()) else "")
    return Span(stroke.text, "" if stroke.is_word else look)
