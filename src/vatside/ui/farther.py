"""What the dyer does with a day beyond the day itself; each act answers with a sentence for her."""

from __future__ import annotations

import re
from pathlib import Path

from vatside.chemistry.errors import OutOfRange
from vatside.recipe.fields import LONGEST_TEXT
from vatside.session.across.handout import MOST_TABLES, handout
from vatside.session.across.handout_files import write_card
from vatside.session.across.keep import carried_from, feeding_wait, keep, kept_by
from vatside.session.counting import happened
from vatside.session.events import ColourNoted, Event, NoteWritten, VatToppedUp
from vatside.session.flaws import SessionError
from vatside.session.folder import new_path
from vatside.ui.desk import Desk, local
from vatside.units import Amount, Problem, show_amount, show_concentration, show_volume

_LAB = re.compile(r"\s+".join([r"(-?\d+(?:[.,]\d+)?)"] * 3))
_DEPTH = re.compile(r"(\d+(?:[.,]\d+)?)\s*%")


def keep_words(desk: Desk) -> str:
    """Say what would be kept, and by what that is known; OutOfRange if there is no vat."""
    vat = keep(desk.keeping.session).vat
    said = f"{show_volume(vat.litres)} with {show_concentration(vat.strength)} of indigotin"
    if desk.state.tending.account is None:
        said += ", by the plan alone: no step says that the stock went in"
    return f"{said}; it was kept before, this counts instead" if kept_by(desk.state) else said


def keep_vat(desk: Desk, note: str, *before: Event) -> str:
    """Keep the vat for another day, with a note; in a week it wants to be stirred and fed.

    What happened just before goes into the log with it, as one act.
    """
    try:
        desk.settle()
        kept = keep(desk.keeping.session)
    except OutOfRange as error:
        desk.log(*before)
        return str(error)
    said = (*before, kept, *((NoteWritten(note[:LONGEST_TEXT]),) if note else ()))
    feeds = () if _is_fed(desk) else (feeding_wait(desk.state.seq + len(said) + 1),)
    desk.log(*said, *feeds)
    vat = kept.vat
    return (
        f"Kept: {show_volume(vat.litres)}, {show_concentration(vat.strength)} of indigotin. "
        "It stands in the list of days; a wait says when to stir and feed it."
    )


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
        text, page = write_card(handout(desk.plan, tables, local(now)), beside)
    except SessionError as error:
        return f"{error}."
    return f"Class card to print: {page}  To change: {text.name} beside it."


def read_colour(text: str) -> ColourNoted | Problem:
    """Read the blue that a lot came out with: words, a depth like 2 %, or L* a* b* as measured; lot left open."""
    typed = " ".join(text.split())[:LONGEST_TEXT]
    if not typed:
        return Problem("Words for the blue; with them, if known, the depth (2 %) or L* a* b* (30 -2 -28)")
    lab, depth = _LAB.search(typed), _DEPTH.search(typed)
    numbers = tuple(float(part.replace(",", ".")) for part in lab.groups()) if lab else ()
    if numbers and not 0 <= numbers[0] <= 100:
        return Problem(f"L* lies between 0 and 100, not at {numbers[0]:g}")
    amount = Amount(float(depth[1].replace(",", ".")), "%") if depth else None
    words = typed
    for found in (lab, depth):
        words = words.replace(found[0], " ") if found else words
    return ColourNoted("", " ".join(words.split()).strip(" ,;"), amount, numbers)


def colour_words(event: ColourNoted) -> str:
    """Say what was understood of a blue."""
    lab = "L* a* b* " + ", ".join(f"{number:g}" for number in event.lab) if event.lab else ""
    depth = f"depth {show_amount(event.depth)}" if event.depth else ""
    return "; ".join(part for part in (event.words, depth, lab) if part)


def note_colour(desk: Desk, lot: str, found: ColourNoted) -> str:
    """Note the blue that a lot came out with."""
    desk.log(ColourNoted(lot, found.words, found.depth, found.lab))
    return f"Noted: {colour_words(found)}."


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
