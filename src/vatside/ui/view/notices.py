"""What the dyer should hear about the plan, gravest first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from vatside.recipe.sheet import Notice, Stage, Weight
from vatside.ui.view.rows import BLANK, Row, Span, clean, row, wrap

GRAVITY = (Weight.DANGER, Weight.CARE, Weight.NOTE)
WORDS = {Weight.DANGER: "!! Danger: ", Weight.CARE: "! ", Weight.NOTE: ""}
MORE = " … i"
"""Says that there is more, and the key that shows it."""
HOLDS = " h holds these amounts."
"""Says which key takes a notice's remedy."""
ROLES = {Weight.DANGER: "danger", Weight.CARE: "care", Weight.NOTE: "faint"}


def gravest_first(notices: Iterable[Notice]) -> tuple[Notice, ...]:
    """Order notices by weight."""
    return tuple(sorted(notices, key=lambda notice: GRAVITY.index(notice.weight)))


def notice_rows(notices: Sequence[Notice], width: int) -> tuple[Row, ...]:
    """Print notices in full."""
    found: list[Row] = []
    for notice in notices:
        role = ROLES[notice.weight]
        offer = HOLDS if notice.remedy else ""
        lines = wrap(WORDS[notice.weight] + clean(notice.text) + offer, width - 5)
        found += [row(Span((" " if n == 0 else "    ") + line, role)) for n, line in enumerate(lines)]
    return tuple(found)


def banner_rows(notices: Sequence[Notice], width: int, most: int) -> tuple[Row, ...]:
    """Print the gravest notices in at most so many rows; what is left out is said."""
    worth = [item for item in gravest_first(notices) if item.weight is not Weight.NOTE]
    rows = notice_rows(worth, width - len(MORE))
    if len(rows) <= most:
        return rows
    kept = rows[:most]
    return (*kept[:-1], Row((*kept[-1].spans, Span(MORE, "key"))))


def all_rows(notices: Sequence[Notice], width: int) -> tuple[Row, ...]:
    """Print every notice, stage by stage."""
    found: list[Row] = []
    for stage in Stage:
        here = gravest_first(item for item in notices if item.stage is stage)
        if here:
            found += ([BLANK] if found else []) + [row(Span(stage.value.capitalize(), "head"))]
            found += notice_rows(here, width)
    return tuple(found) or (row(Span("Nothing to look out for in this plan.", "faint")),)
