"""What the list of days asks for: a day opened, begun, repeated, compared, played back, and the shelf."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from vatside.bench import open_day
from vatside.storage.flaws import SessionError
from vatside.ui.opening.rows import AGAIN, CARD, GUIDE, JAR, KEPT, REPLAY, SHELF
from vatside.ui.routes import day, days
from vatside.ui.routes.day import refused

if TYPE_CHECKING:
    from vatside.ui.base.host import Host


def go(app: Host, what: str, path: Path | None, other: Path | None = None) -> None:
    """Do what was asked for, with the chosen day and the one that was marked before; without a day, begin one."""
    acts = {REPLAY: days.replay, AGAIN: days.repeat, CARD: days.card, KEPT: days.carry_on, JAR: _ask_for_stock}
    if what == SHELF:
        _shelf(app, path)
    elif what == GUIDE:
        days.guide(app)
    elif path is None:
        days.begin_new(app)
    elif other is not None:
        days.compare(app, other, path)
    elif what in acts:
        acts[what](app, path)
    else:
        _open(app, what, path)


def _open(app: Host, what: str, path: Path) -> None:
    """Put a day on the bench; what goes wrong is told on the first screen."""
    try:
        desk = open_day.wanted(what, path, app.folder, app.clock, app.desk)
    except SessionError as error:
        refused(app, path, error)
        return
    day.show(app, desk)


def _ask_for_stock(app: Host, path: Path) -> None:
    from vatside.ui.routes import evening

    jar = next((stock for stock in days.listed(app).jars if stock.path == path), None)
    if jar is not None:
        evening.ask_at(app, jar)


def _shelf(app: Host, path: Path | None) -> None:
    """Show what is on the shelf, for a day or for the one on the bench."""
    session = days.session_at(app, path) if path is not None else None
    days.shelf(app, session=session)
