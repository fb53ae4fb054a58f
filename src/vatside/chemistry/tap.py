"""Tap water: what its hardness and alkalinity bring to a bath, and what stands for them while they are not known."""

from __future__ import annotations

from attrs import evolve, field, frozen

from vatside.chemistry.bath import Bath, water_bath
from vatside.chemistry.errors import require_not_negative, require_within
from vatside.chemistry.substances import substance

CARBONATE_PER_ALKALINITY = 1.06
"""Moles of carbonate, carbonic acid included, an equivalent of alkalinity: tap water of about pH 7.6 [Tap]."""
ALKALINITY_OF_HARDNESS = 0.8
"""Alkalinity over hardness, both as calcium carbonate, where only hardness is known; 0.4 to 1: a guess [Tap]."""


@frozen
class TapWater:
    """What a tap gives beyond pure water.

    Raises `OutOfRange` for less than nothing, or a share outside 0..1.
    """

    hardness: float = field(default=0.0)
    """Calcium and magnesium, mmol/L."""
    alkalinity: float = field(default=0.0)
    """Bicarbonate above all, meq/L."""
    magnesium_share: float = field(default=0.0)
    """Part of the hardness that is magnesium, 0..1; up to 0.3 is usual."""

    @hardness.validator
    def _check_hardness(self, _attribute: object, value: float) -> None:
        require_not_negative("hardness of the water", value, "mmol/L")

    @alkalinity.validator
    def _check_alkalinity(self, _attribute: object, value: float) -> None:
        require_not_negative("alkalinity of the water", value, "mmol/L")

    @magnesium_share.validator
    def _check_share(self, _attribute: object, value: float) -> None:
        require_within("magnesium's share of the hardness", value, 0, 1, "")

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
