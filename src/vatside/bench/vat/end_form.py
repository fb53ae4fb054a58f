"""The form of the end of a vat: which acid, worked out from what, down to which pH."""

from __future__ import annotations

from attrs import evolve

from vatside.forms.fields import Field
from vatside.forms.form_row import FormRow, Wrong
from vatside.outlook.vat_end import BY_ACCOUNT, BY_SAMPLE, Choices
from vatside.plan.sheet import Stage
from vatside.units import Kind, Problem, parse_amount
from vatside.vat.spent import Acid

ACIDS = {Acid.VINEGAR: "vinegar", Acid.CITRIC: "citric acid"}


class Ending:
    """The choices as they are typed, and what follows from them."""

    def __init__(self) -> None:
        self.choices = Choices()
        self.wrong: dict[str, Wrong] = {}

    def rows(self) -> tuple[FormRow, ...]:
        """The rows of the form."""
        return tuple(
            FormRow(item, self.wrong[item.path].text if item.path in self.wrong else self._text(item.path))
            for item in _fields(self.choices)
        )

    def _text(self, path: str) -> str:
        chosen = self.choices
        if path == "took":
            return "" if chosen.took is None else f"{chosen.took:g}"
        return {
            "acid": ACIDS[chosen.acid],
            "by": chosen.by,
            "target": f"{chosen.aim.target:g}",
            "low": f"{chosen.aim.low:g}",
            "high": f"{chosen.aim.high:g}",
        }[path]

    def type(self, path: str, text: str, portions: int = 0) -> None:
        """Take what stands in a row, or keep the last good choice and say why.

        `portions` of acid are in the vat already: a sample told now was taken after them.
        """
        try:
            changed = _changed(self.choices, path, text)
            self.choices = evolve(changed, portions=portions) if path == "took" else changed
            self.wrong.pop(path, None)
        except ValueError as error:
            self.wrong[path] = Wrong(text, str(error))


def _fields(chosen: Choices) -> tuple[Field, ...]:
    at, unit = Stage.VAT, "mL" if chosen.acid is Acid.VINEGAR else "g"
    return (
        Field("acid", "Acid", at, choices=tuple((name, name) for name in ACIDS.values())),
        Field("by", "Worked out from", at, choices=((BY_ACCOUNT, BY_ACCOUNT), (BY_SAMPLE, BY_SAMPLE)),
              help="a stirred sample knows what the account does not"),
        Field("took", f"100 mL took, {unit}", at, Kind.NUMBER, optional=True, help="to bring it to the pH aimed at"),
        Field("target", "Aim at pH", at, Kind.NUMBER, help="8 is usual"),
        Field("low", "Let go from pH", at, Kind.NUMBER, help="what your local rules say; 6 is common"),
        Field("high", "up to pH", at, Kind.NUMBER, help="what your local rules say; 9 is common"),
    )  # fmt: skip


def _changed(chosen: Choices, path: str, text: str) -> Choices:
    """Give the choices with one row changed; ValueError, in words, for what cannot be."""
    if path == "acid":
        acid = next((acid for acid, name in ACIDS.items() if name == text), chosen.acid)
        # What a sample took of one acid says nothing of the other.
        return evolve(chosen, acid=acid, took=chosen.took if acid is chosen.acid else None)
    if path == "by":
        return evolve(chosen, by=text if text in (BY_ACCOUNT, BY_SAMPLE) else chosen.by)
    if path == "took" and not text.strip():
        return evolve(chosen, took=None)
    value = _number(text)
    if path != "took":
        return evolve(chosen, aim=evolve(chosen.aim, **{path: value}))
    return evolve(chosen, took=value, by=BY_SAMPLE)


def _number(text: str) -> float:
    found = parse_amount(text, Kind.NUMBER)
    if isinstance(found, Problem):
        raise ValueError(found.text)
    return found.value
