"""A row of a form as a value: its label, text, hint and what is wrong with it."""

from __future__ import annotations

from attrs import frozen

from vatside.forms.fields import Field


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
