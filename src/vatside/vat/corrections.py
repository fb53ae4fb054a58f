"""What to do about a finding, for this vat: amounts in grams and spoons, how, a try-out, the wait, what forbids it."""

from __future__ import annotations

from attrs import evolve

from vatside.catalogue.findings import Remedy, rows
from vatside.chemistry.errors import CannotReach, Dangerous, OutOfRange
from vatside.units import show_temperature
from vatside.vat.account import Account, warmed
from vatside.vat.brought import its_alkali
from vatside.vat.confirm import confirmation
from vatside.vat.correction import NOTHING, Correction, Vat, nothing
from vatside.vat.diagnosis import Finding, remedies
from vatside.vat.interlocks import Block
from vatside.vat.remedies import DEEDS, with_room
from vatside.vat.trust import trust

__all__ = ["Correction", "Vat", "as_read", "corrections"]


def corrections(finding: Finding, vat: Vat) -> tuple[Correction, ...]:
    """Give what can be done about a finding, the first choice in front; never raises for an odd vat.

    A pH that was read is taken as true for the amounts; the account supplies what buffers it. A pH that is in doubt is
    read once more before anything else. What comes to nothing is left out, unless all the rest is forbidden.
    """
    read = as_read(vat)
    first = confirmation(finding, vat, read)
    vat = evolve(vat, account=read)
    ways = [_one(finding, remedy, vat) for remedy in remedies(finding, vat.setting)]
    found = [item for way in ways for item in (way, *its_alkali(way, vat))]
    useful = tuple(item for item in found if item.does != NOTHING)
    forbidden = all(isinstance(item.guard, Block) for item in useful)
    return (*first, *(found if forbidden else useful))


def as_read(vat: Vat) -> Account:
    """Give the account with the temperature and the pH that were read."""
    reading, account = vat.reading, vat.account
    try:
        if reading.celsius is not None:
            account = warmed(account, reading.celsius)
        if reading.pH is not None:
            at = reading.sample_celsius if reading.sample_celsius is not None else account.celsius
            account = trust(account, reading.pH, at)
    except ValueError:
        return account
    return account


def _one(finding: Finding, remedy: Remedy, vat: Vat) -> Correction:
    source = remedy.source or rows()[finding.id].source
    plain = Correction(
        finding.id, remedy.id, remedy.does, remedy.text, remedy.wait, remedy.wait_label, source,
        first=_warm_first(remedy, vat),
    )  # fmt: skip
    try:
        return with_room(DEEDS[remedy.does](plain, remedy, vat), vat)
    except (CannotReach, Dangerous, OutOfRange) as error:
        return nothing(plain, str(error))


def _warm_first(remedy: Remedy, vat: Vat) -> str:
    if vat.account.celsius >= remedy.warm:
        return ""
    return f"Warm the vat to {show_temperature(remedy.warm)} first: below that it does little."
