"""What everything on the screen is printed of: spans, rows and columns, signs, bars."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

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


def wide_of(spans: Iterable[Span]) -> int:
    """Columns that some spans take beside each other."""
    return sum(cells(span.text) for span in spans)


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


def wrapped(text: str, width: int, role: str = "") -> list[Row]:
    """Break a text into rows of one role."""
    return [row(Span(line, role)) for line in wrap(text, width)]


def paragraph(text: str, width: int, role: str = "") -> list[Row]:
    """Break a text into rows of one role, a column free at each edge."""
    return [row(Span(f" {line}", role)) for line in wrap(text, width - 2)]


def hanging(head: Sequence[Span], text: str, width: int, role: str = "", key: str = "") -> list[Row]:
    """Print a text behind some words, its further lines below its first."""
    wide = wide_of(head)
    first, *rest = wrap(text, max(width - wide, 10)) or ("",)
    below = Span(" " * wide)
    return [Row((*head, Span(first, role)), key), *(Row((below, Span(line, role)), key) for line in rest)]


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


@frozen
class Signs:
    """One alphabet of signs; each takes one column."""

    done: str = "✓"
    here: str = "▸"
    later: str = "·"
    running: str = "◷"
    up: str = "↑"
    down: str = "↓"
    shades: str = "░▒▓█"
    """From the first dip to the last."""
    bare: str = "─"
    """What has not ripened yet."""
    cycle: str = "‹›"
    arrows: str = "←→"
    rule: str = "│"
    vat: str = "∪"
    """A vat that is kept."""
    read: str = "●"
    """What was read."""
    dash: str = "╌"
    """What is wanted."""
    strokes: str = ":."
    """Curves where there is no braille: up to now, and ahead."""
    half_blocks: bool = True
    """Curves may be drawn in braille, and large digits may use the upper and the lower half of a cell."""


UNICODE = Signs()
ASCII = Signs("x", ">", ".", "~", "^", "v", ".:=#", "-", "<>", "<>", "|", "u", read="o", dash="-", half_blocks=False)


def signs_for(encoding: str | None) -> Signs:
    """Choose the alphabet that a terminal's encoding can carry."""
    try:
        "✓▸◷░█‹←∪".encode(encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return ASCII
    return UNICODE


STEPS = 5
"""Tones between straw and indigo."""


def ripeness(share: float) -> str:
    """Name the tone of something that is so far along (0 to 1)."""
    return f"ripe{min(int(max(share, 0.0) * STEPS), STEPS - 1)}"


def shade(share: float, signs: Signs) -> str:
    """Give the shading of something that is so far along; only what is over is solid."""
    return signs.shades[min(int(max(share, 0.0) * (len(signs.shades) - 1)), len(signs.shades) - 1)]


def bar(share: float, width: int, signs: Signs) -> tuple[Span, ...]:
    """Draw a bar: what has elapsed in its tone and shading, then what is still to come."""
    share = min(max(share, 0.0), 1.0)
    ripe = min(int(share * width), width)
    if share > 0 and ripe == 0:
        ripe = min(1, width)
    return (Span(shade(share, signs) * ripe, ripeness(share)), Span(signs.bare * (width - ripe), "bare"))


def day_bar(share: float, width: int, signs: Signs) -> tuple[Span, ...]:
    """Draw the day as cloth that goes deeper from left to right as its steps are done."""
    ripe = round(min(max(share, 0.0), 1.0) * width)
    tones = [Span(shade(x / width, signs), ripeness(x / width)) for x in range(ripe)]
    return (*merged(tones), Span(signs.bare * (width - ripe), "edge"))


def merged(spans: list[Span]) -> tuple[Span, ...]:
    """Join neighbours of one role."""
    joined: list[Span] = []
    for span in spans:
        if joined and joined[-1].role == span.role:
            joined[-1] = Span(joined[-1].text + span.text, span.role)
        else:
            joined.append(span)
    return tuple(joined)


@frozen
class Parts:
    """A printed amount taken apart: `10` `.4` `L`, or `1` ` 1/2` `tsp`."""

    whole: str
    rest: str
    unit: str


def parts(text: str) -> Parts:
    """Take a printed amount apart: the number before the point or the fraction, the rest, the unit."""
    words = text.replace("less than ", "<").split(" ")
    counted = 0
    while counted < len(words) and words[counted].lstrip("<")[:1].isdigit():
        counted += 1
    if counted == 0:
        return Parts("", "", " ".join(words))
    number, unit = words[:counted], " ".join(words[counted:])
    if counted > 1:
        return Parts(number[0], " " + " ".join(number[1:]), unit)
    whole, point, decimals = number[0].partition(".")
    if "/" in whole:
        return Parts("", " " + whole, unit)
    return Parts(whole, point + decimals, unit)


def is_joined(text: str) -> bool:
    """Tell an amount of more than one unit, `4 tbsp 1/2 tsp`: it stands in no column."""
    return any(letter.isdigit() for letter in parts(text).unit)


@frozen
class Column:
    """Widths that hold every amount of a column but the joined ones."""

    whole: int
    rest: int
    unit: int

    @property
    def width(self) -> int:
        """Columns it takes, a space before the unit included."""
        return self.whole + self.rest + (1 + self.unit if self.unit else 0)

    def spans(self, text: str, role: str) -> tuple[Span, ...]:
        """Print one amount of the column: the points stand in line, the unit one space behind its number."""
        if not text:
            return (Span(" " * self.width),)
        if is_joined(text):
            return (Span(text, role),)
        amount = parts(text)
        number = right(amount.whole, self.whole) + amount.rest
        unit = f" {amount.unit}" if amount.unit else ""
        return (Span(number, role), Span(left(unit, self.width - cells(number)), "unit"))


def column(texts: Iterable[str]) -> Column:
    """Measure a column."""
    amounts = [parts(text) for text in texts if text and not is_joined(text)]
    return Column(
        max((cells(item.whole) for item in amounts), default=0),
        max((cells(item.rest) for item in amounts), default=0),
        max((cells(item.unit) for item in amounts), default=0),
    )
