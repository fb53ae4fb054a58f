"""What a reading means: its observations, and every state of the catalogue weighed against them, one axis at a time."""

from __future__ import annotations

from math import exp

from attrs import evolve, frozen

from vatside.catalogue.findings import AXES, Remedy, Row, Sign, rows
from vatside.recipe.vat_needs import Setting, at_warmth, pH_at
from vatside.units import show_count, show_temperature
from vatside.units.show import trimmed
from vatside.vat.reading import LOOK_NAMES, PH_ERROR, PHBy, Reading, looks

STRIP_TRUST = 0.7
"""How much a pH by strip says beside one by meter: common practice, no source."""

WORDS = {
    "colour": "liquor {}",
    "clarity": "liquor {}",
    "surface": "{} on top",
    "strip": "strip {}",
    "smell": "smells {}",
    "feel": "feels {}",
    "bottom": "bottom: {}",
    "cloth": "cloth: {}",
}
SMELLS = {"strong sulphur": "smells strongly of sulphur", "caramel": "smells of caramel"} | {
    "rotten eggs": "smells of rotten eggs",
    "sour, stinging": "smells sour and stings",
}
UNITS = {
    "temperature": " °C",
    "seconds": " s",
    "redox": " mV",
    "pH": "",
    "pH_25": "",
    "tried": "",
    "holds": " %",
    "lime": " g/L",
}


@frozen
class Observations:
    """What one reading says."""

    looks: dict[str, tuple[str, ...]]
    numbers: dict[str, float]
    pH_by: PHBy  # noqa: N815  (chemistry's own symbol)


def observations(reading: Reading, setting: Setting) -> Observations:
    """Take a reading apart; its pH is turned into that at the vat's temperature and at 25 degrees C."""
    seen = {name: words for name in LOOK_NAMES if (words := looks(reading, name))}
    vat_C = reading.celsius if reading.celsius is not None else setting.aim
    sample_C = reading.sample_in(vat_C)
    measured = {
        "temperature": reading.celsius,
        "pH": None if reading.pH is None else pH_at(reading.pH, sample_C, vat_C, setting),
        "pH_25": None if reading.pH is None else pH_at(reading.pH, sample_C, 25.0, setting),
        "seconds": reading.seconds,
        "redox": reading.redox,
        "tried": float(setting.tried) if setting.tried else None,
        "holds": setting.holds,
        "lime": setting.lime,
    }
    numbers = {name: value for name, value in measured.items() if value is not None}
    return Observations(seen, numbers, reading.pH_by)


def speaks(sign: Sign, seen: Observations, setting: Setting) -> bool | None:
    """Tell whether a sign was there; None if nobody looked."""
    if sign.seen:
        words = seen.looks.get(sign.about)
        return None if words is None else any(word in sign.seen for word in words)
    value = seen.numbers.get(sign.about)
    return None if value is None else _number_speaks(sign, value, setting)


def _number_speaks(sign: Sign, value: float, setting: Setting) -> bool:
    low, high = window(sign.about, setting)
    if sign.in_window:
        return low - 0.005 <= value <= high + 0.005
    if sign.below is not None:
        return value < limit(sign, setting)
    if sign.above is not None:
        return value > sign.above
    if sign.below_window is not None:
        return value < low - sign.below_window
    return value > high + (sign.above_window or 0.0)


def limit(sign: Sign, setting: Setting) -> float:
    """Give the number below which a sign speaks; some fibres have their own."""
    own = (sign.below_for or {}).get(setting.group)
    return own if own is not None else sign.below or 0.0


def window(about: str, setting: Setting) -> tuple[float, float]:
    """Give the window of a number: pH of the fibre, or working temperatures in degrees C."""
    if about == "temperature":
        return setting.coolest, setting.warmest
    return setting.window.low, setting.window.high


def trust(sign: Sign, seen: Observations) -> float:
    """Give how much a sign counts: a pH by strip counts less than one by meter."""
    by_strip = sign.about in ("pH", "pH_25") and seen.pH_by is PHBy.STRIP
    return STRIP_TRUST if by_strip else 1.0


def in_words(about: str, seen: Observations) -> str:
    """Say what was seen or measured of one thing."""
    if about in seen.looks:
        words = " and ".join(seen.looks[about])
        return SMELLS.get(words) or WORDS[about].format(words)
    value = seen.numbers[about]
    if about == "pH":
        return f"pH {value:.1f} in the vat"
    if about == "pH_25":
        return f"pH {value:.1f} at 25 °C"
    if about == "temperature":
        return show_temperature(value)
    if about == "seconds":
        return f"strip turns in {value:.0f} s"
    if about == "tried":
        return f"{show_count(round(value), 'correction')} brought nothing"
    if about == "holds":
        return f"{value:.0f} % of its dye by the account"
    if about == "lime":
        return f"{value:.1f} g/L of lime at the bottom by the account"
    return f"{value:.0f} mV"


def expected(sign: Sign, setting: Setting) -> str:
    """Say what the sign would have been."""
    if sign.seen:
        return " or ".join(sign.seen)
    low, high = window(sign.about, setting)
    unit = UNITS[sign.about]
    if sign.in_window:
        return f"{trimmed(low, 1)} to {trimmed(high, 1)}{unit}"
    if sign.below is not None:
        return f"below {trimmed(limit(sign, setting), 1)}{unit}"
    if sign.above is not None:
        return f"above {trimmed(sign.above, 1)}{unit}"
    return f"below {trimmed(low, 1)}{unit}" if sign.below_window is not None else f"above {trimmed(high, 1)}{unit}"


LISTED = 0.3
"""A state less likely than this is not named; a judgement of our own."""
OUT = 0.5
"""From here on a state counts as what is wrong, and its axis as out."""
# Where one word ends and the next begins is a guess, no source.
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
    setting = _as_told(at_warmth(setting, reading.celsius), reading)
    seen = observations(reading, setting)
    weighed = (_weighed(key, row, seen, setting) for key, row in rows().items() if applies(row, setting))
    listed = [item for item in weighed if item.share >= LISTED and item.speaks_for and _may_be(rows()[item.id], seen)]
    return tuple(sorted(listed, key=_order))


def _as_told(setting: Setting, reading: Reading) -> Setting:
    """Let a strip be off by its error where lime holds the vat: it stands no higher than that."""
    if setting.unlimed is None or reading.pH_by is not PHBy.STRIP:
        return setting
    high = setting.window.high + PH_ERROR[PHBy.STRIP]
    return evolve(setting, window=evolve(setting.window, high=high))


def _may_be(row: Row, seen: Observations) -> bool:
    """Tell whether one of the looks was seen without which a state is not named; most states need none."""
    needed = [sign for sign in row.signs if sign.needed]
    return not needed or any(word in sign.seen for sign in needed for word in seen.looks.get(sign.about, ()))


def applies(row: Row, setting: Setting) -> bool:
    """Tell whether a row is about vats of this kind."""
    asleep = not setting.awake and setting.reducer in row.once_awake
    return not asleep and (not row.reducers or setting.reducer in row.reducers)


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
