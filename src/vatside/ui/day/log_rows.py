"""The log for reading."""

from __future__ import annotations

from vatside.log.fold import State
from vatside.log.words.day import log_lines
from vatside.ui.text.rows import BLANK, Row, Span, row, wrap


def log_rows(state: State, width: int) -> tuple[Row, ...]:
    """Print every entry under its day, the ones taken back fainter."""
    lines = log_lines(state.whole)
    found: list[Row] = []
    day = ""
    for line in lines:
        stamp, _, said = line.partition("  ")
        if stamp[:10] != day:
            day = stamp[:10]
            found += ([BLANK] if found else []) + [row(Span(day, "head"))]
        role = "faint" if said.endswith("[taken back]") else ""
        first, *rest = wrap(said, max(width - 8, 10)) or ("",)
        found.append(row(Span(f" {stamp[11:16]}  ", "number"), Span(first, role)))
        found += [row(Span(" " * 8 + part, role)) for part in rest]
    return tuple(found) or (row(Span("Nothing has happened yet.", "faint")),)
