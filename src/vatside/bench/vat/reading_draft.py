"""A reading while it is being written down: what stands in its rows, and the stopwatch of the strip test."""

from __future__ import annotations

from enum import StrEnum

from attrs import evolve

from vatside.forms.fields import Field
from vatside.forms.form_row import FormRow, Wrong
from vatside.units import Problem
from vatside.vat.reading import Reading
from vatside.vat.reading_form import MANY, field, read, set_value, show

ROWS = (
    "temperature", "pH", "pH_temperature", "pH_by", "colour", "clarity", "surface", "strip", "seconds", "smell",
    "cloth", "cloth+", "bottom", "feel", "redox",
)  # fmt: skip
"""The rows in the order in which one looks: instruments, the glass, the strip, the nose, the cloth."""
SECOND = "+"
"""Ends the path of a row that takes one more choice of the same look."""


class Draft:
    """What the dyer has written of a reading so far."""

    def __init__(self, last: Reading, begun: Reading | None = None, replaces: int = 0) -> None:
        self.last = last
        """The reading before it: its values are hinted at."""
        self.begun = begun or evolve(Reading(), pH_by=last.pH_by)
        """What it began with."""
        self.replaces = replaces
        """Number of the log's entry that it goes on with; 0 for a new reading."""
        self.reading = self.begun
        self.wrong: dict[str, Wrong] = {}
        self.started: float | None = None
        """When the stopwatch was started, in seconds of the clock that is never set; None while it stands."""

    @property
    def is_new(self) -> bool:
        """Tell whether there is anything to write down."""
        return not self.reading.is_empty and self.reading != self.begun

    def type(self, path: str, text: str) -> None:
        """Take what stands in a row, or keep the last good value and say why."""
        value = read(path.removesuffix(SECOND), text)
        if isinstance(value, Problem):
            self.wrong[path] = Wrong(text, value.text)
            return
        self.wrong.pop(path, None)
        name = path.removesuffix(SECOND)
        if isinstance(value, tuple) or name in MANY:
            value = self._both(path, value[:1] if isinstance(value, tuple) else ())
        self.reading = set_value(self.reading, name, value)

    def _both(self, path: str, chosen: tuple[StrEnum, ...]) -> tuple[StrEnum, ...]:
        """Put the choice of one row of the cloth beside that of the other."""
        first, second = self.reading.cloth[:1], self.reading.cloth[1:]
        return tuple(dict.fromkeys((*first, *chosen) if path.endswith(SECOND) else (*chosen, *second)))

    def rows(self) -> tuple[FormRow, ...]:
        """The rows for the form."""
        return tuple(self._row(path) for path in ROWS if not path.endswith(SECOND) or self.reading.cloth)

    def _row(self, path: str) -> FormRow:
        wrong = self.wrong.get(path)
        text = wrong.text if wrong else self._text(path)
        return FormRow(_field(path), text, _hint(self.last, path))

    def _text(self, path: str) -> str:
        name = path.removesuffix(SECOND)
        if name not in MANY:
            return show(self.reading, name)
        chosen = [str(item.value) for item in getattr(self.reading, name)]
        at = 1 if path.endswith(SECOND) else 0
        return chosen[at] if len(chosen) > at else ""

    def watch(self, elapsed: float) -> float | None:
        """Give the seconds that the stopwatch shows; None while it stands."""
        return None if self.started is None else max(elapsed - self.started, 0.0)

    def press_watch(self, elapsed: float) -> None:
        """Start the stopwatch, or stop it and take its whole seconds."""
        if self.started is None:
            self.started = elapsed
            return
        seconds = max(elapsed - self.started, 0.0)
        self.started = None
        self.type("seconds", f"{min(round(seconds), 3600)} s")


def _field(path: str) -> Field:
    """Give a row of the form; a look can be turned back to not having looked."""
    name = path.removesuffix(SECOND)
    plain = field(name)
    if path.endswith(SECOND):
        plain = evolve(plain, path=path, label="and shows")
    if not plain.choices or not plain.optional:
        return plain
    return evolve(plain, choices=(("", ""), *plain.choices))


def _hint(last: Reading, path: str) -> str:
    """Say what the reading before had in a row."""
    name = path.removesuffix(SECOND)
    text = "" if path.endswith(SECOND) else show(last, name)
    if text and not (name == "pH_by" or last.is_empty):
        return f"was {text}"
    return "as the vat" if name == "pH_temperature" else ""
