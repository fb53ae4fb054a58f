"""Rows of words with a part to play, and the arithmetic of fitting them into columns."""

from __future__ import annotations

from collections.abc import Iterable

from attrs import frozen
from rich.cells import cell_len, set_cell_size

ROLES = (
    "faint", "strong", "head", "unit", "number", "held", "care", "danger", "good", "done", "said", "next", "here",
    "edge", "changed", "over", "bare", "ripe0", "ripe1", "ripe2", "ripe3", "ripe4", "key",
)  # fmt: skip
"""What a span of words can be; a theme gives each a look."""


@frozen
class Span:
    """A few words in one role."""

    text: str
    role: str = ""
    """One of `ROLES`, or empty for plain ink."""
    act: str = ""
    """What a click on it does: the name of a screen's action."""


@frozen
class Row:
    """One line of a region; rows of one key are chosen together."""

    spans: tuple[Span, ...] = ()
    key: str = ""
    """What choosing the row means; empty for a row that cannot be chosen."""

    @property
    def text(self) -> str:
        """The words alone."""
        return "".join(span.text for span in self.spans)


BLANK = Row()


def row(*spans: Span | str, key: str = "") -> Row:
    """Make a row of spans; a bare string is plain ink."""
    return Row(tuple(Span(span) if isinstance(span, str) else span for span in spans), key)


def cells(text: str) -> int:
    """Columns that a text takes."""
    return cell_len(text)


def clip(text: str, width: int) -> str:
    """Cut a text to a width, with an ellipsis where something is missing."""
    if width <= 0:
        return ""
    return text if cell_len(text) <= width else set_cell_size(text, width - 1).rstrip() + "…"


def left(text: str, width: int) -> str:
    """Cut or fill a text to exactly a width, words to the left."""
    return set_cell_size(clip(text, width), width) if width > 0 else ""


def numbered(name: str, width: int) -> str:
    """Cut a name to a width, and keep a number at its end: without it like pieces cannot be told apart."""
    words, blank, number = name.rpartition(" ")
    if cell_len(name) <= width or not blank or not number.isdigit() or cell_len(number) + 3 > width:
        return clip(name, width)
    return f"{clip(words, width - cell_len(number) - 1)} {number}"


def right(text: str, width: int) -> str:
    """Cut or fill a text to exactly a width, words to the right."""
    cut = clip(text, width)
    return " " * (width - cell_len(cut)) + cut


def wrap(text: str, width: int, first: int | None = None) -> tuple[str, ...]:
    """Break a text into lines at its spaces; a word longer than a line is cut, a number stays with its unit.

    `first` is the width of the first line, if that is another one.
    """
    lines: list[str] = []
    line = ""
    for word in _kept_together(text.split(), max(width, 1)):
        for part in _chopped(word, max(width, 1)):
            joined = f"{line} {part}" if line else part
            if cell_len(joined) <= (width if first is None or lines else first):
                line = joined
            else:
                lines.append(line)
                line = part
    return (*lines, line) if line else tuple(lines)


UNITS = frozenset((
    "g", "kg", "mg", "lb", "oz", "L", "mL", "tsp", "tbsp", "cup", "cups", "g/L", "mL/L", "mg/L", "°C", "°F", "%", "s",
    "min", "h", "d", "cm", "W", "kW", "mV", "ppm", "×",
))  # fmt: skip
"""What a number is not parted from at the end of a line."""
_MARKS = ".,;:)!?…"
"""What a unit can have behind it in a sentence."""


def _kept_together(words: list[str], width: int) -> list[str]:
    """Join each number with the rest of it and its unit (`1 1/2 tsp`), where a line has room for that."""
    kept: list[str] = []
    joins = False
    for word in words:
        goes_on = joins and (word.rstrip(_MARKS) in UNITS or _is_fraction(word))
        if goes_on and cell_len(kept[-1]) + 1 + cell_len(word) <= width:
            kept[-1] += f" {word}"
        else:
            kept.append(word)
        joins = word[-1].isdigit()
    return kept


def _is_fraction(word: str) -> bool:
    over, slash, under = word.partition("/")
    return bool(slash) and over.isdigit() and under.isdigit()


def _chopped(word: str, width: int) -> tuple[str, ...]:
    """Cut a word into pieces that fit a line."""
    pieces: list[str] = [""]
    for letter in word:
        if pieces[-1] and cell_len(pieces[-1] + letter) > width:
            pieces.append("")
        pieces[-1] += letter
    return tuple(pieces)


def spread(near: Iterable[Span], far: Iterable[Span], width: int, key: str = "") -> Row:
    """Put some spans at the left edge and some at the right; the left ones give way."""
    near, far = list(near), list(far)
    room = width - sum(cell_len(span.text) for span in far) - (1 if far else 0)
    kept: list[Span] = []
    for span in near:
        text = clip(span.text, room)
        kept.append(Span(text, span.role, span.act))
        room -= cell_len(text)
    gap = Span(" " * max(room + (1 if far else 0), 0))
    return Row((*kept, gap, *far), key)
