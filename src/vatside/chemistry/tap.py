"""Tap water: what its hardness and alkalinity bring to a bath, what stands for them while unknown, how people tell it.

People know it as a word, a report's or a kettle's number with its unit, or the band of a test strip.
"""

from __future__ import annotations

import re

from attrs import evolve, frozen

from vatside.chemistry.bath import Bath, water_bath
from vatside.chemistry.errors import require_not_negative, require_within
from vatside.chemistry.substances import substance
from vatside.units import BASE_UNITS, Amount, Kind, Problem, parse_amount, to_base

CARBONATE_PER_ALKALINITY = 1.06
"""Moles of carbonate, carbonic acid included, an equivalent of alkalinity: tap water of about pH 7.6 [Tap]."""
ALKALINITY_OF_HARDNESS = 0.8
"""Alkalinity over hardness, both as calcium carbonate, where only hardness is known; 0.4 to 1: a guess [Tap]."""


@frozen
class TapWater:
    """What a tap gives beyond pure water.

    Raises `OutOfRange` for less than nothing, or a share outside 0..1.
    """

    hardness: float = 0.0
    """Calcium and magnesium, mmol/L."""
    alkalinity: float = 0.0
    """Bicarbonate above all, meq/L."""
    magnesium_share: float = 0.0
    """Part of the hardness that is magnesium, 0..1; up to 0.3 is usual."""

    def __attrs_post_init__(self) -> None:
        require_not_negative("hardness of the water", self.hardness, "mmol/L")
        require_not_negative("alkalinity of the water", self.alkalinity, "mmol/L")
        require_within("magnesium's share of the hardness", self.magnesium_share, 0, 1, "")

    @property
    def hardness_mg(self) -> float:
        """Hardness as mg/L of calcium carbonate."""
        return self.hardness * _CALCIUM_CARBONATE

    @property
    def alkalinity_mg(self) -> float:
        """Alkalinity as mg/L of calcium carbonate."""
        return self.alkalinity * _CALCIUM_CARBONATE / 2


_CALCIUM_CARBONATE: float = substance("calcium carbonate").molar_mass
"""g/mol."""


def of_calcium_carbonate(hardness_mg: float, alkalinity_mg: float | None = None) -> TapWater:
    """Give the water of a report in mg/L (ppm) of calcium carbonate; 0.8 of the hardness where alkalinity is unknown.

    Raises `OutOfRange` below zero. [Tap]
    """
    alkalinity = ALKALINITY_OF_HARDNESS * hardness_mg if alkalinity_mg is None else alkalinity_mg
    return TapWater(hardness_mg / _CALCIUM_CARBONATE, 2 * alkalinity / _CALCIUM_CARBONATE)


PURE = TapWater()
"""Rain and distilled water."""

CLASSES: dict[str, TapWater] = {
    "pure": PURE,
    "soft": of_calcium_carbonate(40, 30),
    "medium": of_calcium_carbonate(150, 120),
    "hard": of_calcium_carbonate(300, 250),
    "very hard": of_calcium_carbonate(400, 320),
}
"""Waters by the word for them: guesses within the classes of the USGS, 60, 120 and 180 mg/L [USGShardness]."""


@frozen
class Tap:
    """What is known of a water: the likeliest, and the ends of what it may be."""

    likely: TapWater
    ends: tuple[TapWater, ...] = ()
    """Softest and hardest; empty where it is known."""

    @property
    def waters(self) -> tuple[TapWater, ...]:
        """All the waters to reckon with, the likeliest first."""
        return (self.likely, *self.ends)


UNKNOWN = Tap(CLASSES["medium"], (CLASSES["soft"], CLASSES["hard"]))
"""Medium, between soft and hard: a guess [Tap]."""


def softened(water: TapWater) -> TapWater:
    """Give the water behind a household softener: its hardness turned into sodium, its alkalinity as it was."""
    return TapWater(0.0, water.alkalinity)


def fill(bath: Bath, water: TapWater, litres: float) -> Bath:
    """Put into a bath what litres of tap water bring besides the water itself [Tap].

    Carbonate is 1.06 times the alkalinity; chloride or sodium makes up the charge. Raises `OutOfRange` below zero.
    """
    require_not_negative("volume", litres, "L")
    hardness, alkalinity = (litres * amount / 1000 for amount in (water.hardness, water.alkalinity))
    rest = 2 * hardness - alkalinity
    return evolve(
        bath,
        calcium=bath.calcium + (1 - water.magnesium_share) * hardness,
        magnesium=bath.magnesium + water.magnesium_share * hardness,
        carbonate=bath.carbonate + CARBONATE_PER_ALKALINITY * alkalinity,
        strong_anions=bath.strong_anions + max(rest, 0.0),
        sodium=bath.sodium + max(-rest, 0.0),
    )


def tap_bath(litres: float, t_C: float, water: TapWater) -> Bath:
    """Give a bath of tap water (L at its own temperature) [Tap]. Raises as `vatside.chemistry.bath.water_bath`."""
    return fill(water_bath(litres, t_C), water, litres)


HARDEST_MG = 2000.0
"""Harder than any tap, mg/L of calcium carbonate: ours."""

WORDS: dict[str, str] = {name: name for name in CLASSES} | {"rain": "pure", "distilled": "pure", "none": "pure"}
"""What may stand for a number, and the class that it means."""
NOT_KNOWN = ("", "unknown", "?")

ALKALINITY_ENDS = (0.4, 1.0)
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
    hard = (CLASSES[WORDS[word]].hardness_mg,) if word in WORDS else _reading(hardness, Kind.HARDNESS)
    if isinstance(hard, Problem):
        return hard
    if not alkalinity.strip():
        return Tap(CLASSES[WORDS[word]]) if word in WORDS else _by_hardness(hard)
    alkaline = _reading(alkalinity, Kind.ALKALINITY)
    return alkaline if isinstance(alkaline, Problem) else _tap(hard, alkaline)


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
    band = tuple(to_base(amount, kind) for amount in amounts)
    if band[0] > band[-1]:
        return Problem("write the lower end of a band first")
    if band[-1] > HARDEST_MG:
        return Problem(f"no tap water has {band[-1]:.0f} mg/L: {HARDEST_MG:.0f} mg/L is the most that can be read")
    return band


def _by_hardness(hard: _Reading) -> Tap:
    """Fill in the alkalinity that is not known."""
    low, high = ALKALINITY_ENDS
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
