"""What is asked on every screen of a session: before an act that is held back, and for a line of text.

Held back are acts with cautions to read, with a tub of reducer to look into, and those that are refused.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, Protocol

from attrs import evolve
from textual.app import App, ComposeResult

from vatside.bench import acts, commands
from vatside.bench.acts import USUAL_BREAK, break_words, looked_at, read_break, take_break
from vatside.bench.desk import Desk, Held
from vatside.dayline.steps import Step
from vatside.log.events.day import ClockCorrected, DoneAllTheSame, NoteWritten, ReducerFound
from vatside.outlook.interlocks import Question, Unread
from vatside.plan.sheet import CARE, DANGER
from vatside.ui.base.keymap import Key
from vatside.ui.base.screens import Window
from vatside.ui.text.rows import BLANK, Row, Span, row, wrapped
from vatside.ui.widgets.lines import Lines
from vatside.ui.windows.ask import READ_ON, AskWindow, CautionWindow, ask, read_words, some_words
from vatside.units import Amount, Kind, Problem, parse_amount, show_minutes, to_base
from vatside.vat.interlocks import Block, TubState, reducer_tub

if TYPE_CHECKING:
    from vatside.clocks.clock import ClockSetBack, Stepped


class Asker(Protocol):
    """The screen that an act is done from."""

    @property
    def desk(self) -> Desk:
        """The session on it."""
        ...

    @property
    def app(self) -> App[object]:
        """Where windows are put on."""
        ...

    def perform(self, act: Callable[[], str], then: Callable[[], None] = ...) -> None:
        """Do something to the session, and go on with `then`."""
        ...

    def renew(self) -> None:
        """Show what stands there now."""
        ...


def ask_first(screen: Asker, held: Held, act: Callable[[], str], then: Callable[[], None]) -> None:
    """Ask what stands first in the way of an act; once that is answered, do it by the same way again.

    What is still open is asked next. A way that is left half-way leaves nothing behind.
    """
    first = held.asked[0]

    def again(*more: DoneAllTheSame, after: str = "") -> None:
        def answered() -> str:
            screen.desk.all_the_same += more
            return f"{act()} {after}".rstrip()

        try:
            screen.perform(answered, then)
        finally:
            screen.desk.all_the_same = ()

    if isinstance(first, Question):
        block = first.block
        insist(screen, first.text, block, lambda: again(first.answer, after=block.after))
    else:
        _read(screen, first, again)


def _read(screen: Asker, unread: Unread, again: Callable[..., None]) -> None:
    """Let cautions be read; the log says so, and so it does of a bad tub of reducer."""
    step, skipped = unread.step, screen.desk.skipped(unread.step)
    window = TubWindow(step, skipped) if unread.asks_tub else CautionWindow(step, skipped)

    def answered(read: bool | None) -> None:
        if isinstance(window, TubWindow) and window.tub is not None:
            _bad_tub(screen, unread, window.tub, again)
        elif read:
            screen.desk.record(commands.acknowledge(step))
            again()

    screen.app.push_screen(window, answered)


def _bad_tub(screen: Asker, unread: Unread, tub: TubState, again: Callable[..., None]) -> None:
    """Write down that the tub is bad, and refuse what is in it."""
    block = reducer_tub(tub)
    screen.desk.record(ReducerFound(tub.value))
    screen.renew()
    if block is not None:
        answer = DoneAllTheSame(unread.rule, unread.step.id, block.why)
        insist(screen, "Do not use it.", block, lambda: again(answer, after=block.after))


def insist(screen: Asker, text: str, block: Block, go: Callable[[], None]) -> None:
    """Refuse or doubt; what is done all the same goes on."""
    window = InsistWindow(text, block, "Refused" if block.final else "Is that so?")
    screen.app.push_screen(window, lambda yes: go() if yes else None)


def _tub_words(screen: Any) -> str:
    return READ_ON if screen.has_more else f"dry, cool; {read_words(screen)}"


class TubWindow(CautionWindow):
    """The cautions of a reducer, and the question how its tub is found."""

    KEYS = (
        CautionWindow.KEYS[0]._replace(words=_tub_words),
        Key("1 2", "found('DAMP') found('WARM')", "damp; warm", "it is damp or caked; it is warm, smoking or stinging"),
        CautionWindow.KEYS[1],
    )

    def __init__(self, step: Step, skipped: Sequence[Step] = ()) -> None:
        super().__init__(step, skipped)
        self.tub: TubState | None = None
        """How it was found, where it is bad."""

    def _rows(self, width: int) -> Sequence[Row]:
        head = row(Span("The tub of reducer: dry and cool?", "strong"))
        other = wrapped("If it is not: 1 damp or caked, 2 warm, smoking or stinging.", width, "care")
        return (head, *other, BLANK, *super()._rows(width))

    def action_found(self, state: str) -> None:
        """Close; the tub is bad, and what to do with it is said next."""
        self.tub = TubState[state]
        self.dismiss(False)


def _leave_words(screen: Any) -> str:
    return "not yet" if screen.guard.once else "leave it"


def _insist_words(screen: Any) -> str:
    if screen.guard.once:
        return "all the same"
    if screen.said:
        return "once more: it goes into the log, with this reason"
    return "it is done already" if screen.guard.final else "do it all the same"


class InsistWindow(Window[bool]):
    """A refusal or a doubt; what is done all the same, or was, is said so twice, or once where nothing is in danger."""

    KEYS = (
        Key("escape,enter,space", "leave", _leave_words, "nothing is done"),
        Key("y", "insist", _insist_words, "do it all the same; in danger, twice", means="yes"),
    )

    def __init__(self, text: str, guard: Block, title: str = "Refused") -> None:
        super().__init__()
        self.title_words = title
        self.look = "window" if guard.once else "window danger"
        self.text = text
        self.guard = guard
        self.said = 0

    def regions(self) -> ComposeResult:
        """The reason, what to do instead, and how to insist."""
        yield Lines(self._rows, id="caution")
        yield Lines(self._answers, id="answers", keys=False)

    def _rows(self, width: int) -> Sequence[Row]:
        return block_rows(self.text, self.guard, width)

    def _answers(self, width: int) -> Sequence[Row]:
        spans = self.key_rows(width)[0].spans
        sure = self.said and [evolve(span, role="danger") if span.act == "insist" else span for span in spans]
        return (Row(tuple(sure or spans)),)

    def action_insist(self) -> None:
        """Say that it is to be done, or was; the second time counts."""
        self.said += 1
        if self.said == 2 or self.guard.once:
            self.dismiss(True)
        self.query_one("#answers", Lines).refill()


def block_rows(text: str, guard: Block, width: int) -> tuple[Row, ...]:
    """Print a refusal with its reason and what to do in its place."""
    grave = CARE if guard.once else DANGER
    return (
        *wrapped(text, width, "strong"),
        BLANK,
        *wrapped(f"{grave.sign} {guard.why}", width, grave.ink),
        BLANK,
        *wrapped(f"Better: {guard.instead[:1].lower()}{guard.instead[1:]}", width, "care"),
        BLANK,
    )


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
    """Ask for words for the log; what is being typed is on the disk as a draft, and logged if the day is left."""
    desk = screen.desk

    def typed(text: str) -> None:
        words = text.strip()
        desk.draft(NoteWritten(words) if words else None)
        desk.put_down = partial(acts.note, desk, words) if words else None

    def answered(words: str | None) -> None:
        desk.put_down = None
        desk.draft(None)
        if words:
            screen.perform(lambda: acts.note(desk, words))

    means = "Write it here: it goes into the log with the time."
    screen.app.push_screen(AskWindow("A note for the log", some_words(means), lambda _: means, typed=typed), answered)


def save_elsewhere(screen: Asker) -> None:
    """Ask for another place for the session."""
    from vatside.bench.evening_acts import elsewhere  # late: it brings class card and kept vat along

    keeping = screen.desk.keeping
    old = keeping.path

    def take(path: Path) -> None:
        screen.perform(lambda: keeping.save_elsewhere(path))

    proposed = str(Path.home() / (old.name if old else "dye-day.json"))
    read = partial(elsewhere, old=old)
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
