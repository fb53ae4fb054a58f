"""One field of a form: free text, or one of a few choices."""

from __future__ import annotations

from collections.abc import Callable

from rich.segment import Segment
from textual import events
from textual.css.styles import RenderStyles
from textual.dom import DOMNode
from textual.message import Message
from textual.strip import Strip
from textual.widgets import Input
from textual.widgets.input import Selection

from vatside.forms.fields import Field
from vatside.ui.base.keymap import AMOUNTS, WORDS
from vatside.ui.text.form_rows import cut_choice, takes_words
from vatside.ui.text.rows import cells
from vatside.units.show import clean

ASIDE = {"=": "working", "?": "help"}
"""Keys that no amount contains and that keep their meaning wherever no free words are typed."""

ADVICE = "j"
"""The key that puts right what a notice is about: no unit and no number has this letter."""

ONE_WORD = 1.0
"""Seconds between two letters of one word typed for a choice (our own choice: a slow hand types two a second)."""

MIN_WORD = 2
"""Letters from which on a choice is being spelled; a single one may be pressed for its own sake (our own choice)."""


class Entry(Input):
    """An input that knows its field; a choice turns with left and right or jumps to a letter.

    The name of a choice is taken as a whole: it is always selected from end to beginning, and shown from its beginning.
    """

    DEFAULT_CSS = """
    Entry { overflow: hidden hidden; }
    """

    class Aside(Message):
        """A key that is no part of what the field holds was pressed."""

        def __init__(self, what: str, path: str) -> None:
            super().__init__()
            self.what = what
            self.path = path

    class Typed(Message):
        """The dyer changed the text; the field is named as it was at that key."""

        def __init__(self, path: str, text: str) -> None:
            super().__init__()
            self.path = path
            self.text = text

    class Key(Message):
        """`+`, `-` or delete on the row that switches between lots."""

        def __init__(self, *, more: bool) -> None:
            super().__init__()
            self.more = more

    class Emptied(Message):
        """Someone tried to leave a choice without one, or with one that there is not."""

        def __init__(self, path: str) -> None:
            super().__init__()
            self.path = path

    field: Field | None = None

    def __init__(self, field: Field | None = None, text: str = "", hint: str = "") -> None:
        super().__init__(text, hint, compact=True, select_on_focus=True)
        self.cursor_blink = False
        self.field = field
        self._ahead = ""
        self._typed_at = 0.0
        self._writing = False

    @property
    def path(self) -> str:
        """Where in the plan the text belongs; empty for a spare entry."""
        return self.field.path if self.field else ""

    @property
    def typing(self) -> int:
        """Tell what a letter is here: part of an amount or a choice, or of a text."""
        return WORDS if self.field is None or takes_words(self.field) else AMOUNTS

    @property
    def content_width(self) -> int:
        """Columns of the text; never below the widget's own, so that typing does not lay the screen out anew."""
        return max(super().content_width, self.size.width)

    def give(self, field: Field, text: str, hint: str) -> None:
        """Turn to a field and its text, telling nobody; a text that is being typed stays as it is."""
        same = self.has_focus and self.path == field.path
        self.field = field
        if not same or (field.choices and text != self.value):
            self._ahead = ""
            self.write(text)
        if self.placeholder != hint:
            self.placeholder = hint

    def write(self, text: str) -> None:
        """Replace the text, telling nobody."""
        self._writing = True
        if self.value != text:
            with self.prevent(Input.Changed):
                self.value = text
        self._writing = False

    @classmethod
    def _get_component_classes(cls) -> frozenset[str]:  # type: ignore[override]
        """Give none: cursor, selection and hint of every field would be looked up at each change of focus.

        That was a quarter of what a key in a form costs.
        """
        return frozenset()

    def get_component_styles(self, *names: str) -> RenderStyles:
        """Look up the rules of cursor, selection and hint when they are painted."""
        for name in names:
            if name not in self._component_styles:
                part = DOMNode(classes=name)
                part._attach(self)
                self.app.stylesheet.apply(part)
                self._component_styles[name] = part.styles
        return super().get_component_styles(*names)

    def notify_style_update(self) -> None:
        """Forget the styles of its parts, so that they are looked up again once the field's own style has changed."""
        self._component_styles.clear()
        super().notify_style_update()

    def on_blur(self) -> None:
        """Show a long text from its beginning again."""
        self.cursor_position = 0

    def render_line(self, y: int) -> Strip:
        """Print a choice, and a long text that is not being typed, from its beginning, cut with an ellipsis."""
        width = self.size.width
        long = cells(self.value) > width and not self.has_focus
        if y or not self.value or not (self._names or long):
            return super().render_line(y)
        text = cut_choice(self.value, self._names, width)
        style = self.get_component_rich_style("input--selection") if self.has_focus else None
        gap = Segment(" " * (width - cells(text)))
        return Strip([Segment(text, style), gap]).apply_style(self.rich_style)

    def validate_selection(self, selection: Selection) -> Selection:
        """Take a choice as a whole, its beginning in view."""
        return Selection(len(self.value), 0) if self._names else super().validate_selection(selection)

    def replace(self, text: str, start: int, end: int) -> None:
        """Let a text in; a choice only goes to another one, however it is deleted or pasted over."""
        names = self._names
        if not names:
            super().replace(text, start, end)
            return
        name = text.strip()
        chosen = name if name in names else _match(names, name, self.value) if name else ""
        if chosen in names:
            self._pick(chosen)
        else:
            self.post_message(self.Emptied(self.path))

    def validate_value(self, value: str) -> str:
        """Let no control character in, wherever it was pasted from."""
        return clean(value)

    def watch_value(self, value: str) -> None:
        """Say what was typed; a text can only be typed into the field that has the keys."""
        if self.has_focus and not self._writing and self.field is not None:
            self.post_message(self.Typed(self.path, value))

    def action_cursor_left(self, select: bool = False) -> None:
        """Turn to the choice before, or move the cursor."""
        if not self._turn(-1):
            super().action_cursor_left(select)

    def action_cursor_right(self, select: bool = False) -> None:
        """Turn to the choice after, or move the cursor."""
        if not self._turn(1):
            super().action_cursor_right(select)

    def action_delete_left(self) -> None:
        """Forget the letters typed for a choice, or delete."""
        ahead, self._ahead = self._ahead, ""
        if not ahead:
            super().action_delete_left()

    def action_delete_right(self) -> None:
        """Take the lot out, or delete."""
        if self.path.startswith("@"):
            self.post_message(self.Key(more=False))
        else:
            super().action_delete_right()

    @property
    def _names(self) -> tuple[str, ...]:
        return tuple(name for _, name in self.field.choices) if self.field else ()

    @property
    def is_half_typed(self) -> bool:
        """Tell whether the next letter would go into a text that is being typed."""
        whole = abs(self.selection.end - self.selection.start) == len(self.value)
        return not self._names and bool(self.value) and not whole

    def _turn(self, by: int) -> bool:
        names = self._names
        if not names:
            return False
        at = names.index(self.value) if self.value in names else 0
        self._pick(names[(at + by) % len(names)])
        return True

    def _pick(self, name: str) -> None:
        self.value = name
        self.action_select_all()

    def check_consume_key(self, key: str, character: str | None) -> bool:
        """Take every letter but the keys that the screen wants for itself in all of its fields."""
        kept = [item.keys for item in getattr(self.screen, "KEYS", ()) if item.priority]
        return key not in kept and super().check_consume_key(key, character)

    @property
    def _gives_space_away(self) -> bool:
        """Tell whether a space is no letter here but a key of the screen's."""
        wanted: Callable[[Entry], bool] | None = getattr(self.screen, "wants_space", None)
        return wanted is not None and wanted(self)

    def _screen_has(self, key: str) -> bool:
        return any(item.keys == key for item in getattr(self.screen, "KEYS", ()))

    @property
    def _gives_advice_away(self) -> bool:
        """Tell whether the key that puts right is no letter here: no amount has it, and few names begin with it."""
        if self.field is None or takes_words(self.field) or not self._screen_has(ADVICE):
            return False
        return not _match(self._names, ADVICE, self.value)

    def on_key(self, event: events.Key) -> None:
        """Let a letter choose, and keep the keys that no amount contains."""
        if self.field is None or not event.is_printable or event.character is None:
            return
        if event.character in ASIDE and not takes_words(self.field):
            self.post_message(self.Aside(ASIDE[event.character], self.path))
        elif event.character == ADVICE and self._gives_advice_away:
            self.post_message(self.Aside("advice", self.path))
        elif event.character == " " and self._gives_space_away:
            self.post_message(self.Aside("space", self.path))
        elif self._names:
            self._letter(event.character, event.time)
        else:
            return
        event.stop()
        event.prevent_default()

    def _letter(self, letter: str, at: float) -> None:
        """Go on with the word that is being typed; what fits no name on its heels is more of that word: 'wool yarn'."""
        if self.path.startswith("@") and letter in "+-":
            self.post_message(self.Key(more=letter == "+"))
            return
        on_its_heels, self._typed_at = at - self._typed_at < ONE_WORD, at
        longer = self._ahead + letter
        for ahead in (longer,) if on_its_heels and len(longer) > MIN_WORD else (longer, letter):
            name = _match(self._names, ahead, self.value)
            if name:
                self._ahead = ahead
                self._pick(name)
                return


def _match(names: tuple[str, ...], ahead: str, now: str) -> str:
    """Give the first name that begins with some letters, else one that has a word beginning so.

    One letter goes on from the name chosen now, so that pressing it again reaches each of them.
    """
    low = ahead.casefold()
    starts = [name for name in names if name.casefold().startswith(low)]
    inside = [name for name in names if any(word.startswith(low) for word in name.casefold().split())]
    matches = starts or inside or [""]
    at = matches.index(now) + 1 if len(low) == 1 and now in matches else 0
    return matches[at % len(matches)]
