"""The opening screen: saved days, a new one, the samples."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING

from vatside.ui.view.bar import day_bar
from vatside.ui.view.rows import BLANK, Row, Span, clean, row, spread, wrap
from vatside.ui.view.signs import Signs

if TYPE_CHECKING:
    from vatside.session.library import SessionCard

NEW = "new"
SAVED = "saved:"
SAMPLE = "sample:"


def crown_rows(width: int, signs: Signs) -> tuple[Row, ...]:
    """The name, and the colours of a dip from straw to indigo."""
    return (
        spread((Span(" V A T S I D E", "strong"),), (Span("indigo, planned and kept to time ", "faint"),), width),
        Row(day_bar(1.0, width, signs)),
    )


def shelf_rows(
    saved: Sequence[SessionCard] | None, samples: Sequence[SessionCard], now: datetime | None, width: int, signs: Signs
) -> tuple[Row, ...]:
    """Print what can be opened; `saved` is None while the folder has not been looked at yet."""
    rows = [spread((Span("  + ", "head"), Span("A new day", "strong")), (Span("n ", "key"),), width, NEW), BLANK]
    rows.append(row(Span(" Your days", "head")))
    if saved is None:
        rows.append(row(Span("    looking …", "faint")))
    elif saved:
        rows += [line for card in saved for line in _card(card, SAVED, now, width, signs)]
    else:
        rows += _none_yet(width)
    if samples:
        rows += [BLANK, row(Span(" Samples", "head"), Span("  opened as a copy of your own", "faint"))]
        rows += [line for card in samples for line in _card(card, SAMPLE, now, width, signs)]
    return tuple(rows)


def _none_yet(width: int) -> list[Row]:
    words = (
        "None yet. A new day asks for little: what fibre, how much, how blue, and when the vat must be ready. "
        "Everything else has a usual value that you can change, and every key press is kept."
    )
    return [row(Span(f"    {line}", "faint")) for line in wrap(words, min(width - 6, 66))]


def _card(card: SessionCard, kind: str, now: datetime | None, width: int, signs: Signs) -> list[Row]:
    key = f"{kind}{card.path}"
    when = (_ago(card.last or card.created, now) if kind == SAVED else "") if card.created else ""
    if card.problem:
        name = Span(f"  {signs.alarm} {clean(card.title)}", "care")
        lines = wrap(clean(card.problem), width - 8)
        return [spread((name,), (Span(f"{when} ", "faint"),), width, key)] + [
            row(Span(f"      {line}", "faint"), key=key) for line in lines[:2]
        ]
    running = f"{card.waits} running" if card.waits else ""
    sign = signs.running if card.waits else signs.later
    tail = (Span(f"{running}   ", "care"), Span(f"{when} ", "faint"))
    return [spread((Span(f"  {sign} "), Span(clean(card.title))), tail, width, key)]


def _ago(then: datetime | None, now: datetime | None) -> str:
    """Say when something was, the nearer the finer."""
    if then is None or now is None:
        return ""
    here, today = then.astimezone(now.tzinfo), now
    days = (today.date() - here.date()).days
    if days == 0:
        return f"today {here:%H:%M}"
    if days == 1:
        return f"yesterday {here:%H:%M}"
    return f"{here.day} {here:%B}" if here.year == today.year else f"{here.day} {here:%B %Y}"
