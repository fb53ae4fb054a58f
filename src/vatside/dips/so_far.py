"""What the day has done to the vat and the pieces: with it a sheet says what was done and what remains."""

from __future__ import annotations

from collections.abc import Mapping

from attrs import field, frozen

from vatside.chemistry.bath import Bath
from vatside.dips.uptake import Tank


@frozen
class PieceSoFar:
    """A piece that has been in the vat."""

    depth: float = 0.0
    """Indigotin on it after rinsing, by the account of the vat, %."""
    rinsed_g: float = 0.0
    """What the rinses will take off again, g."""
    dips: int = 0
    """Ended ones."""
    done: bool = False
    """It has had its last dip."""


@frozen
class CameOut:
    """The colour that a lot came out with, as the dyer recorded it."""

    depth: float
    """%, read off the ladder."""
    words: str
    """How it stands to the depth wanted."""


@frozen
class SoFar:
    """Everything that the log knows and the plan does not."""

    tank: Tank | None = None
    """The vat as its account has it now; None while it has none."""
    pieces: Mapping[str, PieceSoFar] = field(factory=dict)
    """By `LOT.NUMBER`; one that is not here has not been in yet."""
    colours: Mapping[str, CameOut] = field(factory=dict)
    """By lot id."""
    corrected: str = ""
    """The pH by the account of a vat into which more went than the plan has; empty for a vat as planned."""
    stands: float | None = None
    """Its pH in the vat: the one read since, or else the account's; None where `corrected` is empty."""
    spent: Bath | None = None
    """The vat by its account, as it is once air has spent it, at 25 degrees C; None while it is as planned."""
    at_least: Mapping[str, int] = field(factory=dict)
    """Dips in all that a piece has at least, whatever its depth takes, by `LOT.NUMBER`: it is in once more, or the
    dyer wants it."""
    gone_in: frozenset[str] = frozenset()
    """Figures whose amount was weighed, drawn or warmed in a step that is done: nothing changes them any more."""

    def of(self, lot: str, number: int) -> PieceSoFar:
        """Give one piece of a lot, counted from 1."""
        return self.pieces.get(f"{lot}.{number}", PieceSoFar())


NOTHING = SoFar()
"""Before the day begins."""
