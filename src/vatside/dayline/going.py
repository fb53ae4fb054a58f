"""How far a day has come, as the day line asks it: what is done, what waits, where the pieces are."""

from __future__ import annotations

from collections.abc import Mapping

from attrs import evolve, field, frozen

from vatside.dips.entry_rule import VatWork
from vatside.dips.rotation import Standing


@frozen
class Waiting:
    """A wait that runs: minutes gone and minutes left, below zero for too long."""

    gone: float
    left: float


@frozen
class Going:
    """Minutes are counted from now. A day that has not begun has nothing of all this."""

    done: Mapping[str, float] = field(factory=dict)
    """Minutes since each step was done."""
    waits: Mapping[str, Waiting] = field(factory=dict)
    """By step."""
    standings: Mapping[str, Standing] = field(factory=dict)
    """By piece; a piece that is not here has not been in."""
    worked: VatWork = field(factory=VatWork)
    """What the vat has done since its rests, its minutes counted from now, so below zero."""
    absences: tuple[tuple[int, int, int], ...] = ()
    """(from, to, people) that are not there, as when everybody stops; minutes."""

    vat_over: bool = False
    """It was let go, is kept, or was seen to stay blue: nothing more goes in today."""

    @property
    def begun(self) -> bool:
        """Tell whether anything of the day was done; who only takes a break has not begun."""
        return bool(self.done or self.waits or self.standings)

    def later(self, minutes: int) -> Going:
        """The same for a day that begins so many minutes later, of which nothing was done."""
        left = ((max(a - minutes, 0), b - minutes, count) for a, b, count in self.absences if b > minutes)
        return evolve(self, absences=tuple(left))


NOT_BEGUN = Going()
