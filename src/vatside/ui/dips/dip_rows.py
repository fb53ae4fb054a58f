"""The call to the next piece and the ladder of blues, as rows that the day's screen shows as well."""

from __future__ import annotations

from attrs import frozen

from vatside.bench.depths import Ladder
from vatside.bench.dip_view import Board, Line
from vatside.dips.depth import Swatch
from vatside.dips.rotation import Call, Do, Place
from vatside.plan.sheet import CARE
from vatside.ui.text.rows import Row, Signs, Span, clip, left, paragraph, right, row, wrap
from vatside.units import show_countdown
from vatside.units.show import clean

VERBS = {
    Do.LIFT: "LIFT OUT",
    Do.ENTER: "PUT IN",
    Do.REST: "LET THE VAT REST",
    Do.READ: "READ",
    Do.MEND: "PUT RIGHT",
    Do.HOLD: "NOT YET",
    Do.WAIT: "WAIT",
    Do.LOOK: "LOOK AT",
    Do.DONE: "ALL DIPPED",
}

ON_THE_VAT = {Do.READ: "read the vat", Do.MEND: "what to do"}
"""What is done to the vat before a piece goes in, and what the key says to that."""


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
    if call.do in (Do.READ, Do.MEND):
        return Headline(VERBS[call.do], "the vat", f"{call.why} Then {call.name} may go in")
    if call.do is Do.REST:
        return Headline(VERBS[call.do], show_countdown(call.seconds), call.why)
    return Headline(VERBS[call.do], call.name, call.why)


def _late(call: Call) -> str:
    late = show_countdown(-call.seconds)
    return f"{call.why} by {late}" if call.seconds <= -1 else call.why


def call_line(board: Board) -> str:
    """Say what to do next in one line."""
    head = headline(board)
    words = f"{CARE.opening if head.urgent else ''}{head.verb.capitalize()} {head.name}".strip()
    return f"{words}: {head.why}" if head.why else words


CALL_ROWS = 2
"""Rows of the call on the stage of the dips."""


def call_rows(board: Board, width: int) -> tuple[Row, ...]:
    """Say on the stage itself what to do next at the vat, and which key shows the board."""
    role = "over" if headline(board).urgent else "here"
    # Always so many rows, whatever they say: the steps below must not move under the hand.
    whole = wrap(clean(call_line(board)), width - 4)
    cut = [clip(f"{whole[CALL_ROWS - 1]} …", width - 4)] if whole[CALL_ROWS:] else whole[CALL_ROWS - 1 : CALL_ROWS]
    lines = (*whole[: CALL_ROWS - 1], *cut, "")[:CALL_ROWS]
    call = [row(Span(" "), Span(f" {left(line, width - 4)} ", role if line else "")) for line in lines]
    place = [line.row.place for line in board.lines]
    inside, airing, done = (place.count(where) for where in (Place.IN_VAT, Place.AIRING, Place.DONE))
    words = f"{inside} in, {airing} airing, {done}/{len(place)} done"
    key = (Span(f"{clip(f'   {words}', width - 9)}  ", "faint"), Span("d", "key"), Span(" board", "faint"))
    return (*call, row(*key), row())


def deed(line: Line | None, board: Board) -> str:
    """Say in a word or two what one key does with a piece."""
    if line is None or (board.call.do is Do.DONE and line.row.place is Place.DONE):
        return "on with the steps"
    if line.turn:
        return "turned"
    if board.call.do in ON_THE_VAT and line.row.piece == board.call.piece:
        return ON_THE_VAT[board.call.do]
    if board.call.do is Do.HOLD and line.row.piece == board.call.piece:
        return "why not"
    if (line.row.left or 0.0) > 0 or (board.call.do is Do.REST and line.row.note != "look"):
        return "how long"
    if line.row.place is Place.IN_VAT:
        return "out to air"
    return "done" if line.row.note == "look" else "put in"


SAME = 0.02
"""A depth this near to a step, as a share, is that step."""
NAME = 11
ESTIMATE = "How deep a blue looks is an estimate"


def ladder_rows(ladder: Ladder, width: int, signs: Signs, *, tall: bool = False) -> tuple[Row, ...]:
    """Print the steps, palest first, and the depth that is set among them."""
    shown = list(ladder.steps)
    marked = ladder.here
    if marked is not None and not any(_same(step.depth, marked.depth) for step in shown) and marked.depth > 0:
        shown = sorted([*shown, marked], key=lambda step: step.depth)
    rows: list[Row] = []
    for step in shown:
        rows += _step(step, ladder, width, signs, 2 if tall else 1)
    return (*rows, *_foot(ladder, width))


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= SAME * max(one, other)


def _step(step: Swatch, ladder: Ladder, width: int, signs: Signs, high: int) -> list[Row]:
    marked = ladder.here is not None and _same(step.depth, ladder.here.depth)
    wanted = ladder.wanted > 0 and _same(step.depth, ladder.wanted)
    role = "strong" if marked else ""
    wide = 12 if width >= 44 else 8
    colour = _colour(step, ladder, wide, signs)
    number = f"{step.depth:.2g} %"
    note = "set" if marked and not ladder.wanted else "this one" if marked else "wanted" if wanted else ""
    words = (
        Span(f" {signs.here if marked else ' '} ", role), *colour, Span(f" {left(step.name, NAME)}", role),
        Span(right(number, 7), "number" if marked else ""), Span(f"  {note}", role),
    )  # fmt: skip
    more = [row(Span("   "), *colour, key=f"{step.depth:g}") for _ in range(high - 1)]
    return [row(*words, key=f"{step.depth:g}"), *more]


def _colour(step: Swatch, ladder: Ladder, wide: int, signs: Signs) -> tuple[Span, ...]:
    """Paint the swatch; without colours, denser shading for deeper blue."""
    if ladder.painted:
        return (Span(signs.rule, "edge"), Span(" " * wide, f"on {step.hex}"), Span(signs.rule, "edge"))
    deeper = sum(other.depth < step.depth for other in ladder.steps)
    full = max(round(wide * (deeper + 1) / max(len(ladder.steps), 1)), 1)
    shade = signs.shades[min(deeper * len(signs.shades) // max(len(ladder.steps), 1), len(signs.shades) - 1)]
    return (Span(signs.rule, "edge"), Span(left(shade * min(full, wide), wide)), Span(signs.rule, "edge"))


def _foot(ladder: Ladder, width: int) -> tuple[Row, ...]:
    words = f"{ESTIMATE}, dry, on {clean(ladder.fibre)}: {ladder.rests_on.removeprefix('an estimate: ')}."
    if not ladder.painted:
        words += " No true colour here."
    return tuple(paragraph(words, width, "faint"))
