"""A reading as plain observations: what was seen, in words, and what was measured, as numbers at fixed temperatures."""

from __future__ import annotations

from attrs import frozen

from vatside.catalogue.findings import Sign
from vatside.recipe.vat_needs import Setting, pH_at
from vatside.units import show_count, show_temperature
from vatside.units.show import trimmed
from vatside.vat.reading import LOOK_NAMES, PHBy, Reading, looks

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
UNITS = {"temperature": " °C", "seconds": " s", "redox": " mV", "pH": "", "pH_25": "", "tried": ""}


@frozen
class Observations:
    """What one reading says."""

    looks: dict[str, tuple[str, ...]]
    numbers: dict[str, float]
    pH_by: PHBy  # noqa: N815  (chemistry's own symbol)
    pH_sample_C: float  # noqa: N815  (chemistry's own symbol)
    """How warm the pH sample was, degrees C."""


def observations(reading: Reading, setting: Setting) -> Observations:
    """Take a reading apart; its pH is turned into that at the vat's temperature and at 25 degrees C."""
    seen = {name: found for name in LOOK_NAMES if (found := looks(reading, name))}
    vat_C = reading.celsius if reading.celsius is not None else setting.aim
    sample_C = reading.sample_celsius if reading.sample_celsius is not None else vat_C
    measured = {
        "temperature": reading.celsius,
        "pH": None if reading.pH is None else pH_at(reading.pH, sample_C, vat_C, setting),
        "pH_25": None if reading.pH is None else pH_at(reading.pH, sample_C, 25.0, setting),
        "seconds": reading.seconds,
        "redox": reading.redox,
        "tried": float(setting.tried) if setting.tried else None,
    }
    numbers = {name: value for name, value in measured.items() if value is not None}
    return Observations(seen, numbers, reading.pH_by, sample_C)


def speaks(sign: Sign, seen: Observations, setting: Setting) -> bool | None:
    """Tell whether a sign was there; None if nobody looked."""
    if sign.seen:
        found = seen.looks.get(sign.about)
        return None if found is None else any(word in sign.seen for word in found)
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
        found = " and ".join(seen.looks[about])
        return SMELLS.get(found) or WORDS[about].format(found)
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
