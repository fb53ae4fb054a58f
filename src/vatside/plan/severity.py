"""How grave a thing is: one sign, one word, one ink and one key for it, wherever it is told."""

from __future__ import annotations

from collections.abc import Iterable

from attrs import frozen

from vatside.plan.sheet import Notice, Weight


@frozen
class Severity:
    """One row of the table."""

    weight: Weight
    sign: str
    """At most two columns; it says the same without colour."""
    word: str
    """Stands before the sentence; empty where the sign is enough."""
    ink: str
    """The role of its words: madder for what can hurt or be lost, and for nothing else."""
    key: str
    """Shows all that is said of it."""

    @property
    def opening(self) -> str:
        """What a sentence of this weight begins with."""
        word = f"{self.word}: " if self.word else ""
        return f"{self.sign} {word}" if self.sign else word


DANGER = Severity(Weight.DANGER, "!!", "Danger", "danger", "i")
CARE = Severity(Weight.CARE, "!", "", "care", "i")
NOTE = Severity(Weight.NOTE, "", "", "faint", "i")
TABLE = (DANGER, CARE, NOTE)
"""The gravest first."""


def severity(weight: Weight) -> Severity:
    """Give the row of a weight."""
    return next(row for row in TABLE if row.weight is weight)


def gravest(weights: Iterable[Weight]) -> Severity | None:
    """Give the gravest of some weights; None of none, or if all are only notes."""
    there = set(weights)
    return next((row for row in (DANGER, CARE) if row.weight in there), None)


def gravest_first(notices: Iterable[Notice]) -> tuple[Notice, ...]:
    """Order notices by weight."""
    return tuple(sorted(notices, key=lambda notice: TABLE.index(severity(notice.weight))))
