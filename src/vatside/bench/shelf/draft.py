"""A form that is written down: its fields are read one by one, and noted as they are left."""

from __future__ import annotations

from collections.abc import Iterator

from vatside.forms.fields import Field
from vatside.forms.form_row import FormRow, Wrong
from vatside.plan.paths import FieldValue
from vatside.shelf.item_fields import read_detail
from vatside.units import Amount, Kind, Problem, show_amount
from vatside.units.one_line import clean


class Draft:
    """A form whose fields are read one by one; what is wrong keeps its text and says why."""

    title = ""

    def __init__(self) -> None:
        self.wrong: dict[str, Wrong] = {}
        self.typed: dict[str, FieldValue] = {}
        """What was typed and is not noted yet."""

    def fields(self) -> Iterator[Field]:
        """The rows."""
        raise NotImplementedError

    def value(self, path: str) -> FieldValue:
        """What stands in a row."""
        raise NotImplementedError

    def read(self, path: str, text: str) -> FieldValue | Problem:
        """Read what was typed into a row."""
        return read_detail(path, text)

    def hint(self, path: str) -> str:  # noqa: ARG002
        """What stands in an empty row."""
        return ""

    def rows(self) -> tuple[FormRow, ...]:
        """The rows ready for the form."""
        return tuple(self._row(field) for field in self.fields())

    def _row(self, field: Field) -> FormRow:
        if field.path in self.wrong:
            return FormRow(field, self.wrong[field.path].text, self.hint(field.path))
        value = self.typed[field.path] if field.path in self.typed else self.value(field.path)
        return FormRow(field, self.text(field, value), self.hint(field.path))

    def text(self, field: Field, value: FieldValue) -> str:
        """Print what stands in a row."""
        return _text(field, value)

    def type(self, path: str, text: str) -> None:
        """Take what stands in a row."""
        found = self.read(path, text)
        if isinstance(found, Problem):
            self.wrong[path] = Wrong(text, found.text)
            self.typed.pop(path, None)  # the 52 of 523 was never meant
            return
        self.wrong.pop(path, None)
        self.typed[path] = found
        self.follow(path, found)

    def follow(self, path: str, value: FieldValue) -> None:
        """Let other rows follow from what was typed."""

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


def _text(field: Field, value: FieldValue) -> str:
    if isinstance(value, Amount):
        return _money(value.value) if field.kind is Kind.NUMBER else show_amount(value)
    text = "" if value is None else str(value)
    return clean(dict(field.choices).get(text, text))


def _money(value: float) -> str:
    """Two decimals, or as many more as there are."""
    return f"{value:.2f}" if round(value, 2) == value else f"{value:g}"
