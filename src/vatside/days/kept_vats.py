"""The vats that are kept: found in the folder of sessions, with how old and how strong each is."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from attrs import frozen

from vatside.days.keep_vat import carried_from, kept_by
from vatside.log.events import day as events
from vatside.log.events.vat import StockCarriedOn, StockTaken, VatCarriedOn, VatKept, VatLetGo, VatSpent
from vatside.log.fold import State, fold
from vatside.log.state import counted, happened
from vatside.log.waits import Moment
from vatside.storage.files import Fs
from vatside.storage.flaws import SessionError
from vatside.storage.places import journal_path
from vatside.storage.session_text import load
from vatside.vat.kept_vat import KeptVat

WORDS = (b'"vat_kept"', b'"vat_carried_on"')
"""What a file contains that tells of a kept vat."""
Which = tuple[str, datetime]
"""A kept vat: its session, and when it was kept."""
TOUCHES_NOTHING = (
    VatCarriedOn, events.SessionReopened, events.Undone, events.ClockSlept, events.ClockStepped,
    events.ClockCorrected, events.AlarmQuieted, events.CautionAcknowledged, events.NoteWritten,
    events.PowderTaken, events.PlanChanged, events.LotAdded, events.LotRemoved, events.PinSet, events.PinCleared,
    events.AdviceTaken, events.StepReopened, events.DayLaid, StockTaken, StockCarriedOn,
)  # fmt: skip
"""Events that do nothing to a vat."""


@frozen
class StandingVat:
    """A vat that stands somewhere and waits for another day."""

    path: Path
    title: str
    """What the day was called that kept it."""
    kept: Moment
    vat: KeptVat
    note: str = ""
    """What the dyer wrote when she kept it."""
    carried: str = ""
    """The day that carries on from it, where nothing is done yet; empty if there is none."""


def standing_vats(paths: Iterable[Path]) -> tuple[StandingVat, ...]:
    """Give the vats that these sessions kept and no other one has gone on with, the latest first.

    A day that carries on from a vat and has nothing done in it leaves the vat standing. A file that cannot be read
    keeps none.
    """
    states = list(states_with(paths, WORDS))
    began: dict[Which, State] = {}
    for _, state in states:
        event = carried_from(state)
        if event is not None and ((event.session, event.kept) not in began or is_begun(state)):
            began[event.session, event.kept] = state
    vats = [vat for path, state in states if (vat := _standing(path, state, began)) is not None]
    return tuple(sorted(vats, key=lambda vat: vat.kept.utc, reverse=True))


def is_begun(state: State) -> bool:
    """Tell whether a session has anything done in it; plan, powders and notes alone touch no vat."""
    return any(not isinstance(entry.event, TOUCHES_NOTHING) for entry in counted(state))


def states_with(paths: Iterable[Path], words: Sequence[bytes]) -> Iterator[tuple[Path, State]]:
    """Give the sessions whose files hold one of some words, as they stand: others are not read in full for it.

    A file that cannot be read is left out.
    """
    files = Fs()
    for path in paths:
        with suppress(SessionError, OSError):
            text = files.read(path)[0]
            with suppress(FileNotFoundError):
                text += files.read(journal_path(path))[0]
            if any(word in text for word in words):
                yield path, fold(load(files, path).session)


def _standing(path: Path, state: State, began: Mapping[Which, State]) -> StandingVat | None:
    kept = kept_by(state)
    if kept is None:
        return None
    event, at = kept
    later = began.get((state.session, at.utc))
    if (later is not None and is_begun(later)) or _let_go_since(state):
        return None
    return StandingVat(path, state.plan.title, at, event.vat, _note(state, at), later.plan.title if later else "")


def _let_go_since(state: State) -> bool:
    """Tell whether the vat was spent or let go after it was kept, by the order of the log: a clock can be set back."""
    last = [entry.event for entry in counted(state) if isinstance(entry.event, VatKept | VatSpent | VatLetGo)]
    return isinstance(last[-1], VatSpent | VatLetGo) if last else False


def _note(state: State, at: Moment) -> str:
    """A note of the same moment belongs to the keeping."""
    notes = [entry.event for entry in happened(state, events.NoteWritten) if entry.at == at]
    return notes[-1].text if notes and isinstance(notes[-1], events.NoteWritten) else ""
