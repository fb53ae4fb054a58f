"""What reaches beyond the day: shelf, class card, the kept vat, its blue, the replay, another vat from its stock."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from vatside.bench import evening_acts, open_day
from vatside.bench.desk import Desk, local
from vatside.chemistry.errors import OutOfRange
from vatside.days import kept_stock
from vatside.days.keep_vat import carried_from, kept_lines
from vatside.log.events.day import Undone
from vatside.log.fold import State
from vatside.log.words.vat import held_words
from vatside.plan.plan import Plan, StockKept
from vatside.storage.flaws import SessionError
from vatside.ui.base.host import Host, host_of
from vatside.ui.base.keymap import Key, only
from vatside.ui.base.screens import ReadingWindow
from vatside.ui.routes import days
from vatside.ui.routes.day import HERE, IN_A_COPY, go_on_in_copy, show, take_day
from vatside.ui.text.rows import Row, wrapped
from vatside.ui.windows.ask import Choice, ask, choose, some_words, tell_trouble
from vatside.units.show import capital, clean

if TYPE_CHECKING:
    from vatside.ui.base.session_screen import SessionScreen

A_DAY = Key("c", "", "begin a day", "begin a day with it", means="carry on")
INTO_A_DAY = Key("a", "", "add it to the day", "add it to the day on the bench", means="add")
Then = Callable[[Host, Desk], None]
"""What is done with the jar of a day."""


def stands(state: State) -> str:
    """Say what stands in the jar of a day; empty if there is nothing."""
    stock = kept_stock.left(state)
    return held_words(stock, state.plan) if stock else ""


def went(state: State) -> str:
    """Say which day took the stock of this one last; empty if none did."""
    taken = kept_stock.taken_by(state)
    return f"“{taken[-1][1].title}”" if taken else ""


def take_back(desk: Desk) -> str:
    """Say that the stock was not taken after all, and stands in its jar again."""
    desk.settle()
    taken = kept_stock.taken_by(desk.state)
    if not taken:
        return "No other day took it."
    seq, event = taken[-1]
    desk.log(Undone(seq))
    return f"The stock stands in its jar again; in “{event.title}”, take it out of the plan (u there)."


def ask_for_jar(app: Host, plan: Plan, stock: StockKept, begin: Callable[[Then], None], old: Path | None) -> None:
    """Show the label of a stock, warn of its age, and ask whether a vat is to be begun from it, or made of it here."""
    now = local(app.clock.now()).isoformat(timespec="minutes")
    label, age = kept_stock.stock_label(plan, stock), kept_stock.age_words(plan, stock, now)
    ready = "It goes in before any new stock is made, and what it does not take stays in the jar of the new day."
    texts = (*label, *([age] if age else []), f"A new day begins with all of it at hand. {ready}")

    def fill(width: int) -> Sequence[Row]:
        return [line for text in texts for line in wrapped(clean(capital(text)), width)]

    choices: list[Choice] = [(A_DAY, lambda: begin(begin_from))]
    on_bench = app.desk
    if on_bench is not None and on_bench.keeping.path != old and _takes(on_bench, plan):
        key = INTO_A_DAY._replace(words=f"add it to “{clean(on_bench.plan.title)}”")
        choices.append((key, lambda: begin(take_into)))
    tell_trouble(app, "Another vat from this stock?", fill, *choices)


def _takes(desk: Desk, plan: Plan) -> bool:
    return desk.keeping.readonly is None and kept_stock.takes(desk.state, plan)


def ask_here(app: Host, desk: Desk) -> None:
    """Ask for the jar of the day on the bench."""
    stock = kept_stock.left(desk.state)
    if stock is not None:
        ask_for_jar(app, desk.plan, stock, lambda then: then(app, desk), desk.keeping.path)


def ask_at(app: Host, jar: kept_stock.StandingStock) -> None:
    """Ask for the jar of a day of the list."""
    ask_for_jar(app, jar.plan, jar.stock, lambda then: begin_at(app, jar.path, then), jar.path.resolve())


def begin_at(app: Host, path: Path, then: Then) -> None:
    """Take the stock of a day of the list, for a day begun or being planned; its own log says that it was taken."""
    on_bench = app.desk
    if on_bench is not None and on_bench.keeping.path == path.resolve():
        then(app, on_bench)
        return
    try:
        old = open_day.open_day(path, app.clock)
    except SessionError as error:
        app.opening.say(str(error))
        return
    if old.keeping.readonly is not None:
        app.opening.say(f"Nothing is taken: that day can only be read ({old.keeping.readonly}).")
        old.keeping.close()
        return
    then(app, old)
    trouble = old.keeping.close()
    if trouble:
        app.say(f"“{old.plan.title}” does not know yet that its stock was taken: {trouble}")


def begin_from(app: Host, old: Desk) -> None:
    """Begin a day from the stock that another one left; both logs say so."""
    old.leave()
    taken = kept_stock.take(old.state, app.clock.now())
    if taken is None:
        app.opening.say("Nothing stands in that jar any more.")
        return
    new = open_day.new_day(app.folder, app.clock, days.titled(app, taken.plan))
    _pour(app, old, taken, new, ". Say now what is to be dyed.")


def take_into(app: Host, old: Desk) -> None:
    """Let the day that is being planned make its vat from the stock that another one left; both logs say so."""
    on_bench = app.desk
    if on_bench is None:
        return
    on_bench.settle()
    taken = kept_stock.take(old.state, app.clock.now())
    if taken is None or not _takes(on_bench, old.plan):
        app.opening.say("Nothing was taken: that jar, or this day, is no longer as it was.")
        return
    _pour(app, old, taken, on_bench, "; u, behind Escape, takes it out of the plan.")


def _pour(app: Host, old: Desk, taken: kept_stock.Taken, new: Desk, next_words: str) -> None:
    """Write into both logs whose stock it is, show the day that has it, and say what is next."""
    gone, came = kept_stock.events(old.state, taken, new.keeping.session.id, new.plan.title, app.clock.now())
    old.log(gone)
    new.log(came)
    show(app, new)
    words = f"{held_words(taken.stock, new.plan)} from “{old.plan.title}” stand ready and go in first"
    app.say(f"{capital(words)}{next_words}")


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
        when=only(lambda day: _writes(day) and stands(day.desk.state)),
    ),
    Key(
        "u", "take_back", "The stock is back in its jar", "{taken} did not take it", means="undo",
        when=only(lambda day: _writes(day) and went(day.desk.state)),
    ),
    Key(
        "s", "class_card", "Class card", "amounts for each table, times, what can hurt: to print and to change",
        means="save",
    ),
    Key("g", "card", "What made this blue", "everything on one card", means="blue"),
    Key("p", "replay", "Play it back", "this day up to now", means="pause"),
    HERE._replace(action="here", words="Go on here", when=only(_other_window_closed)),
    IN_A_COPY._replace(action="copy", words="Go on in a copy", when=only(lambda day: not _writes(day))),
)  # fmt: skip


def others(day: SessionScreen) -> None:
    """Offer what reaches beyond the day."""
    known = {key.keys: key for key in BEYOND if key.when(day)}
    texts = {"left": stands(day.desk.state), "taken": went(day.desk.state)}
    rows = tuple((name, str(key.words), key.help.format(**texts)) for name, key in known.items())
    choose(day.app, "Beyond today", rows, lambda name: ACTS[known[name].action](day))


def ask_keep(day: SessionScreen) -> None:
    """Ask for a note, and keep the vat."""
    try:
        words = evening_acts.keep_words(day.desk)
    except OutOfRange as error:
        day.say(str(error))
        return

    def take(note: str) -> None:
        day.perform(lambda: evening_acts.keep_vat(day.desk, note))

    kept = f"Kept: {words}."
    read = some_words(f"Write where it stands, or what to mind. {kept}")
    ask(day.app, "Keep the vat: where does it stand?", read, lambda _: kept, take, "covered, in its pot")


def ask_tables(day: SessionScreen, app: Host) -> None:
    """Ask how many tables there are, and write the class card."""

    def take(tables: int) -> None:
        day.say(evening_acts.write_handout(day.desk, tables, app.folder), 20)

    says = "a page to print, and one to change"
    ask(app, "Class card: for how many tables?", evening_acts.read_tables, lambda _: says, take, "1")


def show_kept(day: SessionScreen) -> None:
    """Show what the kept vat held."""
    event = carried_from(day.desk.state)
    if event is None:
        return
    lines = kept_lines(event, day.desk.clock.now())

    def fill(width: int) -> Sequence[Row]:
        return [part for line in lines for part in wrapped(clean(line), width)]

    day.app.push_screen(ReadingWindow("The kept vat", fill))


ACTS: dict[str, Callable[[SessionScreen], None]] = {
    "shelf": lambda day: days.shelf(host_of(day), day.desk),
    "line": lambda day: host_of(day).routes.line(day),
    "keep": ask_keep,
    "top_up": lambda day: day.perform(lambda: evening_acts.top_up(day.desk)),
    "kept": show_kept,
    "jar": lambda day: ask_here(host_of(day), day.desk),
    "take_back": lambda day: day.perform(lambda: take_back(day.desk)),
    "class_card": lambda day: ask_tables(day, host_of(day)),
    "card": lambda day: days.show_card(host_of(day), day.desk.keeping.session),
    "replay": lambda day: days.play(host_of(day), day.desk.keeping.session),
    "here": lambda day: take_day(host_of(day), day.desk),
    "copy": lambda day: go_on_in_copy(host_of(day), day.desk),
}
