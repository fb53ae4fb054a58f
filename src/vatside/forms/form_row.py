"""A form that is being written: its rows with their texts and hints, what was typed, and what is wrong with it."""

from __future__ import annotations

from collections.abc import Iterable

from attrs import frozen

from vatside.forms.field import Field, in_words, read
from vatside.plan.paths import FieldValue
from vatside.units import Problem
from vatside.units.one_line import clean


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
