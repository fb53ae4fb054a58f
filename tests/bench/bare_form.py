"""A form in bare Textual: as many inputs and as many blocks of words as the app's, and nothing worked out."""

from __future__ import annotations

from itertools import count

from attrs import frozen
from textual import on
from textual.app import App, ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.widgets import Input, Static


@frozen
class Shape:
    """What the app's screen has, and what a key changes on it."""

    inputs: tuple[str, ...]
    """The texts of the fields."""
    blocks: tuple[int, ...]
    """Rows of each block of words outside the form."""
    changed: int
    """Blocks that a key writes anew."""


class BareForm(App[None], inherit_bindings=False):
    """Labels, inputs and notes side by side, figures beside them, blocks of words above and below."""

    ENABLE_COMMAND_PALETTE = False
    CSS = """
    Screen { layout: vertical; overflow: hidden; }
    #body { height: 1fr; }
    #form { width: 1fr; }
    #form Horizontal { height: auto; }
    #labels { width: 21; }
    #entries { width: 1fr; height: auto; }
    #notes { width: 5; }
    #figures { width: 40; }
    Input { height: 1; border: none; }
    """

    def __init__(self, shape: Shape) -> None:
        super().__init__()
        self.shape = shape
        self._turn = count()

    def compose(self) -> ComposeResult:
        """As many widgets of each kind as the app shows."""
        figures, *others = sorted(self.shape.blocks, reverse=True)
        rows = len(self.shape.inputs)
        yield Static(_words(1), classes="block")
        with Horizontal(id="body"):
            with VerticalScroll(id="form", can_focus=False), Horizontal():
                yield Static(_words(rows), id="labels")
                with Vertical(id="entries"):
                    for text in self.shape.inputs:
                        entry = Input(text, compact=True)
                        entry.cursor_blink = False
                        yield entry
                yield Static(_words(rows), id="notes")
            yield Static(_words(figures), id="figures", classes="block")
        for rows in others[1:]:
            yield Static(_words(rows), classes="block")

    def on_mount(self) -> None:
        """Take the keys."""
        self.animation_level = "none"
        self.query(Input).first().focus()

    @on(Input.Changed)
    def changed(self) -> None:
        """Write as many blocks anew as the app does, as cheaply as Textual can."""
        turn = next(self._turn)
        for block, rows in list(zip(self.query(".block").results(Static), self.shape.blocks, strict=False))[
            : self.shape.changed
        ]:
            block.update(_words(rows, turn), layout=False)


def _words(rows: int, turn: int = 0) -> str:
    return "\n".join(f"Water of row {row:2} {row * 7 + turn % 10:5} L" for row in range(max(rows, 1)))
