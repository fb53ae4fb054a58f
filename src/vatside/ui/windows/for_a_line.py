"""What a line of text is asked for on every screen of a session, and how long it has been where no clock can tell."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from vatside.bench import acts, evening_acts
from vatside.bench.acts import USUAL_BREAK, break_words, looked_at, read_break, take_break
from vatside.bench.desk import Desk
from vatside.log.events.day import ClockCorrected, NoteWritten
from vatside.ui.windows.ask import AskWindow, ask, some_words
from vatside.ui.windows.questions import Asker
from vatside.units import Amount, Kind, Problem, parse_amount, show_minutes, to_base

if TYPE_CHECKING:
    from textual.app import App

    from vatside.clocks.clock import ClockSetBack, Stepped


def own_wait(screen: Asker) -> None:
    """Ask for a wait of the dyer's own."""

    def take(wait: tuple[float, str]) -> None:
        screen.perform(lambda: acts.own_wait(screen.desk, *wait))

    ask(screen.app, "A wait of your own", acts.read_wait, lambda wait: f"{wait[1]}, {show_minutes(wait[0])}", take)


def pause_the_day(screen: Asker) -> None:
    """Ask how long a break or a delay of everything is to be, and say with each key what it would move."""

    def says(minutes: float) -> str:
        return f"{show_minutes(minutes)}. {break_words(looked_at(screen.desk, minutes))}"

    def take(minutes: float) -> None:
        screen.perform(lambda: take_break(screen.desk, minutes))

    ask(screen.app, "A break, or a delay: for how long?", read_break, says, take, USUAL_BREAK)


def note(screen: Asker) -> None:
    """Ask for words for the log; what is being typed is on the disk as a draft."""

    def typed(text: str) -> None:
        screen.desk.draft(NoteWritten(text.strip()) if text.strip() else None)

    def answered(words: str | None) -> None:
        screen.desk.draft(None)
        if words:
            screen.perform(lambda: acts.note(screen.desk, words))

    means = "Write it here: it goes into the log with the time."
    screen.app.push_screen(AskWindow("A note for the log", some_words(means), lambda _: means, typed=typed), answered)


def save_elsewhere(screen: Asker) -> None:
    """Ask for another place for the session."""
    keeping = screen.desk.keeping
    old = keeping.path

    def take(path: Path) -> None:
        screen.perform(lambda: keeping.save_elsewhere(path))

    proposed = str(Path.home() / (old.name if old else "dye-day.json"))
    read = partial(evening_acts.elsewhere, old=old)
    ask(screen.app, "Save elsewhere", read, lambda path: f"{path}: the day goes on there", take, proposed)


def minutes_of(text: str) -> float | Problem:
    """Read how long it has been; nothing typed means no time at all."""
    if not text.strip():
        return 0.0
    amount = parse_amount(text, Kind.TIME, unit="min")
    return to_base(amount, Kind.TIME) if isinstance(amount, Amount) else amount


def ask_gap(app: App[None], desk: Desk, happening: ClockSetBack | Stepped) -> None:
    """Ask how long it has been, and put the waits forward by that."""

    def take(minutes: float) -> None:
        if minutes > 0 and not desk.keeping.readonly:
            desk.log(ClockCorrected(minutes * 60))

    means = f"{happening.sentence} Empty: no time went by that the waits do not know of."
    ask(app, "How long has it been?", minutes_of, lambda _: means, take)
