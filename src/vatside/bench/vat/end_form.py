"""The form of the end of a vat: which acid, worked out from what, down to which pH."""

from __future__ import annotations

from typing import Any

from attrs import evolve

from vatside.forms.field import Field
from vatside.forms.form_row import Draft
from vatside.outlook.vat_end import BY_ACCOUNT, BY_SAMPLE, Choices
from vatside.plan.paths import FieldValue
from vatside.plan.sheet import Stage
from vatside.units import Amount, Kind
from vatside.vat.reading import PH_RANGE
from vatside.vat.spent import Acid

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
