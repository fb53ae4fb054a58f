"""Amounts in columns: numbers aligned on the decimal point, units one step fainter."""

from __future__ import annotations

from collections.abc import Iterable

from attrs import frozen

from vatside.ui.text.rows import Span, cells, left, right


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
        found = parts(text)
        number = right(found.whole, self.whole) + found.rest
        unit = f" {found.unit}" if found.unit else ""
        return (Span(number, role), Span(left(unit, self.width - cells(number)), "unit"))


def column(texts: Iterable[str]) -> Column:
    """Measure a column."""
    found = [parts(text) for text in texts if text and not is_joined(text)]
    return Column(
        max((cells(item.whole) for item in found), default=0),
        max((cells(item.rest) for item in found), default=0),
        max((cells(item.unit) for item in found), default=0),
    )
