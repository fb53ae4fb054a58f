"""A reading while it is being written down: what stands in its rows, and the stopwatch of the strip test."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from vatside.forms.field import Field
from vatside.forms.form_row import Draft
from vatside.plan.paths import FieldValue
from vatside.vat.reading import Reading
from vatside.vat.reading_form import field, may_be_ph, show, value, with_value

WARMTH = "temperature"
"""The path of the first row, where a pH is easily written by mistake."""
SECOND = "cloth+"
"""The path of the row that takes one more look of the cloth."""
ROWS = (
    "temperature", "pH", "pH_temperature", "pH_by", "colour", "clarity", "surface", "strip", "seconds", "smell",
    "cloth", SECOND, "bottom", "feel", "redox",
)  # fmt: skip
"""Instruments, the glass, the strip, the nose, the cloth."""


class ReadingDraft(Draft):
    """What the dyer has written of a reading so far."""

    def __init__(self, last: Reading, begun: Reading | None = None, replaces: int = 0) -> None:
        super().__init__()
        self.last = last
        """The reading before it: its values are hinted at."""
        self.begun = begun or evolve(Reading(), pH_by=last.pH_by)
        """What it began with."""
        self.replaces = replaces
        """Number of the log's entry that it goes on with; 0 for a new reading."""
        self.warmth_as_typed = ""
        """What was last written for the vat's warmth, until its row is left."""
        self.reading = self.begun
        self.started: float | None = None
        """When the stopwatch was started, in seconds of the clock that is never set; None while it stands."""

    @property
    def is_new(self) -> bool:
        """Tell whether there is anything to write down."""
        return not self.reading.is_empty and self.reading != self.begun

    def fields(self) -> Iterator[Field]:
        """The rows in the order in which one looks; a look can be turned back to not having looked."""
        for path in ROWS:
            if path == SECOND and not self.reading.cloth:
                continue
            row = evolve(field("cloth"), path=SECOND, label="and shows") if path == SECOND else field(path)
            yield evolve(row, choices=(("", ""), *row.choices)) if row.choices and row.optional else row

    def value(self, path: str) -> FieldValue:
        """What was written."""
        if path == SECOND:
            return str(self.reading.cloth[1].value) if len(self.reading.cloth) > 1 else ""
        return value(self.reading, path)

    def take(self, path: str, value: FieldValue) -> None:
        """Write it down; what one row of the cloth takes stands beside that of the other."""
        if path not in ("cloth", SECOND):
            self.reading = with_value(self.reading, path, value)
            return
        chosen = with_value(Reading(), "cloth", value).cloth
        first, second = self.reading.cloth[:1], self.reading.cloth[1:]
        both = (*first, *chosen) if path == SECOND else (*chosen, *second)
        self.reading = evolve(self.reading, cloth=tuple(dict.fromkeys(both)))

    def type(self, path: str, text: str) -> None:
        """Take what stands in a row; how a warmth was written is remembered until its row is left."""
        self.warmth_as_typed = text if path == WARMTH else self.warmth_as_typed
        super().type(path, text)

    def leave(self, path: str) -> str:
        """Go on from a row: a pH written where the vat's warmth belongs is moved; say so, or nothing."""
        typed, self.warmth_as_typed = self.warmth_as_typed, ""
        if path != WARMTH or not may_be_ph(typed) or self.reading.pH is not None or WARMTH in self.wrong:
            return ""
        super().type(WARMTH, "")
        super().type("pH", typed)
        return f"{typed.strip()} was taken for the pH. If the vat is that cold, write {typed.strip()} C."

    def hint(self, path: str) -> str:
        """Say what the reading before had in a row."""
        text = "" if path == SECOND else show(self.last, path)
        if text and not (path == "pH_by" or self.last.is_empty):
            return f"was {text}"
        return "as the vat" if path == "pH_temperature" else ""

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
