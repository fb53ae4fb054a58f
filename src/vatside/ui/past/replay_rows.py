"""What a replay shows beside the day: the head's time and speed, what happened last, the keys."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from vatside.days.guide import Stop
from vatside.ui.text.bars import day_bar
from vatside.ui.text.rows import Row, Span, cells, spread, wrap
from vatside.ui.text.signs import Signs
from vatside.units.one_line import clean


def replay_spans(when: datetime, speed: float, running: bool, at_end: bool, width: int) -> tuple[Span, ...]:
    """Say that this is a replay, how fast it goes and what time it was."""
    state = "running" if running else "at its end" if at_end else "paused"
    day = f"{when:%a} {when.day} {when:%b} " if width >= 76 else ""
    return (
        Span(" REPLAY ", "here"),
        Span(f" {speed:g}× ", "strong"),
        Span(f"{state}  ", "faint" if running else "care"),
        Span(f"{day}{when:%H:%M:%S}", "number"),
    )


def event_rows(number: int, count: int, words: str, when: datetime | None, width: int, most: int) -> tuple[Row, ...]:
    """Say what happened last, and which of how many things that was."""
    tail = Span(f"{number} of {count} ", "faint")
    if when is None:
        return (spread((Span(" As the day began", "faint"),), (tail,), width),)
    first, *rest = wrap(clean(words), width - 12, width - 22) or ("",)
    rows = [spread((Span(f" {when:%H:%M:%S} ", "number"), Span(first, "said")), (tail,), width)]
    rows += [Row((Span(" " * 10), Span(line, "said"))) for line in rest]
    return tuple(rows[:most])


def stop_rows(stop: Stop, number: int, count: int, width: int) -> tuple[Row, ...]:
    """Say what there is to see at a stop and which key does it, and which of how many it is."""
    key, tail = f" {stop.key} ", Span(f"{number} of {count} ", "faint")
    first, *rest = wrap(stop.words, width - cells(key) - 2, width - cells(key) - cells(tail.text) - 1)
    head = spread((Span(key, "key"), Span(first, "said")), (tail,), width)
    return (head, *(Row((Span(" " * cells(key)), Span(line, "said"))) for line in rest))


def progress_row(share: float, width: int, signs: Signs) -> Row:
    """Draw how far the replay has come."""
    return Row(day_bar(share, width, signs))


def own_day_rows(labels: Sequence[str], width: int) -> tuple[Row, ...]:
    """Say that something rings in the day that is really going on."""
    if not labels:
        return ()
    words = f"! In your own day: {clean(', '.join(labels))} – q quiets"
    return tuple(Row((Span(f" {line}", "over"),)) for line in wrap(words, width - 2))
