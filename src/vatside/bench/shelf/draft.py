"""A form of the shelf: its fields are read one by one, and noted as they are left."""

from __future__ import annotations

from vatside.forms.field import Field
from vatside.forms.form_row import Draft
from vatside.plan.paths import FieldValue
from vatside.units import Amount, Kind


class ShelfDraft(Draft):
    """A form of the shelf: what was typed is noted when it is left."""

    title = ""

    def __init__(self) -> None:
        super().__init__()
        self.typed: dict[str, FieldValue] = {}
        """What was typed and is not noted yet."""

    def noted(self, path: str) -> FieldValue:
        """What stands in a row as long as nothing is typed there."""
        raise NotImplementedError

    def value(self, path: str) -> FieldValue:
        """What stands in a row."""
        return self.typed[path] if path in self.typed else self.noted(path)

    def text(self, field: Field) -> str:
        """Print what stands in a row; money with two decimals, or as many more as there are."""
        value = self.value(field.path)
        if field.kind is Kind.NUMBER and isinstance(value, Amount) and round(value.value, 2) == value.value:
            return f"{value.value:.2f}"
        return super().text(field)

    def take(self, path: str, value: FieldValue) -> None:
        """Keep it until it is noted."""
        self.typed[path] = value

    def refuse(self, path: str) -> None:
        """The 52 of 523 was never meant."""
        self.typed.pop(path, None)

    def working(self) -> tuple[str, ...]:
        """What follows from the rows, in words."""
        return ()

    @property
    def question(self) -> str:
        """What is asked once before the form is left; empty if nothing is."""
        return ""

    def settle(self) -> str:
        """Note what was typed so far; say what went wrong."""
        raise NotImplementedError

    @property
    def backwards(self) -> str:
        """What leaving it does, in a word or two."""
        return "back"

    def finish(self) -> str:
        """Note everything, as the form is left; say how that went."""
        return self.settle()
