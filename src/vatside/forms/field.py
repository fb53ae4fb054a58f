"""The one engine of all forms: a row, reading and printing it, what fits it, and the draft of a form being written.

A form is a table of rows. What a single form alone can read (a day, names of pieces, a colour) it reads itself.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence

from attrs import frozen

from vatside.plan.hours import whole_hour_words
from vatside.plan.plan import FieldValue
from vatside.plan.sheet import Stage
from vatside.units import (
    BASE_UNITS,
    Amount,
    Kind,
    Problem,
    Spoons,
    fits,
    is_spoon,
    parse_amount,
    show_amount,
    show_value,
    to_base,
)
from vatside.units.show import clean

LONGEST_TEXT = 80
"""Characters of a name or title."""
QUOTED = 40
"""Characters of what was typed that a sentence quotes."""
MINUS = "-−–"
"""What a minus sign can look like."""


@frozen
class Field:
    """One editable row of a stage's form."""

    path: str
    label: str
    stage: Stage
    kind: Kind | None = None
    """What amount it takes; None for a choice, a text, a whole number or a clock time."""
    unit: str | None = None
    """The unit taken when only a number is typed."""
    low: float = 0.0
    high: float = float("inf")
    """The range allowed, in the base unit of `kind` (or the whole number itself)."""
    typed: tuple[float, float] | None = None
    """What of that range can be typed anew; what a file holds from before may lie beyond. None: all of it."""
    choices: tuple[tuple[str, str], ...] = ()
    """Ids and names of what can be chosen."""
    means: tuple[tuple[str, str], ...] = ()
    """Ids of choices and what to know of each."""
    whole: bool = False
    decimal: bool = False
    """A plain number that need not be whole."""
    names: bool = False
    """Names of pieces, parted by commas."""
    clock: bool = False
    """A local date and time."""
    optional: bool = False
    pin: bool = False
    """A figure: empty means that it follows the plan."""
    shown: bool = True
    """Stands in the form; else it is reached by its path or from the figure."""
    help: str = ""
    group: str = ""
    powder: str = ""
    """Whose spoons an amount can be given in: a role of the method or a material's id."""


def show(row: Field, value: FieldValue) -> str:
    """Print a value as it stands in its row; of a choice its id."""
    if isinstance(value, Amount):
        return show_amount(value)
    text = "" if value is None else str(value)
    return whole_hour_words(text) if row.clock else text


def in_words(row: Field, value: FieldValue) -> str:
    """Print the same with the name of a choice."""
    text = show(row, value)
    return dict(row.choices).get(text, text)


def read(
    row: Field, text: str, *, spoons: Spoons = Spoons.US, base: Callable[[Amount], float] | None = None
) -> FieldValue | Problem:
    """Read what a person typed into a row: a value that fits it, or what is wrong in words, the row's label first.

    `base` turns an amount into the base unit of its kind, where that takes more than its unit.
    """
    typed = text.strip()
    if not typed:
        return _empty(row)
    if row.choices:
        return _read_choice(row, typed)
    if row.whole:
        return _read_whole(row, typed)
    if row.kind is None:
        return _read_text(row, typed)
    return _read_amount(row, row.kind, typed, spoons, base)


def refused(row: Field, why: str) -> Problem:
    """Say what is wrong with a row."""
    return Problem(clean(f"{row.label}: {why}"))


def _empty(row: Field) -> FieldValue | Problem:
    if "" in dict(row.choices):
        return ""
    return None if row.optional else refused(row, f"nothing stands here; {_wanted(row)}")


def _read_choice(row: Field, typed: str) -> str | Problem:
    """Take a choice by its id or its name, or by what only one name begins with."""
    low = typed.casefold()
    for key, name in row.choices:
        if low in (key.casefold(), name.casefold()):
            return key
    starts = [key for key, name in row.choices if name.casefold().startswith(low)]
    if len(starts) == 1:
        return starts[0]
    which = f"could be {_names(row, starts)}" if starts else f"is none of {_names(row)}"
    return refused(row, f"{typed[:QUOTED]} {which}; write one of them")


def _names(row: Field, keys: Sequence[str] | None = None) -> str:
    """List the choices as a person reads them."""
    return ", ".join(name for key, name in row.choices if name and (keys is None or key in keys))


def _read_whole(row: Field, typed: str) -> int | Problem:
    if not re.fullmatch(r"\d{1,6}", typed, re.ASCII) or not row.low <= int(typed) <= row.high:
        return refused(row, f"{typed[:QUOTED]} cannot be; a whole number from {row.low:g} to {row.high:g}")
    return int(typed)


def _read_text(row: Field, typed: str) -> str | Problem:
    if not typed.isprintable():
        return refused(row, "it holds characters that cannot be shown; type it again without them")
    if len(typed) > LONGEST_TEXT:
        return refused(row, f"{len(typed)} letters are too many; at most {LONGEST_TEXT}")
    return typed


