"""A reading: what the dyer measured and saw of the vat at one moment. Everything in it is optional."""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum
from typing import Any

from attrs import Attribute, evolve, field, fields, frozen

from vatside.catalogue.looks import Bottom, Clarity, Cloth, Colour, Feel, Smell, Strip, Surface
from vatside.units import Amount, Kind, fits, show_amount, to_base

TEMPERATURES = (0.0, 100.0)
PH_RANGE = (0.0, 14.5)
SECONDS = (0.0, 3600.0)
MILLIVOLTS = (-1500.0, 1000.0)


class PHBy(StrEnum):
    """What the pH was read with."""

    STRIP = "strip"
    METER = "meter"


PH_ERROR = {PHBy.STRIP: 0.5, PHBy.METER: 0.15}
"""How far off a careful reading in alkali may be, pH: common practice, no source."""
CELSIUS_ERROR = 1.0
"""A kitchen thermometer is off by a degree: common practice, no source."""
BLUE = (Colour.BLUE, Colour.BLUE_BLACK)
REDUCED = (Colour.YELLOW_GREEN, Colour.AMBER, Colour.BRIGHT_YELLOW, Colour.PALE_YELLOW)
"""Colours of a liquor whose dye is blue, and of one whose dye is dissolved [Mairet1938]."""


def _within(low: float, high: float, what: str) -> Callable[[Any, Attribute[Any], float | None], None]:
    def check(_owner: object, _attribute: object, value: float | None) -> None:
        if value is not None and not low <= value <= high:
            raise ValueError(f"{what} lies between {low:g} and {high:g}, not at {value:g}")

    return check


def _temperature(_owner: object, _attribute: object, value: Amount | None) -> None:
    if value is None:
        return
    if not fits(value.unit, Kind.TEMPERATURE):
        raise ValueError(f"{show_amount(value)} is no temperature")
    low, high = TEMPERATURES
    if not low <= to_base(value, Kind.TEMPERATURE) <= high:
        raise ValueError(f"the vat's temperature lies between {low:g} and {high:g} °C, not at {show_amount(value)}")


@frozen
class Reading:
    """What was measured and seen; None (or empty) where the dyer did not look."""

    temperature: Amount | None = field(default=None, validator=_temperature)
    """Of the vat, 0 to 100 degrees C."""
    pH: float | None = field(default=None, validator=_within(*PH_RANGE, "a pH"))  # noqa: N815  (chemistry's own symbol)
    pH_temperature: Amount | None = field(default=None, validator=_temperature)  # noqa: N815  (chemistry's own symbol)
    """Of the sample while its pH was read; None: as warm as the vat."""
    pH_by: PHBy = PHBy.STRIP  # noqa: N815  (chemistry's own symbol)
    redox: float | None = field(default=None, validator=_within(*MILLIVOLTS, "the redox potential in mV"))
    """Millivolts against silver chloride."""
    colour: Colour | None = None
    clarity: Clarity | None = None
    surface: Surface | None = None
    strip: Strip | None = None
    """The test strip as it leaves the vat."""
    seconds: float | None = field(default=None, validator=_within(*SECONDS, "the time a strip takes in seconds"))
    """Until the strip has turned blue in the air."""
    smell: Smell | None = None
    feel: Feel | None = None
    bottom: Bottom | None = None
    cloth: tuple[Cloth, ...] = ()
    """All that the dyed cloth shows."""

    @property
    def celsius(self) -> float | None:
        """Temperature of the vat, degrees C."""
        return None if self.temperature is None else to_base(self.temperature, Kind.TEMPERATURE)

    @property
    def sample_celsius(self) -> float | None:
        """Temperature of the pH sample, degrees C; the vat's where nothing else was said."""
        if self.pH_temperature is None:
            return self.celsius
        return to_base(self.pH_temperature, Kind.TEMPERATURE)

    def sample_in(self, vat_C: float) -> float:
        """Temperature of the pH sample, degrees C, of a vat that is as warm as `vat_C` where nothing was said of it."""
        return vat_C if self.sample_celsius is None else self.sample_celsius

    @property
    def is_empty(self) -> bool:
        """Tell whether nothing was measured or seen."""
        return evolve(self, pH_by=PHBy.STRIP, pH_temperature=None) == Reading()


LOOK_NAMES = ("colour", "clarity", "surface", "strip", "smell", "feel", "bottom", "cloth")
"""The parts of a reading that are chosen from a list."""


def looks(reading: Reading, about: str) -> tuple[str, ...]:
    """Give what was seen of one look, as words; empty if the dyer did not look."""
    value = getattr(reading, about)
    if value is None:
        return ()
    return tuple(str(item.value) for item in value) if isinstance(value, tuple) else (str(value.value),)


def parts() -> tuple[str, ...]:
    """Names of the parts of a reading, in the order in which they are asked for."""
    return tuple(item.name for item in fields(Reading))
