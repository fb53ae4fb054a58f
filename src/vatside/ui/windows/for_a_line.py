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
        found = acts.read_wait(text)
        if isinstance(found, Problem):
            return False, found.text
        return True, f"{found[1]}, {show_minutes(found[0])}"

    def answered(text: str | None) -> None:
        found = acts.read_wait(text or "")
        if not isinstance(found, Problem):
            minutes, name = found
            screen.perform(lambda: acts.own_wait(screen.desk, minutes, name))

    screen.ask("A wait of your own", means, answered)


def pause_the_day(screen: AsksLines) -> None:
    """Ask how long a break or a delay of everything is to be, and say with each key what it would move."""

    def means(text: str) -> tuple[bool, str]:
        found = read_break(text)
        if isinstance(found, Problem):
            return False, found.text
        return True, f"{show_minutes(found)}. {break_words(looked_at(screen.desk, found))}"

    def answered(text: str | None) -> None:
        found = read_break(text or "")
        if not isinstance(found, Problem):
            screen.perform(lambda: take_break(screen.desk, found))

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
        found = evening_acts.elsewhere(text, old)
        return (False, found.text) if isinstance(found, Problem) else (True, f"{found}: the day goes on there")

    def answered(text: str | None) -> None:
        found = evening_acts.elsewhere(text or "", old)
        if not isinstance(found, Problem):
            screen.perform(lambda: keeping.save_elsewhere(found))

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
        found = minutes_of(text)
        if isinstance(found, Problem):
            return False, found.text
        return True, f"{happening.sentence} Empty: no time went by that the waits do not know of."

    def answered(text: str | None) -> None:
        found = minutes_of(text or "")
        if isinstance(found, float) and found > 0 and not desk.keeping.readonly:
            desk.log(ClockCorrected(found * 60))

    app.push_screen(AskWindow("How long has it been?", means), answered)
