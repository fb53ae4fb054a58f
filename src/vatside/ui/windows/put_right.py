"""What the notices offer to put right, and which of it the dyer takes."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from textual.app import App

from vatside.plan.severity import gravest_first
from vatside.plan.sheet import Notice, Remedy
from vatside.units.one_line import clean

MOST = 9
"""Ways that a digit can choose among."""


def offers(notices: Iterable[Notice], figure: str = "") -> tuple[Notice, ...]:
    """Give the notices that can be put right, those about a figure first, then the gravest."""
    found = [notice for notice in gravest_first(notices) if notice.remedies]
    return tuple(sorted(found, key=lambda notice: not concerns(notice, figure)))


def concerns(notice: Notice, figure: str) -> bool:
    """Tell whether a notice is about a figure, or sets it to put things right."""
    return notice.figure == figure or any(path == figure for one in notice.remedies for path, _ in one.places)


def choose(app: App[Any], notice: Notice, take: Callable[[Remedy], None]) -> None:
    """Let the only way there is be taken, or the one that the dyer picks."""
    if len(notice.remedies) == 1:
        take(notice.remedies[0])
        return
    from vatside.ui.windows.choose import ChooseWindow

    ways = {str(number): remedy for number, remedy in enumerate(notice.remedies[:MOST], start=1)}

    def answered(key: str | None) -> None:
        if key in ways:
            take(ways[key])

    rows = tuple((key, clean(remedy.label), "") for key, remedy in ways.items())
    app.push_screen(ChooseWindow("Put right by", rows), answered)
