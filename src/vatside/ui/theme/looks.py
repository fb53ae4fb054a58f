"""Looks: colours read from TOML files, and the ink for each role of a word."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping, Sequence
from enum import Enum
from functools import lru_cache
from pathlib import Path
from typing import Any

from attrs import frozen
from rich.style import Style
from textual.color import Color, ColorParseError
from textual.theme import Theme

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

_CHOSEN: dict[str, tuple[str, str, str]] = dict.fromkeys(("", *ROLES), ("paper", "ink", "bold")) | {
    "here": ("ink", "paper", "bold"),
    "over": ("copper", "paper", "bold"),
}
"""The same on the chosen row: ink and paper change places, so that it cannot be missed in any look."""


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
        table = tomllib.loads(path.read_text("utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as problem:
        raise ThemeProblem(f"Theme {path.name}: it cannot be read ({problem}).") from problem
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
