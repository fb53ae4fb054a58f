"""The look of each role, mixed from the colours of a theme.

Component classes of the style sheet would do the same, but every region would then match some twenty
rules anew at each change of focus: this was a third of the time to the first paint.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import Enum
from functools import lru_cache

from rich.style import Style

from vatside.ui.text.rows import ROLES

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
