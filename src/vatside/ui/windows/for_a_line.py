"""What a line of text is asked for on every screen of a session, and how long it has been where no clock can tell."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from vatside.bench import acts, evening_acts
from vatside.bench.acts import USUAL_BREAK, break_words, looked_at, read_break, take_break
from vatside.bench.desk import Desk
from vatside.log.events.day import ClockCorrected, NoteWritten
from vatside.ui.windows.ask import AskWindow
from vatside.units import Amount, Kind, Problem, parse_amount, show_minutes, to_base

if TYPE_CHECKING:
    from textual.app import App

    from vatside.clocks.clock import ClockSetBack, Stepped


class AsksLines(Protocol):
    """The screen that asks."""

    @property
    def desk(self) -> Desk:
        """The session on it."""
        ...

    def perform(self, act: Callable[[], str], then: Callable[[], None] = ...) -> None:
        """Do something to the session, and go on with `then`."""
        ...

    def ask(
        self,
        title: str,
        means: Callable[[str], tuple[bool, str]],
        answered: Callable[[str | None], None],
        text: str = ...,
        typed: Callable[[str], None] | None = ...,
    ) -> None:
        """Ask for a line of text."""
        ...


def own_wait(screen: AsksLines) -> None:
    """Ask for a wait of the dyer's own."""

    def means(text: str) -> tuple[bool, str]:
        wait = acts.read_wait(text)
        if isinstance(wait, Problem):
            return False, wait.text
        return True, f"{wait[1]}, {show_minutes(wait[0])}"

    def answered(text: str | None) -> None:
        wait = acts.read_wait(text or "")
        if not isinstance(wait, Problem):
            minutes, name = wait
            screen.perform(lambda: acts.own_wait(screen.desk, minutes, name))

    screen.ask("A wait of your own", means, answered)


def pause_the_day(screen: AsksLines) -> None:
    """Ask how long a break or a delay of everything is to be, and say with each key what it would move."""

    def means(text: str) -> tuple[bool, str]:
        minutes = read_break(text)
        if isinstance(minutes, Problem):
            return False, minutes.text
        return True, f"{show_minutes(minutes)}. {break_words(looked_at(screen.desk, minutes))}"

    def answered(text: str | None) -> None:
        minutes = read_break(text or "")
        if not isinstance(minutes, Problem):
            screen.perform(lambda: take_break(screen.desk, minutes))

    screen.ask("A break, or a delay: for how long?", means, answered, USUAL_BREAK)


def note(screen: AsksLines) -> None:
    """Ask for words for the log; what is being typed is on the disk as a draft."""

    def means(text: str) -> tuple[bool, str]:
        return bool(text.strip()), "goes into the log with the time"

    def typed(text: str) -> None:
        screen.desk.draft(NoteWritten(text.strip()) if text.strip() else None)

    def answered(text: str | None) -> None:
        screen.desk.draft(None)
        if text and text.strip():
            words = text.strip()
            screen.perform(lambda: acts.note(screen.desk, words))

    screen.ask("A note for the log", means, answered, typed=typed)


def save_elsewhere(screen: AsksLines) -> None:
    """Ask for another place for the session."""
    keeping = screen.desk.keeping
    old = keeping.path

    def means(text: str) -> tuple[bool, str]:
        path = evening_acts.elsewhere(text, old)
        return (False, path.text) if isinstance(path, Problem) else (True, f"{path}: the day goes on there")

    def answered(text: str | None) -> None:
        path = evening_acts.elsewhere(text or "", old)
        if not isinstance(path, Problem):
            screen.perform(lambda: keeping.save_elsewhere(path))

    screen.ask("Save elsewhere", means, answered, str(Path.home() / (old.name if old else "dye-day.json")))


def minutes_of(text: str) -> float | Problem:
    """Read how long it has been; nothing typed means no time at all."""
    if not text.strip():
        return 0.0
    amount = parse_amount(text, Kind.TIME, unit="min")
    return to_base(amount, Kind.TIME) if isinstance(amount, Amount) else amount


def ask_gap(app: App[None], desk: Desk, happening: ClockSetBack | Stepped) -> None:
    """Ask how long it has been, and put the waits forward by that."""

    def means(text: str) -> tuple[bool, str]:
        minutes = minutes_of(text)
        if isinstance(minutes, Problem):
            return False, minutes.text
        return True, f"{happening.sentence} Empty: no time went by that the waits do not know of."

    def answered(text: str | None) -> None:
        minutes = minutes_of(text or "")
        if isinstance(minutes, float) and minutes > 0 and not desk.keeping.readonly:
            desk.log(ClockCorrected(minutes * 60))

    app.push_screen(AskWindow("How long has it been?", means), answered)
