"""The windows that the day's screen opens over itself, each loaded when its key is first pressed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from textual.app import App

from vatside.bench.desk import Desk
from vatside.plan.sheet import Notice, Remedy


def show_working(app: App[Any], desk: Desk, ids: Sequence[str], figure: str, left: Callable[[str], None]) -> None:
    """Show how a figure came about; `left` is told of the one that was looked at last."""
    from vatside.ui.day.working_window import WorkingWindow

    app.push_screen(WorkingWindow(desk, ids, figure), lambda at: left(at or ""))


def show_log(app: App[Any], desk: Desk) -> None:
    """Show what happened so far."""
    from vatside.ui.day.log_rows import log_rows
    from vatside.ui.windows.words import ReadingWindow

    app.push_screen(ReadingWindow("Log", lambda width: log_rows(desk.state, width), at_end=True))


def show_notices(app: App[Any], desk: Desk) -> None:
    """Show everything to look out for."""
    from vatside.ui.windows.notices import NoticesWindow

    app.push_screen(NoticesWindow(desk))


def put_right(
    app: App[Any], desk: Desk, notices: Sequence[Notice], figure: str, taken: Callable[[Remedy], None]
) -> str:  # fmt: skip
    """Offer what puts the gravest notice right, or first the one of a figure; say so where there is nothing."""
    from vatside.ui.windows import put_right

    offers = put_right.offers(notices, figure)
    if desk.keeping.readonly:
        return f"Reading only: {desk.keeping.readonly}."
    if not offers:
        return "Nothing here can be put right by a key; i shows everything to look out for."
    put_right.choose(app, offers[0], taken)
    return ""
