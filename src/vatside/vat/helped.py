"""Whether a correction helped, from the readings before and after it."""

from __future__ import annotations

from enum import StrEnum

from attrs import evolve, frozen

from vatside.catalogue.findings import rows
from vatside.recipe.vat_needs import Setting, at_warmth
from vatside.units import show_temperature
from vatside.vat.diagnosis import OUT, Finding, is_window, judge, observations, speaks, sure_words, window
from vatside.vat.reading import CELSIUS_ERROR, PH_ERROR, Reading, parts

CLEARLY = 0.15
"""A state that fits better or worse by this much has clearly changed, a judgement of our own."""


class Verdict(StrEnum):
    """What a correction did."""

    YES = "it helped"
    PARTLY = "it helped in part"
    NO = "nothing changed"
    WORSE = "it got worse"
    UNKNOWN = "it cannot be told yet"


@frozen
class Helped:
    """The answer, in words."""

    verdict: Verdict
    text: str

    @property
    def counts_as_tried(self) -> bool:
        """Tell whether it brought nothing; two of these in a row point to a dead vat."""
        return self.verdict in (Verdict.NO, Verdict.WORSE)


def helped(finding: str, before: Reading, after: Reading, setting: Setting) -> Helped:
    """Say whether a correction for a finding (by id) helped, from the readings before and after it.

    While it is still out, the number that it is about decides, where both readings have it; else what both looked at.
    """
    was, now = _find(finding, judge(before, setting)), _find(finding, judge(after, setting))
    left = [item for item in judge(after, setting) if item.is_out]
    if after.is_empty or was is None:
        return Helped(Verdict.UNKNOWN, "Read the vat again: temperature, pH, colour and a strip.")
    share = now.share if now else 0.0
    if share < OUT and not _looked_again(was, before, after, setting):
        return Helped(
            Verdict.UNKNOWN, f"It cannot be told yet: read again what showed it ({', '.join(was.speaks_for)})."
        )
    if share < OUT and not left:
        return Helped(Verdict.YES, f"It helped: {was.name} no longer, and nothing else is out.")
    if share < OUT:
        return Helped(Verdict.PARTLY, f"It helped: {was.name} no longer. Next: {left[0].name} ({left[0].sure}).")
    return _by_number(was, share, before, after, setting) or _by_looks(was, share, before, after, setting)


def _looked_again(was: Finding, before: Reading, after: Reading, setting: Setting) -> bool:
    """Tell whether anything that spoke for a state was looked at again: what nobody looks for is not gone."""
    old, new = (observations(item, setting) for item in (before, after))
    spoke = (sign.about for sign in rows()[was.id].signs if speaks(sign, old, setting))
    return any(about in new.looks or about in new.numbers for about in spoke)


def _by_number(was: Finding, share: float, before: Reading, after: Reading, setting: Setting) -> Helped | None:
    """Tell by the number whose window the finding is about; None where a reading lacks it."""
    about = next((sign.about for sign in rows()[was.id].signs if is_window(sign)), "")
    old, new = (observations(item, setting).numbers.get(about) for item in (before, after))
    if old is None or new is None:
        return None
    was_at, now_at = (at_warmth(setting, item.celsius) for item in (before, after))
    nearer = _outside(about, old, was_at) - _outside(about, new, now_at)
    change = f"{_shown(about, new)} after {_shown(about, old)}"
    if abs(nearer) < _least(about, before, after):
        return Helped(Verdict.NO, f"Nothing changed that can be told: {change}, {sure_words(share)} still {was.name}.")
    if nearer > 0:
        return _better(was, share, f": {change}")
    return Helped(Verdict.WORSE, f"Worse: {change}, {sure_words(share)} still {was.name}.")


def _by_looks(was: Finding, share: float, before: Reading, after: Reading, setting: Setting) -> Helped:
    """Tell by how well the signs fit that both readings looked at: what only one saw is no change."""
    old, new = (_find(was.id, judge(item, setting)) for item in _alike(before, after))
    fell = (old.share if old else 0.0) - (new.share if new else 0.0)
    if fell > CLEARLY:
        return _better(was, share)
    if fell < -CLEARLY:
        return Helped(Verdict.WORSE, f"Worse: more clearly {was.name} than before.")
    return Helped(Verdict.NO, f"Nothing changed: still {was.name}.")


def _better(was: Finding, share: float, change: str = "") -> Helped:
    again = "wait longer, or once more"
    return Helped(Verdict.PARTLY, f"Better{change}, but {sure_words(share)} still {was.name}: {again}.")


def _outside(about: str, value: float, setting: Setting) -> float:
    """Give how far a number lies outside its window."""
    low, high = window(about, setting)
    return max(low - value, value - high, 0.0)


def _least(about: str, before: Reading, after: Reading) -> float:
    """Give the least change that both instruments can tell."""
    return max(PH_ERROR[before.pH_by], PH_ERROR[after.pH_by]) if about == "pH" else CELSIUS_ERROR


def _shown(about: str, value: float) -> str:
    return f"pH {value:.1f} in the vat" if about == "pH" else show_temperature(value)


def _alike(before: Reading, after: Reading) -> tuple[Reading, Reading]:
    """Give both readings with only what both of them have."""
    empty = Reading()
    lacking = {name for name in parts() if getattr(empty, name) in (getattr(before, name), getattr(after, name))}
    kept = {name: getattr(empty, name) for name in lacking - {"pH_by", "pH_temperature"}}
    return evolve(before, **kept), evolve(after, **kept)


def _find(key: str, findings: tuple[Finding, ...]) -> Finding | None:
    return next((item for item in findings if item.id == key), None)
