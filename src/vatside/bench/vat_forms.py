"""The forms of a live vat: a reading while it is being written down, with its stopwatch, and the end of the vat.

The end asks which acid, worked out from what, down to which pH.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from attrs import evolve

from vatside.forms.field import Draft, Field
from vatside.outlook.vat_end import BY_ACCOUNT, BY_SAMPLE, Choices
from vatside.plan.plan import FieldValue
from vatside.plan.sheet import Stage
from vatside.units import Amount, Kind
from vatside.vat.reading import PH_RANGE, Reading
from vatside.vat.reading_form import may_be_ph, reading_field, show, value, with_value
from vatside.vat.spent import Acid

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

    def __init__(
        self,
        last: Reading,
        begun: Reading | None = None,
        replaces: int = 0,
        *,
        of_stock: bool = False,
        cold: bool = False,
    ) -> None:
        super().__init__()
        self.of_stock = of_stock
        """It is of the stock in its jar, not of the vat."""
        self.cold = cold
        """It is of a vat that works at room temperature: a whole number may be its warmth, however low."""
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
            row = (
                evolve(reading_field("cloth"), path=SECOND, label="and shows")
                if path == SECOND
                else reading_field(path)
            )
            if path == "temperature" and self.of_stock:
                row = evolve(row, label="Stock at")
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
        if self.cold and typed.strip().isdigit():
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


ACIDS = {Acid.VINEGAR: "vinegar", Acid.CITRIC: "citric acid"}
MOST_TAKEN = 1000.0
"""mL or g that a sample can take: far more than its own volume of vinegar. Ours, no source."""
_PH = Field("", "", Stage.VAT, Kind.NUMBER, "", *PH_RANGE, decimal=True)
_ROWS = (
    Field("acid", "Acid", Stage.VAT, choices=tuple((name, name) for name in ACIDS.values())),
    Field("by", "Worked out from", Stage.VAT, choices=((BY_ACCOUNT, BY_ACCOUNT), (BY_SAMPLE, BY_SAMPLE)),
          help="a stirred sample knows what the account does not"),
    Field("took", "100 mL took", Stage.VAT, Kind.NUMBER, "", 0, MOST_TAKEN, decimal=True, optional=True,
          help="to bring it to the pH that step 3 names"),
    evolve(_PH, path="target", label="Aim at pH", help="8 is usual"),
    evolve(_PH, path="low", label="Let go from pH", help="what your local rules say; 6 is common"),
    evolve(_PH, path="high", label="up to pH", help="what your local rules say; 9 is common"),
)  # fmt: skip


class Ending(Draft):
    """The choices as they are typed."""

    def __init__(self) -> None:
        super().__init__()
        self.choices = Choices()
        self.portions = 0
        """Portions of acid that are in the vat: a sample that is told now was taken after them."""

    def fields(self) -> tuple[Field, ...]:
        """The rows; what a sample took is written in what the acid is measured in."""
        unit = "mL" if self.choices.acid is Acid.VINEGAR else "g"
        return tuple(evolve(row, label=f"{row.label}, {unit}") if row.path == "took" else row for row in _ROWS)

    def value(self, path: str) -> FieldValue:
        """What is chosen."""
        chosen = self.choices
        if path in ("acid", "by"):
            return ACIDS[chosen.acid] if path == "acid" else chosen.by
        number = chosen.took if path == "took" else getattr(chosen.aim, path)
        return None if number is None else Amount(number, "")

    def take(self, path: str, value: FieldValue) -> None:
        """Change one choice."""
        chosen = self.choices
        number: Any = value.value if isinstance(value, Amount) else None
        if path == "acid":
            acid = next(acid for acid, name in ACIDS.items() if name == value)
            # What a sample took of one acid says nothing of the other.
            self.choices = evolve(chosen, acid=acid, took=chosen.took if acid is chosen.acid else None)
        elif path == "by":
            self.choices = evolve(chosen, by=str(value))
        elif path == "took":
            by = chosen.by if number is None else BY_SAMPLE
            self.choices = evolve(chosen, took=number, by=by, portions=self.portions)
        else:
            self.choices = evolve(chosen, aim=evolve(chosen.aim, **{path: number}))
