"""Tap water as people know it: a word, a report's or a kettle's number with its unit, or the band of a test strip."""

from __future__ import annotations

import re

from vatside.chemistry.tap import ALKALINITY_OF_HARDNESS, CLASSES, UNKNOWN, Tap, TapWater, of_calcium_carbonate
from vatside.units import BASE_UNITS, Amount, Kind, Problem, parse_amount, to_base

HARDEST_MG = 2000.0
"""Harder than any tap, mg/L of calcium carbonate: ours."""

WORDS: dict[str, str] = {name: name for name in CLASSES} | {"rain": "pure", "distilled": "pure", "none": "pure"}
"""What may stand for a number, and the class that it means."""
NOT_KNOWN = ("", "unknown", "?")

_ALKALINITY_ENDS = (0.4, 1.0)
"""Alkalinity over hardness at the ends, where only hardness is known: a guess [Tap]."""
_STRIP = re.compile(r"(?<=\d)\s*(?:[-–]|\bto\b)\s*(?=\d)")

_Reading = tuple[float, ...]
"""One number, or the two ends of a strip's band, mg/L of calcium carbonate."""


def read_tap(hardness: str, alkalinity: str = "") -> Tap | Problem:
    """Read what is known of a water; total: any texts give a `Tap` or a Problem in words.

    `hardness` is a class (soft, medium, hard, very hard, pure), a number or a band such as `7-14 °dH`; empty: not
    known. A bare number is mg/L of calcium carbonate. Without `alkalinity` it stands at 0.8 of the hardness, 0.4 to 1.0
    [Tap].
    """
    word = " ".join(hardness.lower().split())
    if word in NOT_KNOWN and alkalinity.strip():
        return Problem("the alkalinity alone is not enough: give the hardness beside it, 0 behind a softener")
    if word in NOT_KNOWN:
        return UNKNOWN
    hard = _of_class(WORDS[word]) if word in WORDS else _reading(hardness, Kind.HARDNESS)
    if isinstance(hard, Problem):
        return hard
    if not alkalinity.strip():
        return Tap(CLASSES[WORDS[word]]) if word in WORDS else _by_hardness(hard)
    alkaline = _reading(alkalinity, Kind.ALKALINITY)
    return alkaline if isinstance(alkaline, Problem) else _tap(hard, alkaline)


def _of_class(name: str) -> _Reading:
    return (CLASSES[name].hardness_mg,)


def _reading(text: str, kind: Kind) -> _Reading | Problem:
    parts = _STRIP.split(text, maxsplit=1)
    last = parse_amount(parts[-1], kind, unit=BASE_UNITS[kind])
    if isinstance(last, Problem):
        return last
    first = parse_amount(parts[0], kind, unit=last.unit)
    if isinstance(first, Problem):
        return first
    return _checked([first, last][: len(parts)], kind)


def _checked(amounts: list[Amount], kind: Kind) -> _Reading | Problem:
    found = tuple(to_base(amount, kind) for amount in amounts)
    if found[0] > found[-1]:
        return Problem("write the lower end of a band first")
    if found[-1] > HARDEST_MG:
        return Problem(f"no tap water has {found[-1]:.0f} mg/L: {HARDEST_MG:.0f} mg/L is the most that can be read")
    return found


def _by_hardness(hard: _Reading) -> Tap:
    """Fill in the alkalinity that is not known."""
    low, high = _ALKALINITY_ENDS
    likely = _water(_middle(hard), ALKALINITY_OF_HARDNESS * _middle(hard))
    return Tap(likely, (_water(hard[0], low * hard[0]), _water(hard[-1], high * hard[-1])))


def _tap(hard: _Reading, alkaline: _Reading) -> Tap:
    likely = _water(_middle(hard), _middle(alkaline))
    if len(hard) == len(alkaline) == 1:
        return Tap(likely)
    return Tap(likely, (_water(hard[0], alkaline[0]), _water(hard[-1], alkaline[-1])))


def _water(hardness_mg: float, alkalinity_mg: float) -> TapWater:
    return of_calcium_carbonate(hardness_mg, alkalinity_mg)


def _middle(reading: _Reading) -> float:
    return sum(reading) / len(reading)
