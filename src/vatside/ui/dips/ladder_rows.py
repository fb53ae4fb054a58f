"""The ladder of depths: a picture where the terminal has the colours, words and numbers everywhere."""

from __future__ import annotations

from vatside.bench.dips.depths import Ladder
from vatside.dips.depth import Swatch
from vatside.ui.text.rows import Row, Span, left, right, row, wrap
from vatside.ui.text.signs import Signs
from vatside.units.one_line import clean

SAME = 0.02
"""A depth this near to a step, as a share, is that step."""
NAME = 11
ESTIMATE = "How deep a blue looks is an estimate"


def ladder_rows(ladder: Ladder, width: int, signs: Signs, *, tall: bool = False) -> tuple[Row, ...]:
    """Print the steps, palest first, and the depth that is set among them."""
    shown = list(ladder.steps)
    here = ladder.here
    if here is not None and not any(_same(step.depth, here.depth) for step in shown) and here.depth > 0:
        shown = sorted([*shown, here], key=lambda step: step.depth)
    found: list[Row] = []
    for step in shown:
        found += _step(step, ladder, width, signs, 2 if tall else 1)
    return (*found, *_foot(ladder, width))


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= SAME * max(one, other)


def _step(step: Swatch, ladder: Ladder, width: int, signs: Signs, high: int) -> list[Row]:
    here = ladder.here is not None and _same(step.depth, ladder.here.depth)
    wanted = ladder.wanted > 0 and _same(step.depth, ladder.wanted)
    role = "strong" if here else ""
    wide = 12 if width >= 44 else 8
    colour = _colour(step, ladder, wide, signs)
    number = f"{step.depth:.2g} %"
    note = "set" if here and not ladder.wanted else "this one" if here else "wanted" if wanted else ""
    words = (
        Span(f" {signs.here if here else ' '} ", role), *colour, Span(f" {left(step.name, NAME)}", role),
        Span(right(number, 7), "number" if here else ""), Span(f"  {note}", role),
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
    return tuple(row(Span(f" {line}", "faint")) for line in wrap(words, width - 2))
