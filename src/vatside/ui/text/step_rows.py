"""The steps of a stage: what to do next."""

from __future__ import annotations

from collections.abc import Sequence

from vatside.bench.glance import Progress
from vatside.dayline.steps import Step
from vatside.plan.severity import DANGER
from vatside.plan.sheet import Stage
from vatside.ui.text.rows import BLANK, Row, Span, cells, row, spread, wrap
from vatside.ui.text.signs import Signs
from vatside.ui.text.wait_rows import clock_text
from vatside.units import show_minutes


def next_step(steps: Sequence[Step], progress: Progress) -> Step | None:
    """Give the first step that is neither done nor running."""
    return next((item for item in steps if item.id not in progress.done and item.id not in progress.running), None)


def step_rows(steps: Sequence[Step], progress: Progress, width: int, signs: Signs) -> tuple[Row, ...]:
    """Print the steps of a stage, the next one standing out; the first column is left to the cursor."""
    if not steps:
        return (row(Span("Nothing to do here.", "faint")),)
    coming = next_step(steps, progress)
    found: list[Row] = []
    group = ""
    for item in steps:
        if item.group != group:
            group = item.group
            found += ([BLANK] if found else []) + [row(Span(group, "head"))]
        found += _step(item, item is coming, progress, width, signs)
    return tuple(found)


def _step(item: Step, coming: bool, progress: Progress, width: int, signs: Signs) -> list[Row]:
    sign, role = _state(item, progress, signs, coming=coming)
    tail = _tail(item, coming, progress)
    lines = wrap(item.text, width - 3, width - 4 - cells(tail.text))
    first = spread((Span(f" {sign} ", role), Span(lines[0], role)), (tail,) if tail.text else (), width, item.id)
    rows = [first, *(row(Span(f"   {line}", role), key=item.id) for line in lines[1:])]
    # They stay behind a step that is done, so that no row moves under the hand.
    look = "done" if item.id in progress.done else DANGER.ink
    return [*rows, *(line for title in _titles(item) for line in _caution(title, item, look, width))]


def _state(item: Step, progress: Progress, signs: Signs, *, coming: bool) -> tuple[str, str]:
    if item.id in progress.done:
        return signs.done, "done"
    if item.id in progress.running:
        return signs.running, "strong"
    return signs.later, "next" if coming else ""


def _tail(item: Step, coming: bool, progress: Progress) -> Span:
    """What stands at the right edge: the length of the wait, what is left of it, or when to begin."""
    wait = progress.running.get(item.id)
    if wait is not None:
        return Span(clock_text(wait), "care" if wait.over else "number")
    if item.id in progress.done:
        return Span("")
    length = show_minutes(item.minutes) if item.minutes else ""
    begin = progress.starts.get(item.id)
    if coming and begin is not None:
        return Span(f"{begin:%H:%M}  {length}".rstrip(), "faint")
    return Span(length, "faint")


def _titles(item: Step) -> tuple[str, ...]:
    return tuple(caution.title for caution in item.cautions if caution.must_acknowledge)


def _caution(title: str, item: Step, role: str, width: int) -> list[Row]:
    lines = wrap(title, width - 6)
    return [row(Span(f"   {'  ' if n else DANGER.sign} {line}", role), key=item.id) for n, line in enumerate(lines)]


def next_line(coming: Step | None, stage_over: bool, width: int) -> Row:
    """Say the next thing to do in one line."""
    if coming is None:
        words = "This stage is done." if stage_over else "Nothing to do here."
        return row(Span(f" {words}", "faint"))
    return spread((Span(" Next  ", "faint"), Span(coming.text, "next")), (), width)


def done_words(stage: Stage, coming: Step | None, signs: Signs) -> str:
    """Say that a stage is done, and which way to turn to what is next; it can lie before it."""
    order = tuple(Stage)
    further = ""
    if coming is not None:
        arrow = signs.arrows[0] if order.index(coming.stage) < order.index(stage) else signs.arrows[-1]
        further = f"; {arrow} {coming.stage.value.capitalize()} is next"
    return f"{stage.value.capitalize()} is done{further}. u takes the last step back."
