"""The blue card of a day, and what explains the difference to another one."""

from __future__ import annotations

from vatside.days.blue_card import card_lines
from vatside.days.day_record import DayRecord
from vatside.days.why_apart import apart_lines
from vatside.ui.text.rows import BLANK, Row, Span, left, row, wrap
from vatside.units.one_line import clean

LABEL = 17
HANG = 3
"""How far what goes on below a listed reason stands in."""


def card_rows(day: DayRecord, width: int) -> tuple[Row, ...]:
    """Print everything that made a blue."""
    rows = [row(Span(line, "strong")) for line in wrap(f"{clean(day.plan.title)}, {day.day}", width)]
    for label, value in card_lines(day):
        first, *rest = wrap(clean(value), max(width - LABEL - 2, 10)) or ("",)
        rows.append(row(Span(f" {left(clean(label), LABEL)} ", "faint"), first))
        rows += [row(" " * (LABEL + 2) + line) for line in rest]
    return tuple(rows)


def apart_rows(one: DayRecord, other: DayRecord, width: int) -> tuple[Row, ...]:
    """Print why two blues came out apart, likeliest first, then both cards."""
    both = (*card_rows(one, width), BLANK, *card_rows(other, width))
    names = f"{clean(one.plan.title)}, {one.day} → {clean(other.plan.title)}, {other.day}"
    rows = [*(row(Span(line, "strong")) for line in wrap(names, width)), BLANK]
    for said in apart_lines(one, other):
        inset = len(said) - len(said.lstrip())
        listed = inset > 0
        hang = inset + HANG if listed else 0
        first, *rest = wrap(clean(said.strip()), width - hang) or ("",)
        rows.append(row(Span(" " * inset + first, "number" if listed else "")))
        rows += [row(Span(" " * hang + line)) for line in rest]
    return (*rows, BLANK, *both)
