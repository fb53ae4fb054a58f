"""The dip board in words: the one thing to do next in large letters, and where every piece is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from attrs import frozen

from vatside.dayline import rotation
from vatside.dayline.pieces import Place
from vatside.dayline.rotation import Call, Do
from vatside.recipe.depth import depth_name
from vatside.session.events import Moment
from vatside.ui.view.big import best_scale, big
from vatside.ui.view.letters import capitals
from vatside.ui.view.rows import Row, Span, cells, clean, clip, left, right, row, spread, wrap
from vatside.ui.view.signs import Signs
from vatside.units import show_countdown

VERBS = {
    Do.LIFT: "LIFT OUT",
    Do.ENTER: "PUT IN",
    Do.REST: "LET THE VAT REST",
    Do.WAIT: "WAIT",
    Do.LOOK: "LOOK AT",
    Do.DONE: "ALL DIPPED",
}
WIDE = 100
"""Columns from which there is room for what each piece will come to."""
COMES = 34


@frozen
class Line:
    """One piece at a moment."""

    row: rotation.Row
    since: Moment | None
    """When it came to where it is; None: it has not been in yet."""
    turn: str
    """What to do with it right now where it hangs or lies, because its call rings; else empty."""
    paused: bool


@frozen
class Following:
    """The piece that goes in next, or after the one called for; and in how many seconds."""

    name: str
    seconds: float


@frozen
class Board:
    """Everything on the dip board that moves with the clock."""

    call: Call
    lines: tuple[Line, ...]
    following: Following | None
    afterwards: tuple[str, ...] = ()
    """What to do once everybody has had the last dip."""

    @property
    def turning(self) -> Line | None:
        """A piece that wants to be turned."""
        return next((line for line in self.lines if line.turn), None)

    @property
    def piece(self) -> str:
        """The piece that the large words are about; empty where they are about none."""
        if self.call.do is not Do.LIFT and self.turning is not None:
            return self.turning.row.piece
        return self.call.piece or ""

    def line(self, piece: str) -> Line | None:
        """One piece."""
        return next((line for line in self.lines if line.row.piece == piece), None)


@frozen
class Headline:
    """What to do next."""

    verb: str
    name: str
    """The piece, or the time to wait, in large letters."""
    why: str
    urgent: bool = False


def headline(board: Board) -> Headline:
    """Say the one thing to do next: what is over first, then who wants turning, then who goes in."""
    call, turning = board.call, board.turning
    if call.do is not Do.LIFT and turning is not None:
        return Headline("TURN", turning.row.name, f"{turning.turn}; it is {turning.row.place}", urgent=True)
    if call.do is Do.LIFT:
        return Headline(VERBS[call.do], call.name, _late(call), urgent=True)
    if call.do is Do.WAIT:
        return Headline(VERBS[call.do], show_countdown(call.seconds), f"for {call.name}, {call.why}")
    if call.do is Do.REST:
        return Headline(VERBS[call.do], show_countdown(call.seconds), call.why)
    return Headline(VERBS[call.do], call.name, call.why)


def _late(call: Call) -> str:
    late = show_countdown(-call.seconds)
    return f"{call.why} by {late}" if call.seconds <= -1 else call.why


def headline_rows(
    board: Board, comes_to: Mapping[str, float], width: int, tallest: int, signs: Signs
) -> tuple[Row, ...]:  # fmt: skip
    """Print what to do next, in letters of so many rows at most; then what that piece will come to."""
    said = headline(board)
    role = "over" if said.urgent else "here"
    verb = f" {said.verb}{' !' if said.urgent else ''} "
    top = spread((Span(" "), Span(verb, role, "do"), Span(f"  {clean(said.why)}", "faint")), (), width)
    if board.call.do is Do.DONE and board.afterwards:
        return (top, *_afterwards(board.afterwards, width, tallest + 1))
    return (top, *_large(said, width, tallest, signs), _following(board, comes_to.get(board.piece), width))


def _afterwards(what: Sequence[str], width: int, rows: int) -> tuple[Row, ...]:
    """Say what to do now that nobody goes in any more, each in a row of its own."""
    found = [row(Span(f" {number}  ", "number"), Span(clip(clean(words), width - 6), "strong"))
             for number, words in enumerate(what[:rows], start=1)]  # fmt: skip
    return (*found, *[row()] * (rows - len(found)))


def _large(said: Headline, width: int, tallest: int, signs: Signs) -> tuple[Row, ...]:
    """Draw the name as large as it goes; in plain capitals where there are no such letters or no room."""
    name = capitals(said.name)
    role = "care" if said.urgent else "head"
    scale = best_scale(name, width - 2, tallest, signs) if name else 0
    if scale:
        return tuple(row(Span(f" {line}", role, "do")) for line in big(name, scale, signs))
    words = clip(clean(said.name).upper(), width - 4)
    return (row(), row(Span("  "), Span(words, role, "do")), row())


def _following(board: Board, comes: float | None, width: int) -> Row:
    """Say who goes in next, whatever is to be done before; where there is room, what the one called for comes to."""
    coming, told = board.following, _comes(comes) if width < WIDE else ()
    if coming is None:
        words = "Nobody goes in any more." if board.call.do is not Do.LOOK else "Nobody else goes in."
        return _beside((Span(f" {words}", "faint"),), told, width)
    when = "now" if coming.seconds < 1 else f"in {show_countdown(coming.seconds)}"
    first = " then     " if board.call.do is Do.ENTER and board.turning is None else " next in  "
    name = Span(clip(clean(coming.name), width - 24), "strong")
    return _beside((Span(first, "faint"), name, Span(f"  {when}")), told, width)


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
    room = width - sum(cells(span.text) for span in near) - 2
    fits = (spans for spans in far if sum(cells(span.text) for span in spans) <= room)
    return spread(near, next(fits, ()), width)


def _depth(depth: float) -> str:
    return f"{depth:.2g} %, {depth_name(depth)}"


def board_rows(board: Board, since: Sequence[datetime | None], width: int, signs: Signs) -> tuple[Row, ...]:
    """Print a line for each piece; `since` is when each came to where it is, on the wall."""
    name = min(max(cells(line.row.name) for line in board.lines), 26 if width >= 70 else 16) if board.lines else 0
    wide = width >= 70
    return tuple(_piece(line, begun, board, name, wide, width, signs)
                 for line, begun in zip(board.lines, since, strict=True))  # fmt: skip


def wide_rows(
    board: Board, since: Sequence[datetime | None], comes_to: Mapping[str, float], width: int, signs: Signs
) -> tuple[Row, ...]:
    """Print a line for each piece, and at its end what it will come to."""
    rows = board_rows(board, since, width - COMES, signs)
    return tuple(
        Row((*item.spans, *_comes_to(comes_to.get(item.key), width - COMES - cells(item.text))), item.key)
        for item in rows
    )


def _comes_to(depth: float | None, gap: int) -> tuple[Span, ...]:
    if depth is None:
        return ()
    return (Span(" " * gap + "comes to about ", "faint"), Span(_depth(depth)))


def _piece(
    line: Line, begun: datetime | None, board: Board, name: int, wide: bool, width: int, signs: Signs
) -> Row:  # fmt: skip
    item = line.row
    here = item.piece == board.piece
    role = "done" if item.place is Place.DONE else "strong" if here else ""
    dips = f"{item.dips}" if item.place is Place.DONE else f"{item.dips}/{item.planned}"
    when = f"since {begun:%H:%M}" if begun and item.place is not Place.DONE else ""
    spans = [
        Span(f" {_sign(line, here, signs)} {left(clean(item.name), name)}", role),
        Span(f" {dips:>6} dips  " if wide else f" {dips:>5}  ", "number" if role != "done" else role),
        Span(left(item.place.value, 12), role),
        *([Span(left(when, 13), "faint")] if wide else []),
        Span(right(_left(line), 9), _time_role(line)),
    ]
    room = width - sum(cells(span.text) for span in spans) - 2
    note = _note(line, wide)
    return row(*spans, Span("  "), Span(clip(note, room), _note_role(line)), key=item.piece)


def _sign(line: Line, here: bool, signs: Signs) -> str:
    if line.row.place is Place.DONE:
        return signs.done
    if here:
        return signs.here
    if line.turn or (line.row.place is Place.IN_VAT and (line.row.left or 0.0) <= 0):
        return signs.alarm
    return signs.running if line.row.place in (Place.IN_VAT, Place.AIRING) else signs.later


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
        return f"! {line.turn.partition(',')[0]}"
    if line.paused:
        return "paused"
    long = {"lift out": "! lift it out", "look": "deep enough?", "aired": "aired enough"}
    if line.row.note:
        return long.get(line.row.note, line.row.note) if wide else line.row.note
    return "to go" if wide and line.row.left is not None and line.row.left > 0 else ""


def _note_role(line: Line) -> str:
    return "care" if line.turn or line.row.note == "lift out" else "said" if line.row.note else "faint"


BARS = "▁▂▃▄▅▆▇█"


def strength_spans(now: float | None, past: Sequence[float], room: int, signs: Signs) -> tuple[Span, ...]:
    """Say how strong the vat is, from what it began with, and how it fell dip by dip."""
    if now is None:
        return (Span("the vat's strength is not known ", "faint"),)
    begun = f" of {past[0]:.2g}" if past else ""
    words = (Span("vat ", "faint"), Span(f"{now:.2g}{begun}", "number"), Span(" g/L ", "unit"))
    if not signs.half_blocks or len(past) < 2 or room < 40:
        return words
    shown = past[-min(12, len(past)) :]
    top = max(past)
    curve = "".join(BARS[min(int(7 * item / top + 0.5), 7)] if top > 0 else BARS[0] for item in shown)
    return (*words, Span(f"{curve} ", "ripe3"))


def warning_rows(warnings: Sequence[str], width: int, most: int) -> tuple[Row, ...]:
    """Print what is to be known before the next piece goes in; where room is short, the beginning of each."""
    said = [wrap(clean(words), width - 4) for words in warnings]
    if sum(len(lines) for lines in said) > most:
        share = max(most // len(said), 1)
        said = [_cut(lines, share, width - 4) for lines in said]
    return tuple(
        row(Span(f" {' ' if number else '!'} {line}", "care")) for lines in said for number, line in enumerate(lines)
    )


def _cut(lines: Sequence[str], most: int, width: int) -> tuple[str, ...]:
    """Keep the first lines, with an ellipsis if there were more."""
    if len(lines) <= most:
        return tuple(lines)
    return (*lines[: most - 1], clip(f"{lines[most - 1]} {lines[most]}{' ' * width}", width))


def call_line(board: Board) -> str:
    """Say what to do next in one line."""
    said = headline(board)
    words = f"{'! ' if said.urgent else ''}{said.verb.capitalize()} {said.name}".strip()
    return f"{words}: {said.why}" if said.why else words


def call_rows(board: Board, width: int) -> tuple[Row, ...]:
    """Say on the stage itself what to do next at the vat, and which key shows the board."""
    role = "over" if headline(board).urgent else "here"
    lines = wrap(clean(call_line(board)), width - 4)
    call = [row(Span(" "), Span(f" {left(line, width - 4)} ", role)) for line in lines]
    place = [line.row.place for line in board.lines]
    inside, airing, done = (place.count(one) for one in (Place.IN_VAT, Place.AIRING, Place.DONE))
    words = f"{inside} in, {airing} airing, {done}/{len(place)} done"
    key = (Span(clip(f"   {words}   ", width - 8), "faint"), Span("d", "key"), Span(" board", "faint"))
    return (*call, row(*key), row())


def deed(line: Line | None, board: Board) -> str:
    """Say in a word or two what one key does with a piece."""
    if line is None or (board.call.do is Do.DONE and line.row.place is Place.DONE):
        return "on with the steps"
    if line.turn:
        return "turned"
    if (line.row.left or 0.0) > 0 or (board.call.do is Do.REST and line.row.note != "look"):
        return "how long"
    if line.row.place is Place.IN_VAT:
        return "out to air"
    return "done" if line.row.note == "look" else "put in"
