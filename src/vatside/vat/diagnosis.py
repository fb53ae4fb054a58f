"""What a reading means: every state of the catalogue weighed against it, one axis put right at a time."""

from __future__ import annotations

from math import exp

from attrs import frozen

from vatside.catalogue.findings import AXES, Remedy, Row, Sign, rows
from vatside.recipe.vat_needs import Setting
from vatside.vat.observations import Observations, expected, in_words, observations, speaks, trust
from vatside.vat.reading import Reading

LISTED = 0.3
"""A state less likely than this is not named; a judgement of our own."""
OUT = 0.5
"""From here on a state counts as what is wrong, and its axis as out."""
SURE_WORDS = ((0.9, "almost surely"), (0.7, "likely"), (OUT, "perhaps"), (0.0, "not ruled out"))


def sure_words(share: float) -> str:
    """Say in words how well the signs fit."""
    return next(word for least, word in SURE_WORDS if share >= least)


@frozen
class Finding:
    """A state that the vat may be in."""

    id: str
    """Its id in the catalogue."""
    name: str
    axis: str
    """What is put right: `temperature`, `pH`, `reducer`, `indigo`, `other` or `none`."""
    share: float
    """How well the signs fit, 0 to 1; states do not exclude each other, so shares need not sum to 1."""
    speaks_for: tuple[str, ...]
    speaks_against: tuple[str, ...]
    means: str
    source: str

    @property
    def sure(self) -> str:
        """How sure it is, in words."""
        return sure_words(self.share)

    @property
    def is_out(self) -> bool:
        """Tell whether something is to be put right."""
        return self.axis != "none" and self.share >= OUT


def judge(reading: Reading, setting: Setting) -> tuple[Finding, ...]:
    """Give the likely states of the vat, the one to put right first in front; empty for an empty reading.

    In the order temperature, pH, reducer, indigo, other: change one thing at a time. States that are only possible
    follow by how well they fit.
    """
    seen = observations(reading, setting)
    found = (_weighed(key, row, seen, setting) for key, row in rows().items() if applies(row, setting))
    listed = [item for item in found if item.share >= LISTED and item.speaks_for]
    return tuple(sorted(listed, key=_order))


def applies(row: Row, setting: Setting) -> bool:
    """Tell whether a row is about vats of this kind."""
    return not row.reducers or setting.reducer in row.reducers


def _order(finding: Finding) -> tuple[bool, int, float]:
    """What is out comes by axis, the best fit first; the rest by fit alone."""
    out = finding.share >= OUT
    return not out, AXES.index(finding.axis) if out else 0, -finding.share


def _weighed(key: str, row: Row, seen: Observations, setting: Setting) -> Finding:
    odds, pro, contra = row.prior, [], []
    measured = any(is_window(sign) and speaks(sign, seen, setting) for sign in row.signs)
    for sign in row.signs:
        there = speaks(sign, seen, setting)
        if there is None:
            continue
        # What is measured outside its window is put right, whatever the looks say: they cannot argue a number away.
        odds += _points(sign, there) * trust(sign, seen) if there or not measured else 0.0
        if there:
            pro.append(in_words(sign.about, seen))
        elif _points(sign, there):
            contra.append(f"{in_words(sign.about, seen)}, not {expected(sign, setting)}")
    share = 1 / (1 + exp(-odds))
    return Finding(key, row.name, row.axis, share, _once(pro), _once(contra), row.means, row.source)


def is_window(sign: Sign) -> bool:
    """Tell whether a sign is a number outside its window."""
    return sign.below_window is not None or sign.above_window is not None


def _points(sign: Sign, there: bool) -> float:
    if there:
        return sign.points
    return -(sign.points / 2 if sign.against is None else sign.against)


def _once(words: list[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(words))


def remedies(finding: Finding, setting: Setting) -> tuple[Remedy, ...]:
    """Give what can be done about a finding in a vat of this kind."""
    return tuple(remedy for remedy in rows()[finding.id].remedies if _suits(remedy, setting))


def _suits(remedy: Remedy, setting: Setting) -> bool:
    return (
        (not remedy.reducers or setting.reducer in remedy.reducers)
        and (not remedy.alkalis or setting.alkali in remedy.alkalis)
        and (not remedy.groups or setting.group in remedy.groups)
    )


QUESTIONS = {
    "temperature": "Measure the vat's temperature, a hand below the surface.",
    "pH": "Read the pH, and write down how warm the sample was.",
    "colour": "Take a glass of liquor from below the film: what colour is it?",
    "strip": "Dip a strip of scoured cloth for a minute, blot it: what colour does it leave with?",
    "seconds": "Count the seconds until the strip has turned blue.",
    "clarity": "Is the liquor clear, cloudy or milky?",
    "surface": "What floats on it: a coppery film, nothing, foam?",
    "cloth": "What does the dyed cloth show?",
    "smell": "What does it smell of, from an arm's length?",
    "bottom": "What does a stick bring up from the bottom?",
    "feel": "How does it feel between gloved fingers?",
    "redox": "Read the redox potential, if you have a meter for it.",
}
"""What to look at next, in the order in which it is asked for where nothing else decides."""

MOST_QUESTIONS = 3


def ask(reading: Reading, setting: Setting) -> tuple[str, ...]:
    """Say what to look at next: temperature and pH first, then what would tell the likely states apart."""
    seen = observations(reading, setting)
    open_ = [about for about in QUESTIONS if about not in seen.looks and about not in seen.numbers]
    likely = [finding.id for finding in judge(reading, setting)]
    tells = {about: _telling(about, likely) for about in open_}
    order = sorted(open_, key=lambda about: (about not in ("temperature", "pH"), -tells[about]))
    return tuple(QUESTIONS[about] for about in order[:MOST_QUESTIONS])


def _telling(about: str, likely: list[str]) -> float:
    """Sum the points that a look or a number has in the likely states; 0 where none is likely yet."""
    return sum(sign.points for key in likely for sign in rows()[key].signs if sign.about == about)
