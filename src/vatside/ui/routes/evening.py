"""What reaches beyond the day: the shelf, the class card, the kept vat, its blue, the replay."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

from vatside.bench import evening_acts
from vatside.chemistry.errors import OutOfRange
from vatside.days.keep_vat import carried_from, kept_lines
from vatside.ui.base.host import Host, host_of
from vatside.ui.base.keymap import Key, only
from vatside.ui.routes import day as day_ways
from vatside.ui.routes import days, kept_stock
from vatside.ui.routes.day import HERE, take_day
from vatside.ui.text.rows import Row, Span, row, wrap
from vatside.ui.windows.ask import ChooseWindow
from vatside.units import Problem
from vatside.units.show import clean

if TYPE_CHECKING:
    from vatside.ui.base.session_screen import SessionScreen


def _writes(day: Any) -> bool:
    return day.desk.keeping.readonly is None


def _other_window_closed(day: Any) -> bool:
    second = host_of(day).second
    return second is not None and second.free


BEYOND = (
    Key("o", "shelf", "The shelf", "what this day needs, what to buy, what it costs", means="beyond"),
    Key("z", "line", "The day line", "all of the day: when what begins, how late it may", means="all"),
    Key("v", "keep", "Keep the vat", "for another day, with what is in it", means="vat", when=only(_writes)),
    Key(
        "a", "top_up", "The kept vat is topped up", "water, sharpening and stock went in as planned", means="add",
        when=only(lambda day: _writes(day) and evening_acts.may_top_up(day.desk)),
    ),
    Key(
        "l", "kept", "The kept vat", "what it held when this day began", means="log",
        when=only(lambda day: carried_from(day.desk.state)),
    ),
    Key(
        "c", "jar", "Another vat from this stock", "{left} are left: a new day takes it", means="carry on",
        when=only(lambda day: _writes(day) and kept_stock.stands(day.desk.state)),
    ),
    Key(
        "u", "take_back", "The stock is back in its jar", "{taken} did not take it", means="undo",
        when=only(lambda day: _writes(day) and kept_stock.went(day.desk.state)),
    ),
    Key(
        "s", "class_card", "Class card", "amounts for each table, times, what can hurt: to print and to change",
        means="save",
    ),
    Key("g", "card", "What made this blue", "everything on one card", means="blue"),
    Key("p", "replay", "Play it back", "this day up to now", means="pause"),
    HERE._replace(action="here", words="Go on here", when=only(_other_window_closed)),
    day_ways.IN_A_COPY._replace(action="copy", words="Go on in a copy", when=only(lambda day: not _writes(day))),
)  # fmt: skip


def others(day: SessionScreen) -> None:
    """Offer what reaches beyond the day."""
    known = {key.keys: key for key in BEYOND if key.when(day)}
    texts = {"left": kept_stock.stands(day.desk.state), "taken": kept_stock.went(day.desk.state)}
    rows = tuple((name, str(key.words), key.help.format(**texts)) for name, key in known.items())

    def answered(name: str | None) -> None:
        if name in known:
            ACTS[known[name].action](day)

    day.app.push_screen(ChooseWindow("Beyond today", rows), answered)


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


def ask_tables(day: SessionScreen, app: Host) -> None:
    """Ask how many tables there are, and write the class card."""

    def means(text: str) -> tuple[bool, str]:
        tables = evening_acts.read_tables(text)
        return (False, tables.text) if isinstance(tables, Problem) else (True, "a page to print, and one to change")

    def answered(text: str | None) -> None:
        tables = evening_acts.read_tables(text or "")
        if not isinstance(tables, Problem):
            day.say(evening_acts.write_handout(day.desk, tables, app.folder), 20)

    day.ask("Class card: for how many tables?", means, answered, "1")


def show_kept(day: SessionScreen) -> None:
    """Show what the kept vat held."""
    from vatside.ui.base.screens import ReadingWindow

    event = carried_from(day.desk.state)
    if event is None:
        return
    lines = kept_lines(event, day.desk.clock.now())

    def fill(width: int) -> Sequence[Row]:
        return tuple(row(Span(part)) for line in lines for part in wrap(clean(line), width))

    day.app.push_screen(ReadingWindow("The kept vat", fill))


ACTS: dict[str, Callable[[SessionScreen], None]] = {
    "shelf": lambda day: days.shelf(host_of(day), day.desk),
    "line": lambda day: host_of(day).routes.line.line(day),
    "keep": ask_keep,
    "top_up": lambda day: day.perform(lambda: evening_acts.top_up(day.desk)),
    "kept": show_kept,
    "jar": lambda day: kept_stock.ask_here(host_of(day), day.desk),
    "take_back": lambda day: day.perform(lambda: kept_stock.take_back(day.desk)),
    "class_card": lambda day: ask_tables(day, host_of(day)),
    "card": lambda day: days.show_card(host_of(day), day.desk.keeping.session),
    "replay": lambda day: days.play(host_of(day), day.desk.keeping.session),
    "here": lambda day: take_day(host_of(day), day.desk),
    "copy": lambda day: day_ways.go_on_in_copy(host_of(day), day.desk),
}
