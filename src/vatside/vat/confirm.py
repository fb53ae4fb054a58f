"""A pH that much hangs on is read once more before anything goes in."""

from __future__ import annotations

from vatside.catalogue.findings import CONFIRM
from vatside.catalogue.values import Fact
from vatside.chemistry.errors import CannotReach, OutOfRange
from vatside.vat.account import Account
from vatside.vat.brought import holds_by_soda
from vatside.vat.correction import Correction, Vat
from vatside.vat.diagnosis import Finding
from vatside.vat.dosing import MUCH_THINNED, thinning
from vatside.vat.reading import PHBy
from vatside.vat.trust import compare

TEXT = "Read the pH once more before anything goes in"
HOW = {
    PHBy.METER: "Cool a small sample in a closed jar to about 25 °C. Try the meter in fresh buffer of pH 10 and rinse "
    "it; write down how warm the sample is. A strip beside it shows a slip.",
    PHBy.STRIP: "Cool a small sample in a closed jar. Blot a clear drop on a second, fresh strip and look at its back; "
    "a meter tried in fresh buffer is better.",
}
"""Common practice, no source."""
COOLING = Fact(10, "practice", low=5, high=15)
"""Minutes until a jar of hot liquor stands near room temperature in cold water: common practice, no source."""


def confirmation(finding: Finding, vat: Vat, read: Account) -> tuple[Correction, ...]:
    """Give what comes before any other way to put a pH right: nothing, or reading it once more.

    `read` is the account with the pH read taken as true. Asked for where the account says otherwise, or where putting
    it right would cost more than half of the vat; not where it was read twice already.
    """
    if vat.confirmed or vat.reading.pH is None or finding.axis != "pH":
        return ()
    why = _disagrees(vat) or _costs_much(vat, read)
    if not why:
        return ()
    how = HOW[vat.reading.pH_by]
    return (Correction("", CONFIRM, CONFIRM, TEXT, COOLING, "pH sample cooling", "practice", how=how, beside=why),)


def _disagrees(vat: Vat) -> str:
    try:
        found = compare(vat.account, vat.reading)
    except ValueError:
        return ""
    return "" if found is None or found.agrees else found.text


def _costs_much(vat: Vat, read: Account) -> str:
    if holds_by_soda(vat.setting):  # baking soda brings it down and costs no dye
        return ""
    words = "To bring that down would cost more than half of the vat: be sure of it first."
    try:
        found = thinning(read, vat.plan, vat.setting.window.high)
    except CannotReach:
        return words
    except OutOfRange:
        return ""
    return words if found is not None and found.strength < MUCH_THINNED else ""
