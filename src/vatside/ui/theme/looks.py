"""Looks: colours read from TOML files, the ink for each role of a word, and the same in fewer colours, or in none."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping, Sequence
from enum import Enum
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from attrs import evolve, frozen
from rich.color import Color as RichColor
from rich.color import ColorSystem, ColorType
from rich.segment import Segment
from rich.style import Style
from textual.color import Color, ColorParseError
from textual.filter import LineFilter
from textual.theme import Theme

from vatside.storage.files import plain_text
from vatside.storage.flaws import why
from vatside.ui.text.rows import ROLES, STEPS

_INKS: dict[str, tuple[str, str, str]] = {
    "faint": ("faint", "", ""),
    "strong": ("", "", "bold"),
    "head": ("indigo", "", "bold"),
    "unit": ("faint", "", ""),
    "number": ("", "", "bold"),
    "held": ("", "", "bold underline"),
    "care": ("copper", "", "bold"),
    "danger": ("madder", "", "bold"),
    "good": ("leaf", "", ""),
    "done": ("faint", "", ""),
    "said": ("", "", "bold"),
    "next": ("", "", "bold"),
    "here": ("paper", "indigo", "bold"),
    "edge": ("seam", "", ""),
    "changed": ("copper", "", "bold"),
    "over": ("paper", "copper", "bold"),
    "bare": ("seam", "", ""),
    "key": ("straw", "", "bold"),
} | {f"ripe{step}": (f"ripe{step}", "", "") for step in range(5)}
"""Colour of the words, colour behind them, and how they are set; empty: as the region has it."""

_CHOSEN: dict[str, tuple[str, str, str]] = (
    dict.fromkeys(("", *ROLES), ("paper", "ink", "bold"))
    | {
        "here": ("ink", "paper", "bold"),
        "over": ("copper", "paper", "bold"),
    }
    | {f"ripe{step}": (f"ripe{step}", "paper", "") for step in range(5)}
)
"""The same on the chosen row: ink and paper change places, so that it cannot be missed in any look.

A strip of cloth stays as it is: in light ink the deepest blue would be white.
"""


class Ground(Enum):
    """What a row stands on."""

    PAPER = "paper"
    CHOSEN = "chosen"


_TABLES = {Ground.PAPER: _INKS, Ground.CHOSEN: _CHOSEN}


def inks(variables: Mapping[str, str], ground: Ground = Ground.PAPER) -> Mapping[str, Style]:
    """Mix the looks of all roles from a theme's colours, for a row on some ground."""
    return _mixed(tuple(sorted(variables.items())), ground)


@lru_cache(maxsize=16)
def _mixed(colours: tuple[tuple[str, str], ...], ground: Ground) -> Mapping[str, Style]:
    by_name = dict(colours)
    return {role: _style(by_name, *parts) for role, parts in _TABLES[ground].items()}


def _style(colours: Mapping[str, str], fore: str, back: str, setting: str) -> Style:
    ground = f"on {colours[back]}" if back else ""
    return Style.parse(" ".join(filter(None, (setting, colours[fore] if fore else "", ground))) or "none")


COLOURS = ("paper", "cloth", "ink", "faint", "seam", "straw", "leaf", "indigo", "copper", "madder")
"""What every theme names: paper and ink, cloth (raised ground), faint ink, seams, and the dye day."""

DEFAULTS = dict(
    zip(
        COLOURS,
        ("#12161f", "#1c2331", "#e9e2d0", "#9d9887", "#696f7a", "#d9c27a", "#93b878", "#86a3ea", "#e59a63", "#ec7d72"),
        strict=True,
    )
)
"""A look that needs no file."""


class ThemeProblem(Exception):
    """A theme file cannot be used; the message says which and why."""


@frozen
class Look:
    """One theme as its file has it."""

    name: str
    dark: bool
    colours: Mapping[str, str]

    @property
    def id(self) -> str:
        """Its name as Textual can take it."""
        return "".join(letter if letter.isalnum() else "-" for letter in self.name.lower())

    def theme(self) -> Theme:
        """Give it as Textual wants it."""
        c = self.colours
        return Theme(
            name=self.id,
            primary=c["indigo"],
            secondary=c["leaf"],
            accent=c["copper"],
            warning=c["copper"],
            error=c["madder"],
            success=c["leaf"],
            foreground=c["ink"],
            background=c["paper"],
            surface=c["paper"],
            panel=c["cloth"],
            dark=self.dark,
            variables=variables(c),
        )


def variables(colours: Mapping[str, str]) -> dict[str, str]:
    """Give the style sheet's own colours: those of the file and the tones of ripening."""
    tones = (Color.parse(colours[name]) for name in ("straw", "leaf", "indigo"))
    straw, leaf, indigo = tones
    ripe = {}
    for step in range(STEPS):
        share = step / (STEPS - 1)
        tone = straw.blend(leaf, share * 2) if share <= 0.5 else leaf.blend(indigo, share * 2 - 1)
        ripe[f"ripe{step}"] = tone.hex
    return {**colours, **ripe}


def read_look(path: Path) -> Look:
    """Read one theme file; ThemeProblem if it cannot be used."""
    try:
        table = tomllib.loads(plain_text(path))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as problem:
        raise ThemeProblem(f"Theme {path.name}: it cannot be read ({why(problem, reading=True)}).") from problem
    return _look(path.name, table)


def _look(file: str, table: Mapping[str, Any]) -> Look:
    name, dark, colours = table.get("name"), table.get("dark"), table.get("colours")
    if not isinstance(name, str) or not name.strip() or not name.isprintable():
        raise ThemeProblem(f"Theme {file}: it needs a name.")
    if not isinstance(dark, bool):
        raise ThemeProblem(f"Theme {file}: dark must be true or false.")
    if not isinstance(colours, Mapping):
        raise ThemeProblem(f"Theme {file}: it needs a table of colours.")
    for colour in COLOURS:
        _check_colour(file, colour, colours.get(colour))
    return Look(name, dark, {colour: colours[colour] for colour in COLOURS})


def _check_colour(file: str, colour: str, value: object) -> None:
    if not isinstance(value, str):
        raise ThemeProblem(f"Theme {file}: it lacks the colour {colour}.")
    try:
        parsed = Color.parse(value)
    except ColorParseError:
        raise ThemeProblem(f"Theme {file}: {colour} = {value!r} is no colour; write #rrggbb.") from None
    if parsed.a != 1 or parsed.ansi is not None:
        raise ThemeProblem(f"Theme {file}: {colour} = {value!r} must be opaque; write #rrggbb.")


def read_looks(folders: Iterable[Path]) -> tuple[tuple[Look, ...], tuple[str, ...]]:
    """Read every theme of some folders, a later one of the same name winning; and what is wrong with the rest."""
    looks: dict[str, Look] = {}
    problems: list[str] = []
    for folder in folders:
        for path in _theme_files(folder):
            try:
                look = read_look(path)
                looks[look.id] = look
            except ThemeProblem as problem:
                problems.append(str(problem))
    return tuple(looks.values()), tuple(problems)


def _theme_files(folder: Path) -> Sequence[Path]:
    try:
        return sorted(folder.glob("*.toml"))
    except OSError:  # a folder that cannot be looked into holds no look
        return ()


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
