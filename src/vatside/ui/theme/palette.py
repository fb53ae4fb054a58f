"""Looks in fewer colours, or none: the nearest that can still be read, by their contrast."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache, lru_cache

from attrs import evolve
from rich.color import Color as RichColor
from rich.color import ColorSystem, ColorType
from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter

from vatside.ui.theme.looks import COLOURS, Look

WORDS = 4.5
"""Contrast that words need (WCAG 2.1, 1.4.3)."""
SHAPES = 3.0
"""Contrast that lines, bars and thumbs need (WCAG 2.1, 1.4.11)."""


@cache
def luminance(colour: Color) -> float:
    """Relative luminance, 0 to 1; the few colours of the looks are asked for again and again."""
    parts = [part / 255 for part in (colour.r, colour.g, colour.b)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str | Color, other: str | Color) -> float:
    """Contrast ratio, 1 to 21."""
    light, dark = sorted((luminance(Color.parse(one)), luminance(Color.parse(other))), reverse=True)
    return (light + 0.05) / (dark + 0.05)


GROUNDS = ("paper", "cloth")
GREYS = tuple(range(232, 256))
"""The grey ramp of the 256 colours (xterm, ctlseqs: 8 + 10 i)."""
CUBE = tuple(range(16, 232))
"""Their cube of six steps each of red, green and blue (xterm, ctlseqs: 0, 95, 135, 175, 215, 255)."""
SIXTEEN_DARK = dict(
    zip(
        COLOURS,
        ("#000000", "#0000aa", "#ffffff", "#aaaaaa", "#aaaaaa", "#ffffff", "#55ff55", "#55ffff", "#ffff55", "#ff5555"),
        strict=True,
    )
)
"""Numbers 0, 4, 15, 7, 7, 15, 10, 14, 11 and 9 of the sixteen, as the library knows them. A terminal may show others:
these are the ones that can be read on each other in the usual tables, and signs and weight say everything too."""
SIXTEEN_LIGHT = dict(
    zip(
        COLOURS,
        ("#ffffff", "#ffffff", "#000000", "#000000", "#555555", "#000000", "#000000", "#0000aa", "#aa00aa", "#aa0000"),
        strict=True,
    )
)
"""Numbers 15, 15, 0, 0, 8, 0, 0, 4, 5 and 1: no yellow or green, which few tables show dark enough for white paper."""


def look_for(look: Look, colour_system: str | None) -> Look:
    """Give a look as a terminal can show it; `colour_system` as `rich` names it: truecolor, 256, standard or none."""
    if colour_system in ("truecolor", None):
        return look
    if colour_system == "256":
        return evolve(look, colours=_in_256(look.colours))
    return evolve(look, colours=SIXTEEN_DARK if look.dark else SIXTEEN_LIGHT)


def _in_256(colours: Mapping[str, str]) -> Mapping[str, str]:
    """Greys for the grounds, and for each ink the nearest of all that can be read on both of them."""
    grounds = {name: _nearest(colours[name], GREYS) for name in GROUNDS}
    words, shapes = _readable(grounds, WORDS), _readable(grounds, SHAPES)
    inks = {
        name: _nearest(colours[name], shapes if name == "seam" else words) for name in COLOURS if name not in GROUNDS
    }
    return {name: (grounds | inks)[name].hex.lower() for name in COLOURS}


def _readable(grounds: Mapping[str, Color], least: float) -> Sequence[int]:
    return [n for n in (*CUBE, *GREYS) if min(contrast(_shown(n), ground) for ground in grounds.values()) >= least]


def _nearest(colour: str, numbers: Sequence[int]) -> Color:
    wanted = Color.parse(colour)
    return min((_shown(number) for number in numbers), key=lambda other: _distance(wanted, other))


def _distance(one: Color, other: Color) -> int:
    return (one.r - other.r) ** 2 + (one.g - other.g) ** 2 + (one.b - other.b) ** 2


@cache
def _shown(number: int) -> Color:
    """The colour of a number as the terminal shows it once the library has brought it down to 256 colours."""
    shown = RichColor.from_triplet(RichColor.from_ansi(number).get_truecolor()).downgrade(ColorSystem.EIGHT_BIT)
    return Color(*shown.get_truecolor())


REVERSED = Style(reverse=True)


class Colourless(LineFilter):
    """Leaves every colour out; what stands on a ground of its own is shown with ink and paper changed over."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """Give the segments without colours; `background` is the paper."""
        return [Segment(text, _plain(style, background.hex), control) for text, style, control in segments]


@lru_cache(maxsize=1024)
def _plain(style: Style | None, paper: str) -> Style | None:
    if style is None:
        return None
    ground = style.bgcolor
    raised = ground is not None and ground.type is not ColorType.DEFAULT
    is_ground = raised and contrast(Color.from_rich_color(ground), paper) >= SHAPES
    return style.without_color + REVERSED if is_ground else style.without_color
