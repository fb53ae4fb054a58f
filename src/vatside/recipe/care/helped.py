"""Did a correction help: the reading before it held against the one after its wait."""

from __future__ import annotations

from enum import StrEnum

from attrs import frozen

from vatside.recipe.care.judge import OUT, Finding, judge, sure_words
from vatside.recipe.care.reading import Reading
from vatside.recipe.care.setting import Setting

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
    """Say whether a correction for a finding (by id) helped, from the readings before and after it."""
    was, now = _find(finding, judge(before, setting)), _find(finding, judge(after, setting))
    left = [item for item in judge(after, setting) if item.is_out]
    if after.is_empty or was is None:
        return Helped(Verdict.UNKNOWN, "Read the vat again: temperature, pH, colour and a strip.")
    share = now.share if now else 0.0
    if share < OUT and not left:
        return Helped(Verdict.YES, f"It helped: {was.name} no longer, and nothing else is out.")
    if share < OUT:
        return Helped(Verdict.PARTLY, f"It helped: {was.name} no longer. Next: {left[0].name} ({left[0].sure}).")
    if share < was.share - CLEARLY:
        return Helped(Verdict.PARTLY, f"Better, but {sure_words(share)} still {was.name}: wait longer, or once more.")
    if share > was.share + CLEARLY:
        return Helped(Verdict.WORSE, f"Worse: more clearly {was.name} than before.")
    return Helped(Verdict.NO, f"Nothing changed: still {was.name}.")


def _find(key: str, findings: tuple[Finding, ...]) -> Finding | None:
    return next((item for item in findings if item.id == key), None)
