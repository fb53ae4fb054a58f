"""What the dyer should hear about the plan, gravest first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from attrs import evolve

from vatside.plan.severity import DANGER, gravest_first, severity
from vatside.plan.sheet import Notice, Stage, Weight
from vatside.ui.text.rows import BLANK, Row, Span, row, wrap
from vatside.units.one_line import clean

MORE = f" … {DANGER.key}"
"""Says that there is more, and the key that shows it."""
PUTS_RIGHT = "j puts it right"
"""Says which key takes what a notice offers."""


def notice_rows(notices: Sequence[Notice], width: int, *, fixed: bool = False) -> tuple[Row, ...]:
    """Print notices in full, with the key that puts each right; without it where the day is `fixed`."""
    found: list[Row] = []
    for notice in notices:
        grave = severity(notice.weight)
        text = notice.in_full if fixed else said(notice)
        lines = wrap(grave.opening + clean(text), width - 5)
        found += [row(Span((" " if n == 0 else "    ") + line, grave.ink)) for n, line in enumerate(lines)]
    return tuple(found)


def said(notice: Notice) -> str:
    """Give a notice's sentence, and the key that puts it right with what that does."""
    if not notice.remedies:
        return notice.text
    return f"{notice.text} {PUTS_RIGHT}: {'; or '.join(remedy.label for remedy in notice.remedies)}."


def banner_rows(notices: Sequence[Notice], width: int, most: int, *, fixed: bool = False) -> tuple[Row, ...]:
    """Print the gravest notices in at most so many rows; what is left out is said."""
    worth = [item for item in gravest_first(notices) if item.weight is not Weight.NOTE]
    rows = notice_rows(worth, width - len(MORE), fixed=fixed)
    if len(rows) <= most:
        return rows
    kept = rows[:most]
    return (*kept[:-1], Row((*kept[-1].spans, Span(MORE, "key"))))


def by_stage(notices: Iterable[Notice]) -> tuple[Notice, ...]:
    """Order notices stage by stage, the gravest of each first."""
    stages = tuple(Stage)
    return tuple(sorted(gravest_first(notices), key=lambda notice: stages.index(notice.stage)))


def all_rows(notices: Iterable[Notice], width: int, *, fixed: bool = False) -> tuple[Row, ...]:
    """Print every notice, stage by stage; each can be chosen by its number in `by_stage`."""
    found: list[Row] = []
    ordered = by_stage(notices)
    for number, notice in enumerate(ordered):
        if number == 0 or notice.stage is not ordered[number - 1].stage:
            found += ([BLANK] if found else []) + [row(Span(notice.stage.value.capitalize(), "head"))]
        found += (evolve(line, key=str(number)) for line in notice_rows((notice,), width, fixed=fixed))
    return tuple(found) or (row(Span("Nothing to look out for in this plan.", "faint")),)
