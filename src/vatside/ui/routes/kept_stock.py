"""Another vat from the stock that a day left in its jar: asked for, begun, and taken back."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from vatside.bench import open_day
from vatside.bench.desk import Desk, local
from vatside.days import kept_stock
from vatside.log.events.day import Undone
from vatside.log.fold import State
from vatside.log.words.vat import held_words
from vatside.plan.plan import Plan, StockKept
from vatside.storage.flaws import SessionError
from vatside.ui.base.keymap import Key
from vatside.ui.routes import day, days
from vatside.ui.text.rows import Row, Span, row, wrap
from vatside.ui.windows.ask import TroubleWindow
from vatside.units.show import clean

if TYPE_CHECKING:
    from vatside.log.waits import Moment
    from vatside.ui.base.host import Host

BEGIN, INTO = "begin", "into"
A_DAY = Key("c", "", "begin a day", "begin a day with it", means="carry on")
INTO_A_DAY = Key("a", "", "add it to the day", "add it to the day on the bench", means="add")
Then = Callable[["Host", Desk], None]
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


def ask(app: Host, plan: Plan, stock: StockKept, begin: Callable[[Then], None], old: Path | None) -> None:
    """Show the label of a stock, warn of its age, and ask whether a vat is to be begun from it, or made of it here."""
    now = local(app.clock.now()).isoformat(timespec="minutes")
    label, age = kept_stock.stock_label(plan, stock), kept_stock.age_words(plan, stock, now)
    ready = "It goes in before any new stock is made, and what it does not take stays in the jar of the new day."
    texts = (*label, *([age] if age else []), f"A new day begins with all of it at hand. {ready}")

    def fill(width: int) -> Sequence[Row]:
        return tuple(row(Span(line)) for text in texts for line in wrap(clean(f"{text[:1].upper()}{text[1:]}"), width))

    def answered(choice: str | None) -> None:
        if choice:
            begin(take_into if choice == INTO else begin_from)

    on_bench = app.desk
    fits = on_bench is not None and on_bench.keeping.path != old and _takes(on_bench, plan)
    into = [(INTO_A_DAY._replace(words=f"add it to “{clean(on_bench.plan.title)}”"), INTO)] if on_bench and fits else []
    choices = ((A_DAY, BEGIN), *into)
    app.push_screen(TroubleWindow("Another vat from this stock?", fill, choices), answered)


def _takes(desk: Desk, plan: Plan) -> bool:
    return desk.keeping.readonly is None and kept_stock.takes(desk.state, plan)


def ask_here(app: Host, desk: Desk) -> None:
    """Ask for the jar of the day on the bench."""
    stock = kept_stock.left(desk.state)
    if stock is not None:
        ask(app, desk.plan, stock, lambda then: then(app, desk), desk.keeping.path)


def ask_at(app: Host, jar: kept_stock.StandingStock) -> None:
    """Ask for the jar of a day of the list."""
    ask(app, jar.plan, jar.stock, lambda then: begin_at(app, jar.path, then), jar.path.resolve())


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
        days.say_on_top(app, f"“{old.plan.title}” does not know yet that its stock was taken: {trouble}")


def begin_from(app: Host, old: Desk) -> None:
    """Begin a day from the stock that another one left; both logs say so."""
    old.leave()
    now: Moment = app.clock.now()
    taken = kept_stock.take(old.state, now)
    if taken is None:
        app.opening.say("Nothing stands in that jar any more.")
        return
    new = open_day.new_day(app.folder, app.clock, days.titled(app, taken.plan))
    gone, came = kept_stock.events(old.state, taken, new.keeping.session.id, new.plan.title, now)
    title = old.plan.title
    old.log(gone)
    new.log(came)
    day.show(app, new)
    sentence = f"{held_words(taken.stock, new.plan)} from “{title}” stand ready and go in first"
    days.say_on_top(app, f"{sentence[:1].upper()}{sentence[1:]}. Say now what is to be dyed.")


def take_into(app: Host, old: Desk) -> None:
    """Let the day that is being planned make its vat from the stock that another one left; both logs say so."""
    on_bench, now = app.desk, app.clock.now()
    if on_bench is None:
        return
    on_bench.settle()
    taken = kept_stock.take(old.state, now)
    if taken is None or not _takes(on_bench, old.plan):
        app.opening.say("Nothing was taken: that jar, or this day, is no longer as it was.")
        return
    gone, came = kept_stock.events(old.state, taken, on_bench.keeping.session.id, on_bench.plan.title, now)
    old.log(gone)
    on_bench.log(came)
    day.show(app, on_bench)
    sentence = f"{held_words(taken.stock, on_bench.plan)} from “{old.plan.title}” stand ready and go in first"
    days.say_on_top(app, f"{sentence[:1].upper()}{sentence[1:]}; u, behind Escape, takes it out of the plan.")
