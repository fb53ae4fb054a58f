"""Small windows that ask for one thing: a choice, what to do about trouble, a caution, a line of text."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, TypeVar

from textual import events, on
from textual.app import App, ComposeResult
from textual.widgets import Input

from vatside.dayline.steps import Step
from vatside.plan.sheet import CARE, DANGER
from vatside.ui.base.keymap import Key, Table, key_row, shown
from vatside.ui.base.screens import Window
from vatside.ui.text.rows import BLANK, Row, Span, cells, clip, hanging, left, row, wrap, wrapped
from vatside.ui.widgets.lines import Fill, Lines
from vatside.units import Problem
from vatside.units.show import clean

Other = tuple[str, str, str]
"""A key, what it does, and in more words, or what stands there."""


class ChooseWindow(Window[str]):
    """One of a few things, by its key or with the arrows."""

    KEYS = (
        Key("up down", "", "another", "another one"),
        Key("enter,space", "chosen", "this one", "take the one in hand"),
        Key("escape,b", "leave", "back", "close; nothing is done", means="back"),
    )
    ON_EDGE = True

    def __init__(self, title: str, others: Sequence[Other], *, values: bool = False) -> None:
        """`values` says that what stands behind each is its value, which stands on the same line."""
        super().__init__()
        self.title_words = title
        self.values = values
        self.others = tuple(others)

    def regions(self) -> ComposeResult:
        """The list."""
        lines = Lines(self._rows, id="caution")
        lines.key = self.others[0][0]
        yield lines

    def _rows(self, width: int) -> Sequence[Row]:
        return value_rows(self.others, width) if self.values else other_rows(self.others, width)

    def on_key(self, event: events.Key) -> None:
        """Take the one whose key was pressed."""
        if event.key in {key for key, _, _ in self.others}:
            event.stop()
            self.dismiss(event.key)

    def action_chosen(self) -> None:
        """Take the one in hand."""
        self.dismiss(self.query_one(Lines).key)


def other_rows(others: Sequence[Other], width: int) -> tuple[Row, ...]:
    """Print each with its key; the words below it give way where there is no room."""
    rows = []
    for key, name, words in others:
        rows.append(row(Span(f" {left(key, 3)}", "key"), Span(name, "strong"), key=key))
        rows += [row(Span(f"    {line}", "faint"), key=key) for line in wrap(words, width - 6)]
    return tuple(rows)


def value_rows(others: Sequence[Other], width: int) -> tuple[Row, ...]:
    """Print each with its key and its value on one line, the values in one column."""
    wide = min(max(cells(name) for _, name, _ in others), width // 2)
    return tuple(
        row(
            Span(f" {left(key, 3)}", "key"),
            Span(f"{left(name, wide)}  "),
            Span(clip(value, width - wide - 7), "number"),
            key=key,
        )
        for key, name, value in others
    )


def choose(
    app: App[Any], title: str, others: Sequence[Other], take: Callable[[str], None], *, values: bool = False
) -> None:
    """Let one of a few things be chosen; `take` is given its key."""
    app.push_screen(ChooseWindow(title, others, values=values), lambda key: take(key) if key else None)


Act = Callable[[], None]
Choice = tuple[Key, Act]
"""A key, and what is done then."""


class TroubleWindow(Window[Act]):
    """Hands back what was chosen; Enter or Escape closes it without doing anything."""

    KEYS = (Key("escape,enter,space", "leave", lambda screen: "only look" if screen.choices else "close", "close"),)

    def __init__(self, title: str, fill: Fill, choices: Sequence[Choice] = ()) -> None:
        super().__init__()
        self.title_words = title
        self.fill = fill
        self.choices = tuple(choices)

    def regions(self) -> ComposeResult:
        """The words, and the keys below."""
        yield Lines(lambda width: (*self.fill(width), BLANK), id="caution")
        yield Lines(self._keys, id="answers", keys=False)

    def _keys(self, width: int) -> Sequence[Row]:
        return (key_row(shown((*(key for key, _ in self.choices), *self.KEYS), self), width),)

    def on_key(self, event: events.Key) -> None:
        """Hand back what a key stands for."""
        chosen = next((act for key, act in self.choices if key.keys == event.key), None)
        if chosen is not None:
            event.stop()
            self.dismiss(chosen)


def tell_trouble(app: App[Any], title: str, fill: Fill, *choices: Choice) -> None:
    """Tell of a trouble, and do what is chosen once the window has closed."""
    app.push_screen(TroubleWindow(title, fill, choices), lambda act: act() if act else None)


READ_ON = "read on"
"""What Enter does to cautions of which there is more below: nobody has read what she has not seen."""


def read_words(screen: Any) -> str:
    """Say what Enter does to cautions."""
    return READ_ON if screen.has_more else "I have read this"


class CautionWindow(Window[bool]):
    """What can hurt in a step, before it is done; Enter shows the rest of it, then says that it was read."""

    KEYS: Table = (
        Key("enter", "have_read", read_words, "the rest of it; then: the cautions were read"),
        Key("escape", "leave", "not now", "close; nothing is done"),
    )
    look = "window danger"
    title_words = "Before this step"

    def __init__(self, step: Step, skipped: Sequence[Step] = ()) -> None:
        super().__init__()
        self.step = step
        self.skipped = skipped
        """Steps that stand before it and are not done."""

    def regions(self) -> ComposeResult:
        """The words, and the keys below."""
        yield Lines(self._rows, id="caution")
        yield Lines(self.key_rows, id="answers", keys=False)

    def on_mount(self) -> None:
        """Let the keys say what Enter does as the words go by."""
        lines, answers = self.query_one("#caution", Lines), self.query_one("#answers", Lines)
        self.watch(lines, "scroll_y", answers.refill, init=False)
        self.call_after_refresh(answers.refill)

    def on_resize(self) -> None:
        """Look again whether all of it is seen."""
        self.call_after_refresh(self.query_one("#answers", Lines).refill)

    @property
    def has_more(self) -> bool:
        """Tell whether some of the words are still below the edge."""
        lines = self.query_one("#caution", Lines)
        return lines.scroll_offset.y + lines.scrollable_content_region.height < len(lines.rows) - 1

    def _rows(self, width: int) -> Sequence[Row]:
        rows = wrapped(self.step.text, width, "strong")
        if self.skipped:
            words = f"{CARE.opening}Not done yet: {self.skipped[-1].text}"
            rows += [BLANK, *wrapped(words, width, "care")]
        for caution in self.step.cautions:
            rows += [BLANK, *wrapped(f"{DANGER.sign} {caution.title}", width, DANGER.ink)]
            for text in caution.lines:
                rows += hanging((Span("· ", "faint"),), text, width)
        return (*rows, BLANK)

    def action_have_read(self) -> None:
        """Close, saying that it was read; what is still below the edge comes first."""
        if self.has_more:
            self.query_one("#caution", Lines).scroll_page_down(animate=False)
        else:
            self.dismiss(True)


Answer = TypeVar("Answer")


class AskWindow(Window[Answer]):
    """Hands back what was read of a line of text; what it says, or what is wrong with it, stands below as one types."""

    KEYS = (Key("enter", "", "yes", "take what stands there"), Key("escape", "leave", "no", "close without an answer"))

    def __init__(
        self,
        title: str,
        read: Callable[[str], Answer | Problem],
        says: Callable[[Answer], str],
        text: str = "",
        typed: Callable[[str], None] | None = None,
    ) -> None:
        super().__init__()
        self.title_words = title
        self.read = read
        self.says = says
        self.typed = typed
        """Is told of every key."""
        self.text = text
        self.typed_ahead = ""
        self.refused = False
        """Enter was pressed, and what stands there could not be taken."""

    def regions(self) -> ComposeResult:
        """A field and a line of words."""
        entry = Input(self.typed_ahead or self.text, compact=True, id="answer")
        entry.select_on_focus = not self.typed_ahead
        entry.cursor_blink = False
        yield entry
        yield Lines(self._words, id="means", keys=False)

    def _words(self, width: int) -> Sequence[Row]:
        typed = self.query_one(Input).value
        answer = self.read(typed)
        wrong = isinstance(answer, Problem) and bool(typed.strip() or self.refused)  # what is not typed yet is no fault
        text = answer.text if isinstance(answer, Problem) else self.says(answer)
        said = clean(f"{CARE.opening}Not taken. {text}" if self.refused else text)
        return (*wrapped(said, width, CARE.ink if wrong else "faint"), *self.key_rows(width))

    def ahead(self, event: events.Key) -> None:
        """Take a key that was pressed before the field had the cursor."""
        entry = self.query_one(Input) if self.is_mounted else None
        if event.is_printable and event.character:
            self.typed_ahead += event.character
        elif event.key == "enter" and entry is not None and self.typed_ahead:
            entry.post_message(Input.Submitted(entry, entry.value))
        if entry is not None and self.typed_ahead:
            entry.select_on_focus = False
            entry.value = self.typed_ahead
            entry.cursor_position = len(entry.value)

    @on(Input.Changed)
    def _typed(self, event: Input.Changed) -> None:
        self.refused = False
        if self.typed is not None:
            self.typed(event.value)
        self.query_one(Lines).refill()

    @on(Input.Submitted)
    def _entered(self, event: Input.Submitted) -> None:
        answer = self.read(event.value)
        if not isinstance(answer, Problem):
            self.dismiss(answer)
        else:
            self.refused = True
            self.query_one(Lines).refill()


def ask(
    app: App[Any],
    title: str,
    read: Callable[[str], Answer | Problem],
    says: Callable[[Answer], str],
    take: Callable[[Answer], None],
    text: str = "",
) -> None:
    """Ask for a line of text that `read` reads and `says` explains; `take` is given what was read."""
    app.push_screen(AskWindow(title, read, says, text), lambda answer: None if answer is None else take(answer))


def some_words(wanted: str) -> Callable[[str], str | Problem]:
    """Give what reads free words; where there are none, it says what is wanted."""
    return lambda text: text.strip() or Problem(wanted)
