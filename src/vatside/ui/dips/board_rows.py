"""The dip board in rows: what it calls for in large letters, and where every piece is."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import datetime

from vatside.bench.dip_view import Board, Line
from vatside.dips import rotation
from vatside.dips.depth import depth_name
from vatside.dips.rotation import Do, Place
from vatside.plan.sheet import CARE
from vatside.ui.dips.dip_rows import Headline, headline
from vatside.ui.text.large import best_scale, big, capitals, rows_high
from vatside.ui.text.rows import (
    Row,
    Signs,
    Span,
    cells,
    clip,
    left,
    merged,
    numbered,
    right,
    ripeness,
    row,
    shade,
    spread,
    wide_of,
    wrap,
)
from vatside.units import show_count, show_countdown
from vatside.units.show import clean

COMES = 34
STRIPS = 78
"""Columns from which there is room for a strip of cloth for each piece."""
WIDE = STRIPS + COMES + 2
"""Columns from which there is room as well for what each piece will come to."""
NAME = 30
"""Columns that a name takes at most beside its verb."""
NAME_LEAST = 22
"""Columns that the largest verb leaves to the piece beside it."""
BESIDE = 3
SINCE = 13
"""Columns of the hour at which a piece came to where it is."""
NOTE = 13
"""Columns of the longest note, which name and hour give way to: `! lift it out`."""
BETWEEN = 52
"""Columns between name and note."""
STRIP = 10
"""Columns of the strip of cloth that stands for a piece."""
NOTHING_LEFT = "Nothing is left to do at the vat: Esc shows the steps"


def headline_rows(
    board: Board, comes_to: Mapping[str, float], width: int, tallest: int, signs: Signs, *, here: bool = False
) -> tuple[Row, ...]:  # fmt: skip
    """Print what to do next: the verb in letters of so many rows at most, then the piece, then what it will come to.

    `here`: `space` acts on this, and on no piece.
    """
    head = headline(board)
    role = "over" if head.urgent else "here"
    verb = f" {head.verb}{' !' if head.urgent else ''} "
    name = f"  {numbered(clean(head.name), NAME)}" if head.name else ""
    act = (Span(signs.here if here else " ", "strong"), Span(verb, role, "do"), Span(name, "strong"))
    why = _clauses(clean(head.why), width - wide_of(act) - 2)
    top = spread((*act, Span(f"  {why}", "faint")), (), width)
    if board.call.do is Do.DONE:
        return (top, *_afterwards(board.afterwards, width, tallest + 1))
    return (top, *_large(head, width, tallest, signs), _following(board, comes_to.get(board.piece), width))


def _clauses(text: str, room: int) -> str:
    """Give as many clauses of a sentence as there is room for, whole; only the first is ever cut."""
    parts = re.split(r"(?<=[.;:]) ", text)
    while parts[1:] and cells(" ".join(parts)) > room:
        parts.pop()
    return " ".join(parts).rstrip(";:")


def _afterwards(what: Sequence[str], width: int, rows: int) -> tuple[Row, ...]:
    """Say what to do now that nobody goes in any more, each in a row of its own."""
    if not what:
        return (row(Span(f" {NOTHING_LEFT}", "strong")), *[row()] * (rows - 1))
    lines = [row(Span(f" {number}  ", "number"), Span(clip(clean(words), width - 6), "strong"))
             for number, words in enumerate(what[:rows], start=1)]  # fmt: skip
    return (*lines, *[row()] * (rows - len(lines)))


def _large(head: Headline, width: int, tallest: int, signs: Signs) -> tuple[Row, ...]:
    """Draw the verb as large as it goes, and beside it the piece, smaller; in plain capitals where that has no room."""
    role = "care" if head.urgent else "head"
    scale = best_scale(head.verb, width - NAME_LEAST, tallest, signs)
    if not scale:
        words = numbered(clean(head.name).upper(), width - 4)
        return (row(Span(f"  {head.verb}  ", role, "do"), Span(words, "strong", "do")),)
    verb = big(head.verb, scale, signs)
    room = width - cells(verb[0]) - BESIDE - 1
    name = _beside_verb(head.name, scale, room, signs)
    above = (len(verb) - len(name)) // 2
    beside = [*[""] * above, *name, *[""] * (len(verb) - above - len(name))]
    return tuple(
        row(Span(f" {line}", role, "do"), Span(" " * BESIDE), Span(words, "strong", "do"))
        for line, words in zip(verb, beside, strict=True)
    )


def _beside_verb(name: str, scale: int, room: int, signs: Signs) -> tuple[str, ...]:
    """Draw a name at most as large as the verb is, smaller where the verb allows; else in capitals."""
    letters = capitals(name)
    fits = best_scale(letters, room, rows_high(max(scale - 1, 1)), signs) if letters else 0
    return big(letters, fits, signs) if fits else (numbered(clean(name).upper(), room),)


def _following(board: Board, comes: float | None, width: int) -> Row:
    """Say who goes in next, whatever is to be done before; where there is room, what the one called for comes to."""
    coming, depth_words = board.following, _comes(comes) if width < WIDE else ()
    if board.call.do is Do.HOLD:
        return _beside((Span(f" then {clean(board.call.name)} may go in", "faint"),), depth_words, width)
    if coming is None:
        words = "Nobody goes in any more." if board.call.do is not Do.LOOK else "Nobody else goes in."
        return _beside((Span(f" {words}", "faint"),), depth_words, width)
    of_vat = board.call.do in (Do.READ, Do.MEND)  # first the vat, whatever the pieces' times say
    when = "" if of_vat else "now" if coming.seconds < 1 else f"in {show_countdown(coming.seconds)}"
    first = " then     " if of_vat or (board.call.do is Do.ENTER and board.turning is None) else " next in  "
    name = Span(numbered(clean(coming.name), width - 24), "strong")
    return _beside((Span(first, "faint"), name, Span(f"  {when}")), depth_words, width)


def _comes(depth: float | None) -> tuple[tuple[Span, ...], ...]:
    """Say what a piece comes to, in more words and in fewer."""
    if depth is None:
        return ()
    number = f"{depth:.2g} %"
    return (
        (Span("comes to about ", "faint"), Span(f"{_depth(depth)} ")),
        (Span("comes to about ", "faint"), Span(f"{number} ")),
        (Span("to ", "faint"), Span(f"{number} ")),
    )


def _beside(near: tuple[Span, ...], far: Sequence[tuple[Span, ...]], width: int) -> Row:
    """Put the first of some far words for which the near ones leave room at the right edge."""
    room = width - wide_of(near) - 2
    fits = (spans for spans in far if wide_of(spans) <= room)
    return spread(near, next(fits, ()), width)


def _depth(depth: float) -> str:
    return f"{depth:.2g} %, {depth_name(depth)}"


def board_rows(board: Board, since: Sequence[datetime | None], width: int, signs: Signs) -> tuple[Row, ...]:
    """Print a line for each piece; `since` is when each came to where it is, on the wall."""
    wide = width >= STRIPS
    longest = max((cells(line.row.name) for line in board.lines), default=0)
    name = min(longest, width - BETWEEN - NOTE if wide else 16, 26)
    about = board.piece  # once: it looks through all lines
    return tuple(_piece(line, begun, about, name, wide, width, signs)
                 for line, begun in zip(board.lines, since, strict=True))  # fmt: skip


def wide_rows(
    board: Board, since: Sequence[datetime | None], comes_to: Mapping[str, float], width: int, signs: Signs
) -> tuple[Row, ...]:
    """Print a line for each piece, and at its end what it will come to."""
    rows = board_rows(board, since, width - COMES - 2, signs)
    return tuple(
        Row((*item.spans, *_comes_to(comes_to.get(item.key), width - COMES - cells(item.text))), item.key)
        for item in rows
    )


def _comes_to(depth: float | None, gap: int) -> tuple[Span, ...]:
    if depth is None:
        return ()
    return (Span(" " * gap + "comes to about ", "faint"), Span(_depth(depth)))


def _piece(
    line: Line, begun: datetime | None, about: str, name: int, wide: bool, width: int, signs: Signs
) -> Row:  # fmt: skip
    item = line.row
    called = item.piece == about
    role = "done" if item.place is Place.DONE else "strong" if called else ""
    dips, noun = _dips(item).split()
    when = f"since {begun:%H:%M}" if begun and item.place is not Place.DONE else ""
    spans = [
        Span(f" {_sign(line, signs)} {left(numbered(clean(item.name), name), name)}", role),
        Span(f" {dips:>6} {noun:<4}  " if wide else f" {dips:>5}  ", "number" if role != "done" else role),
        Span(left(item.place.value, 12), role),
        *([*strip(item, STRIP, signs), Span("  ")] if wide else []),
        Span(right(_left(line), 9), _time_role(line)),
    ]
    room = width - wide_of(spans) - 2
    if wide and room >= SINCE + NOTE:
        spans.insert(-1, Span(left(when, SINCE), "faint"))
        room -= SINCE
    note = _note(line, wide)
    return row(*spans, Span("  "), Span(clip(note, room), _note_role(line)), key=item.piece)


def _dips(item: rotation.Row) -> str:
    """Say how many dips a piece has begun, and of how many while it is still to go on."""
    if item.place is Place.DONE:
        return show_count(item.dips, "dip")
    return f"{item.dips}/{show_count(item.planned, 'dip')}"


def _sign(line: Line, signs: Signs) -> str:
    if line.row.place is Place.DONE:
        return signs.done
    if line.turn or (line.row.place is Place.IN_VAT and (line.row.left or 0.0) <= 0):
        return CARE.sign
    return signs.running if line.row.place in (Place.IN_VAT, Place.AIRING) else signs.later


def strip(item: rotation.Row, width: int, signs: Signs) -> tuple[Span, ...]:
    """Draw a piece as a strip of cloth: straw before its first dip, deeper from dip to dip, bare for those to come."""
    dips = max(item.planned, item.dips, 1)
    edges = [round(width * number / dips) for number in range(dips + 1)]
    tones = [(edges[n + 1] - edges[n], (n + 1) / dips) for n in range(min(item.dips, dips))]
    dyed = [Span(shade(share, signs) * wide, ripeness(share * 0.99)) for wide, share in tones if wide]
    return (*merged(dyed), Span(signs.bare * (width - edges[min(item.dips, dips)]), "bare"))


def _left(line: Line) -> str:
    seconds = line.row.left
    if seconds is None or line.row.place not in (Place.IN_VAT, Place.AIRING):
        return ""
    return show_countdown(seconds) if seconds > 0 else f"+{show_countdown(-seconds)}"


def _time_role(line: Line) -> str:
    late = line.row.place is Place.IN_VAT and (line.row.left or 0.0) <= 0
    return "care" if late else "number"


def _note(line: Line, wide: bool) -> str:
    if line.turn:
        return f"{CARE.opening}{line.turn.partition(',')[0]}"
    if line.paused:
        return "paused"
    long = {"lift out": f"{CARE.opening}lift it out", "look": "deep enough?", "aired": "aired enough"}
    if line.row.note:
        return long.get(line.row.note, line.row.note) if wide else line.row.note
    return "to go" if wide and line.row.left is not None and line.row.left > 0 else ""


def _note_role(line: Line) -> str:
    return "care" if line.turn or line.row.note == "lift out" else "said" if line.row.note else "faint"


BARS = "▁▂▃▄▅▆▇█"


def strength_spans(
    now: float | None, past: Sequence[float], room: int, signs: Signs, *, stands: bool = True
) -> tuple[Span, ...]:
    """Say how strong the vat is, or will be once it stands, from what it began with, and how it fell dip by dip."""
    if now is None:
        return (Span("the vat's strength is not known ", "faint"),)
    if not now:
        return (Span("no blue is left in the vat ", "faint"),)
    begun = f" of {past[0]:.2g}" if past else ""
    words = (
        Span("vat " if stands else "vat as planned ", "faint"),
        Span(f"{now:.2g}{begun}", "number"),
        Span(" g/L ", "unit"),
    )
    if not signs.half_blocks or len(past) < 2 or room < 40:
        return words
    shown = past[-min(12, len(past)) :]
    top = max(past)
    curve = "".join(BARS[min(int(7 * item / top + 0.5), 7)] if top > 0 else BARS[0] for item in shown)
    return (*words, Span(f"{curve} ", "ripe3"))


def warning_rows(warnings: Sequence[str], width: int, most: int) -> tuple[Row, ...]:
    """Print what is to be known before the next piece goes in; where room is short, the beginning of each."""
    paragraphs = [wrap(clean(words), width - 4) for words in warnings]
    if sum(len(lines) for lines in paragraphs) > most:
        share = max(most // len(paragraphs), 1)
        paragraphs = [_cut(lines, share, width - 4) for lines in paragraphs]
    return tuple(
        row(Span(f" {' ' if number else CARE.sign} {line}", "care"))
        for lines in paragraphs
        for number, line in enumerate(lines)
    )


def resting_on_rows(lines: Sequence[str], width: int, most: int) -> tuple[Row, ...]:
    """Print how many dips each lot is taken to want and by what; where room is short, how many more lots there are."""
    shown = lines if len(lines) <= most else lines[: max(most - 1, 0)]
    left_out = len(lines) - len(shown)
    more = (f"and {left_out} more",) if left_out and most > 0 else ()
    return tuple(row(Span(f" {clip(clean(words), width - 2)}", "faint")) for words in (*shown, *more))


def _cut(lines: Sequence[str], most: int, width: int) -> tuple[str, ...]:
    """Keep the first lines, with an ellipsis if there were more."""
    if len(lines) <= most:
        return tuple(lines)
    return (*lines[: most - 1], clip(f"{lines[most - 1]} {lines[most]}{' ' * width}", width))
