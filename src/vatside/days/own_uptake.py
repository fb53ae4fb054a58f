"""What all days of a folder together say of the uptake, for the next plan to go by."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import suppress
from pathlib import Path

from vatside.log.colours import Results, fits, results_of
from vatside.log.state import State
from vatside.plan.plan import Learned
from vatside.storage.shipped import SAMPLE_ID

LATEST_DAYS = 60
"""Days that are read for it, the latest ones: more than a year of Saturdays. Ours."""


def learned_in(folder: Path, but: Path | None = None, *today: State) -> tuple[Learned, ...]:
    """Give what the latest days of a folder say, and those of `today`; the file `but` is left out."""
    found = fits(each_once((*today, *_days(folder, but)))).uptake
    return tuple(found.values())


def each_once(days: Iterable[State]) -> Iterator[Results]:
    """Give what each day says; of a day and its copies, which go by one id, what stands in both counts once."""
    known: dict[str, list[Results]] = {}
    for day in days:
        said, before = results_of(day), known.setdefault(day.session, [])
        yield Results(
            tuple(item for item in said.colour if not any(item in other.colour for other in before)),
            tuple(item for item in said.swatches if not any(item in other.swatches for other in before)),
        )
        before.append(said)


def _days(folder: Path, but: Path | None) -> Iterator[State]:
    """Give the latest days of a folder; a day that cannot be read says nothing, and no copy of a sample does."""
    from vatside.log.fold import fold
    from vatside.storage.flaws import SessionError
    from vatside.storage.folder import list_sessions
    from vatside.storage.reading_files import session_of

    cards = [card for card in list_sessions(folder) if card.path != but and card.problem is None]
    for card in cards[:LATEST_DAYS]:
        with suppress(SessionError, OSError):
            session = session_of(card.path)
            if not session.id.startswith(SAMPLE_ID):
                yield fold(session)