def _read_amount(
    row: Field, kind: Kind, typed: str, spoons: Spoons, base: Callable[[Amount], float] | None
) -> Amount | Problem:
    below = row.low < 0 and typed[0] in MINUS
    amount = parse_amount(typed[1:] if below else typed, kind, unit=row.unit, spoons=spoons)
    if isinstance(amount, Problem):
        return refused(row, amount.text)
    amount = Amount(-amount.value, amount.unit) if below else amount
    value = base(amount) if base else to_base(amount, kind, spoons)
    low, high = row.typed or (row.low, row.high)
    if (_is_counted(row) and not value.is_integer()) or not low <= value <= high:
        return refused(row, f"{show_amount(amount)} cannot be; {_wanted(row)}")
    return amount


def _is_counted(row: Field) -> bool:
    return row.kind is Kind.NUMBER and not row.decimal


def _wanted(row: Field) -> str:
    """Say what would be right."""
    if row.choices:
        return f"write one of {_names(row)}"
    if row.kind is None:
        return row.help or "write something"
    if row.typed:
        return f"a level spoon of powder weighs {_between(row.kind, *row.typed)}"
    return f"{'a whole number ' if _is_counted(row) else ''}{_between(row.kind, row.low, row.high)}"


def _between(kind: Kind, low: float, high: float) -> str:
    """Print a range, the ends of which are round numbers."""
    unit = BASE_UNITS[kind]
    return re.sub(r"\.0+(?!\d)", "", f"between {show_value(low, unit)} and {show_value(high, unit)}")


# What fits: files come from anywhere


def choice_problem(row: Field, value: FieldValue) -> str | None:
    """Say why a value is no choice of a row; None if it is one."""
    wrong = value not in [key for key, _ in row.choices]
    return f"{row.label}: {value!r} is not among the choices" if wrong else None


def whole_problem(row: Field, value: FieldValue) -> str | None:
    """Say why a value is no whole number that a row takes; None if it is one."""
    wrong = type(value) is not int or not row.low <= value <= row.high
    return f"{row.label}: must be a whole number from {row.low:g} to {row.high:g}" if wrong else None


def text_problem(row: Field, value: FieldValue, most: int = LONGEST_TEXT) -> str | None:
    """Say why a value is no text that a row takes; None if it is one."""
    if not isinstance(value, str):
        return f"{row.label}: must be text"
    if not value.isprintable() or len(value) > most:
        return f"{row.label}: must be printable and of {most} letters at most"
    return None


def amount_problem(
    row: Field, kind: Kind, value: FieldValue, *, spoons: Spoons = Spoons.US, low: float | None = None
) -> str | None:
    """Say why a value is no amount of a row of a kind; None if it is one. `low` stands in for the row's own."""
    if not isinstance(value, Amount) or not fits(value.unit, kind):
        return f"{row.label}: must be an amount of {kind.value}"
    if kind is Kind.POWDER and is_spoon(value):
        return None if value.value >= 0 else f"{row.label}: {show_amount(value)} cannot be"
    least = row.low if low is None else low
    if least <= to_base(value, kind, spoons) <= row.high:
        return None
    return f"{row.label}: {show_amount(value)} cannot be; {_between(kind, least, row.high)}"


@frozen
class Wrong:
    """What was typed into a field that cannot take it, and why."""

    text: str
    words: str


@frozen
class FormRow:
    """One row ready for the form."""

    field: Field
    text: str
    hint: str = ""
    """Shown while the field is empty: what the plan works out."""
    held: bool = False
    good: str = ""
    """What the figures rest on, where the text is something else."""

    @property
    def path(self) -> str:
        """Where in the plan it belongs."""
        return self.field.path


class Draft:
    """A form whose rows are read one by one; what is wrong keeps its text and says why."""

    def __init__(self) -> None:
        self.wrong: dict[str, Wrong] = {}

    def fields(self) -> Iterable[Field]:
        """The rows."""
        raise NotImplementedError

    def value(self, path: str) -> FieldValue:
        """What stands in a row."""
        raise NotImplementedError

    def take(self, path: str, value: FieldValue) -> None:
        """Take a value that fits its row; ValueError, in words, if it does not go with the other rows."""
        raise NotImplementedError

    def refuse(self, path: str) -> None:
        """Let go of what goes with a text that cannot be read."""

    def field(self, path: str) -> Field:
        """Give a row; KeyError if there is none."""
        for field in self.fields():
            if field.path == path:
                return field
        raise KeyError(path)

    def read(self, path: str, text: str) -> FieldValue | Problem:
        """Read what was typed into a row."""
        return read(self.field(path), text)

    def hint(self, path: str) -> str:  # noqa: ARG002
        """What stands in an empty row."""
        return ""

    def text(self, field: Field) -> str:
        """Print what stands in a row."""
        return clean(in_words(field, self.value(field.path)))

    def rows(self) -> tuple[FormRow, ...]:
        """The rows ready for the form."""
        return tuple(FormRow(field, self._typed(field), self.hint(field.path)) for field in self.fields())

    def _typed(self, field: Field) -> str:
        wrong = self.wrong.get(field.path)
        return wrong.text if wrong else self.text(field)

    def type(self, path: str, text: str) -> None:
        """Take what stands in a row, or keep the last good value and say why."""
        value = self.read(path, text)
        try:
            if not isinstance(value, Problem):
                self.wrong.pop(path, None)
                self.take(path, value)
                return
            why = value.text
        except ValueError as error:
            why = str(error)
        self.wrong[path] = Wrong(text, why)
        self.refuse(path)
