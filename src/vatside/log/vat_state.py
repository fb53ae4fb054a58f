"""What a session knows of its live vat, as frozen values."""

from __future__ import annotations

from collections.abc import Iterable

from attrs import field, frozen

from vatside.chemistry.bath import Bath
from vatside.log.events.vat import CorrectionMade, VatLetGo
from vatside.log.growing import Grown
from vatside.log.moment import Moment
from vatside.log.waits import Wait
from vatside.vat.account import Account
from vatside.vat.aged_account import Keeping
from vatside.vat.reading import Reading


@frozen
class TakenReading:
    """A reading and when it was taken."""

    at: Moment
    reading: Reading


@frozen
class Clocked:
    """What it takes to follow the vat by the clock."""

    at: Moment
    """When the account stood so."""
    per_minute: float = 0.0
    """At which the vat cools by its own readings [Newton]; 0 while none tell."""
    error: float = 0.0
    """Share by which that may be off."""
    undisturbed: int = 0
    """Readings before the last thing that warmed or cooled it: two after them tell how fast it cools."""
    lid: bool = False
    """It was covered, to be kept."""
    colder: float = 0.0
    """K by which it may be colder than its account says: since its temperature was read, time has gone by."""
    warmer: float = 0.0
    """K by which it may be warmer."""


@frozen
class Stood:
    """The vat from a moment on, as long as nothing but the clock changes it."""

    account: Account
    """As it began."""
    known: Clocked
    how: Keeping


def changes_pH(event: CorrectionMade) -> bool:
    """Tell whether something went in that a pH read before knows nothing of."""
    return any(item is not None for item in (event.amount, event.stock, event.water))


@frozen
class MadeCorrection:
    """A correction, when it was made, and how many readings had been taken by then."""

    at: Moment
    event: CorrectionMade
    readings: int
    before: Account | None = None
    """The vat as it stood before; None where none was known."""


@frozen
class Tending:
    """The vat from its making to its end."""

    account: Account | None = None
    """What is believed to be in it; None before it is made and after it is let go."""
    readings: tuple[TakenReading, ...] = ()
    corrections: tuple[MadeCorrection, ...] = ()
    seen_spent: bool = False
    """The dyer saw it stay blue; anything but acid that goes in takes that back."""
    let_go: VatLetGo | None = None
    jar: Bath | None = None
    """What is left of the stock once the vat is let go; until then its account has it."""
    topped_up: bool = False
    """A vat carried on from another day has got this day's water, powders and stock."""
    clocked: Clocked | None = None
    """None without an account."""
    stood: Grown[Stood] = field(factory=Grown)
    """The vat as it stood before: each until the next begins, the last until `clocked`, or for one let go its end."""


def waits_for(tending: Tending, waits: Iterable[Wait]) -> tuple[Wait, ...]:
    """Give the open waits that were started with a correction: a reading answers what they wait for."""
    moments = {made.at for made in tending.corrections}
    return tuple(wait for wait in waits if wait.step is None and wait.started in moments)
