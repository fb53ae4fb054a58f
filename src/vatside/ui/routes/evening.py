"""What reaches beyond the day: the shelf, the class card, the kept vat, its blue, the replay."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from typing import TYPE_CHECKING

from vatside.bench import evening_acts
from vatside.chemistry.errors import OutOfRange
from vatside.days.keep_vat import carried_from, kept_lines
from vatside.ui.base.host import Host, host_of
from vatside.ui.routes import day as day_ways
from vatside.ui.routes import days, kept_stock, trouble
from vatside.ui.text.rows import Row, Span, row, wrap
from vatside.ui.windows.choose import ChooseWindow, Other
from vatside.units import Problem
from vatside.units.one_line import clean

if TYPE_CHECKING:
    from vatside.bench.desk import Desk
    from vatside.ui.base.session_screen import SessionScreen


def others(day: SessionScreen, lots: Collection[str]) -> None:
    """Offer what reaches beyond the day; `lots` are those in hand."""

    def answered(key: str | None) -> None:
        do_other(day, key or "", lots)

    day.app.push_screen(ChooseWindow("Beyond today", others_of(day)), answered)


def others_of(day: SessionScreen) -> tuple[Other, ...]:
    """Give what can be done with a day beyond the day itself."""
    desk = day.desk
    found: list[Other] = [("o", "The shelf", "what this day needs, what to buy, what it costs")]
    if not desk.keeping.readonly:
        found.append(("k", "Keep the vat", "for another day, with what is in it"))
        found.append(("g", "The colour", "that a lot or a piece came out with, dry"))
    if not desk.keeping.readonly and evening_acts.may_top_up(desk):
        found.append(("y", "The kept vat is topped up", "water, sharpening and stock went in as planned"))
    if carried_from(desk.state) is not None:
        found.append(("z", "The kept vat", "what it held when this day began"))
    found += _of_the_jar(desk)
    found.append(("h", "Class card", "amounts for each table, times, what can hurt: to print and to change"))
    found.append(("d", "What made this blue", "everything on one card"))
    found.append(("r", "Replay", "this day up to now, played back"))
    second = host_of(day).second
    if second is not None and second.free:
        found.append(("t", "Go on here", "the other window has closed; this one writes from now on"))
    if desk.keeping.readonly:
        found.append(("c", "Go on in a copy", "a new file with what is here; it can be changed"))
    return tuple(found)


def _of_the_jar(desk: Desk) -> list[Other]:
    """Give what can be done with the stock that the vat left, or that another day took."""
    if desk.keeping.readonly:
        return []
    there, taken = kept_stock.stands(desk.state), kept_stock.went(desk.state)
    found = [("v", "Another vat from this stock", f"{there} are left: a new day takes it")] if there else []
    return [*found, *([("w", "The stock is back in its jar", f"{taken} did not take it")] if taken else [])]


def do_other(day: SessionScreen, key: str, lots: Collection[str]) -> None:
    """Do what was chosen."""
    desk, app = day.desk, host_of(day)
    acts: dict[str, Callable[[], None]] = {
        "o": lambda: days.shelf(app, desk),
        "k": lambda: ask_keep(day),
        "g": lambda: record_colour(day, lots),
        "y": lambda: day.perform(lambda: evening_acts.top_up(desk)),
        "z": lambda: show_kept(day),
        "v": lambda: kept_stock.ask_here(app, desk),
        "w": lambda: day.perform(lambda: kept_stock.take_back(desk)),
        "h": lambda: ask_tables(day, app),
        "d": lambda: days.show_card(app, desk.keeping.session),
        "r": lambda: days.play(app, desk.keeping.session),
        "t": lambda: trouble.take_day(app, desk),
        "c": lambda: day_ways.go_on_in_copy(app, desk),
    }
    if key in acts:
        acts[key]()


def ask_keep(day: SessionScreen) -> None:
    """Ask for a note, and keep the vat."""
    try:
        words = evening_acts.keep_words(day.desk)
    except OutOfRange as error:
        day.say(str(error))
        return

    def means(text: str) -> tuple[bool, str]:
        asks = "" if text.strip() else "Write where it stands, or what to mind. "
        return bool(text.strip()), f"{asks}Kept: {words}."

    def answered(text: str | None) -> None:
        if text and text.strip():
            day.perform(lambda: evening_acts.keep_vat(day.desk, text.strip()))

    day.ask("Keep the vat: where does it stand?", means, answered, "covered, in its pot")


def record_colour(day: SessionScreen, in_hand: Collection[str]) -> None:
    """Record the colour that the lot in hand came out with."""
    from vatside.ui.routes import dips

    lots = day.desk.plan.lots
    dips.colour(day, next((lot.id for lot in lots if lot.id in in_hand), lots[0].id))


def ask_tables(day: SessionScreen, app: Host) -> None:
    """Ask how many tables there are, and write the class card."""

    def means(text: str) -> tuple[bool, str]:
        found = evening_acts.read_tables(text)
        return (False, found.text) if isinstance(found, Problem) else (True, "a page to print, and one to change")

    def answered(text: str | None) -> None:
        found = evening_acts.read_tables(text or "")
        if not isinstance(found, Problem):
            day.say(evening_acts.write_handout(day.desk, found, app.folder), 20)

    day.ask("Class card: for how many tables?", means, answered, "1")


def show_kept(day: SessionScreen) -> None:
    """Show what the kept vat held."""
    from vatside.ui.windows.words import ReadingWindow

    event = carried_from(day.desk.state)
    if event is None:
        return
    lines = kept_lines(event, day.desk.clock.now())

    def fill(width: int) -> Sequence[Row]:
        return tuple(row(Span(part)) for line in lines for part in wrap(clean(line), width))

    day.app.push_screen(ReadingWindow("The kept vat", fill))
