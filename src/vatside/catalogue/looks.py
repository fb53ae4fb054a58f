"""What a dyer can say of a vat without instruments: short lists in her own words."""

from __future__ import annotations

from enum import StrEnum


class Colour(StrEnum):
    """The liquor below the surface, seen in a glass or on a white spoon."""

    YELLOW_GREEN = "yellow-green"
    AMBER = "amber"
    BRIGHT_YELLOW = "bright yellow"
    PALE_YELLOW = "pale yellow"
    GREEN = "green"
    GREENISH_WHITE = "greenish white"
    BLUE = "blue"
    BLUE_BLACK = "blue-black"
    BROWN = "brown"
    GREY_GREEN = "grey-green"
    GREY = "grey"


class Clarity(StrEnum):
    """How far one sees into the liquor."""

    CLEAR = "clear"
    CLOUDY = "cloudy"
    MILKY = "milky"
    RISING = "sediment rising"


class Surface(StrEnum):
    """What floats on the vat."""

    COPPERY = "coppery film"
    FROTH = "blue froth"
    BARE = "no film"
    FOAM = "thick foam"
    BROKEN = "film broken"


class Strip(StrEnum):
    """A test strip of scoured cloth as it leaves the vat after a minute."""

    GREEN_YELLOW = "green-yellow"
    BLUISH_GREEN = "bluish green"
    BLUE = "blue at once"
    BLUE_GREY = "stays blue-grey"
    PALE = "pale"
    UNEVEN = "uneven"


class Smell(StrEnum):
    """What the vat smells of, from an arm's length."""

    USUAL = "as usual"
    SULPHUR = "strong sulphur"
    STINGING = "sour, stinging"
    CARAMEL = "caramel"
    ROTTEN = "rotten eggs"


class Feel(StrEnum):
    """The liquor between gloved fingers."""

    WATER = "like water"
    SLIMY = "slimy"


class Bottom(StrEnum):
    """What a stick brings up from the bottom."""

    CLEAN = "clean"
    PALE = "pale sludge"
    BLUE = "blue sludge or grit"


class Cloth(StrEnum):
    """What the dyed cloth shows."""

    GOOD = "as it should"
    WASHES_OFF = "colour washes off"
    LIFTS = "earlier dips lift off"
    SPECKS = "blue specks"
    DUST = "white or grey dust"
    RUBS = "colour rubs off"
    PALE = "pale after two dips"
    UNEVEN = "uneven"


LOOKS: dict[str, type[StrEnum]] = {
    "colour": Colour,
    "clarity": Clarity,
    "surface": Surface,
    "strip": Strip,
    "smell": Smell,
    "feel": Feel,
    "bottom": Bottom,
    "cloth": Cloth,
}
"""The list that each look is chosen from."""


NUMBERS = ("temperature", "pH", "pH_25", "seconds", "redox", "tried", "holds", "lime")
"""What is read as a number: degrees C, pH at the vat's temperature, pH at 25 degrees C, seconds until the strip has
turned, millivolts against silver chloride. What the log knows: how many corrections have brought nothing; by the
account how much of its dye the vat still holds, %, and how much lime lies at its bottom, g/L."""
