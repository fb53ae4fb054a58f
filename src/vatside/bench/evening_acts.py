"""What the dyer does with a day beyond the day itself; each act answers with a sentence for her."""

from __future__ import annotations

from pathlib import Path

from vatside.bench.desk import Desk
from vatside.chemistry.errors import OutOfRange
from vatside.days.class_card import MOST_TABLES, handout
from vatside.days.class_print import write_card
from vatside.days.keep_vat import carried_from, feeding_wait, keep, kept_by
from vatside.forms.fields import LONGEST_TEXT
from vatside.log.events.day import Event, NoteWritten, Undone, WaitStarted
from vatside.log.events.vat import VatKept, VatToppedUp
from vatside.log.fold import State
from vatside.log.state import happened
from vatside.storage.flaws import SessionError
from vatside.storage.folder import new_path
from vatside.units import Problem, show_concentration, show_volume


def keep_words(desk: Desk) -> str:
    """Say what would be kept, and by what that is known; OutOfRange if there is no vat."""
    vat = keep(desk.keeping.session, now=desk.clock.now()).vat
    sentence = f"{show_volume(vat.litres)} with {show_concentration(vat.strength)} of indigotin"
    if desk.state.tending.account is None:
        sentence += ", by the plan alone: no step says that the stock went in"
    return f"{sentence}; it was kept before, this counts instead" if kept_by(desk.state) else sentence


def keep_vat(desk: Desk, note: str, *before: Event) -> str:
    """Keep the vat for another day, with a note; in a week it wants to be stirred and fed.

    What happened just before goes into the log with it, as one act.
    """
    try:
        desk.settle()
        kept = keep(desk.keeping.session, now=desk.clock.now())
    except OutOfRange as error:
        desk.log(*before)
        return str(error)
    events = (*before, kept, *((NoteWritten(note[:LONGEST_TEXT]),) if note else ()))
    feeds = () if _is_fed(desk) else (feeding_wait(desk.state.seq + len(events) + 1),)
    desk.log(*events, *feeds)
    vat = kept.vat
    return (
        f"Kept: {show_volume(vat.litres)}, {show_concentration(vat.strength)} of indigotin. "
        "It stands in the list of days; a wait says when to stir and feed it."
    )


def undo_keeping(state: State) -> tuple[Event, ...]:
    """Give what takes it back that the vat is kept, and the wait that says when to feed it while that runs."""
    label = feeding_wait(0).label
    open_waits = {wait.id for wait in state.waits if wait.label == label}
    feeding = (one for one in happened(state, WaitStarted) if getattr(one.event, "wait", "") in open_waits)
    return tuple(Undone(entry.seq) for entry in (*happened(state, VatKept), *feeding))


def _is_fed(desk: Desk) -> bool:
    """Whether a wait says already when to stir and feed it."""
    label = feeding_wait(0).label
    return any(wait.label == label for wait in desk.state.waits)


def may_top_up(desk: Desk) -> bool:
    """Whether the day carries on from a kept vat that was not topped up yet."""
    return carried_from(desk.state) is not None and not happened(desk.state, VatToppedUp)


def top_up(desk: Desk) -> str:
    """Say that water, sharpening and stock went into the kept vat as the plan has them."""
    desk.log(VatToppedUp())
    return "Topped up as planned; u takes it back."


def read_tables(text: str) -> int | Problem:
    """Read how many tables a class has."""
    typed = text.strip()
    if typed.isascii() and typed.isdigit() and 1 <= int(typed[:4]) <= MOST_TABLES:
        return int(typed)
    return Problem(f"Write how many tables: 1 to {MOST_TABLES}")


def write_handout(desk: Desk, tables: int, folder: Path) -> str:
    """Write the class card beside the session; say where it is."""
    now = desk.clock.now()
    beside = desk.keeping.path or new_path(folder, desk.plan.title, now)
    try:
        text, page = write_card(handout(desk.state, tables, now.utc), beside)
    except SessionError as error:
        return f"{error}."
    return f"Class card to print: {page}  To change: {text.name} beside it."


def elsewhere(text: str, old: Path | None) -> Path | Problem:
    """Read where to save: a file, or a folder in which it keeps its name."""
    typed = text.strip()
    try:
        path = Path(typed).expanduser()
        if path.is_dir() or typed.endswith(("/", "\\")):
            return path / (old.name if old else "dye-day.json")
        return path if path.suffix else path.with_name(f"{path.name}.json")
    except (OSError, ValueError, RuntimeError):
        return Problem("Write a folder, or a file that is not there yet")
