"""The window of what reaches beyond the day."""

from __future__ import annotations

from collections.abc import Sequence

from vatside.ui.text.rows import Row, Span, left, row, wrap

Other = tuple[str, str, str]
"""A key, what it does, and in more words."""


def other_rows(others: Sequence[Other], width: int) -> tuple[Row, ...]:
    """Print each with its key; the words below it give way where there is no room."""
    rows = []
    for key, name, words in others:
        rows.append(row(Span(f" {left(key, 3)}", "key"), Span(name, "strong"), key=key))
        rows += [row(Span(f"    {line}", "faint"), key=key) for line in wrap(words, width - 6)]
    return tuple(rows)
