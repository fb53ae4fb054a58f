"""The look of each role, mixed from the colours of a theme.

Component classes of the style sheet would do the same, but every region would then match some twenty
rules anew at each change of focus: this was a third of the time to the first paint.
"""

from __future__ import annotations

from collections.abc import Mapping
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
    "cursor": ("", "cloth", "bold"),
} | {f"ripe{step}": (f"ripe{step}", "", "") for step in range(5)}
"""Colour of the words, colour behind them, and how they are set; empty: as the region has it."""

_ALARM: dict[str, tuple[str, str, str]] = dict.fromkeys(ROLES, ("paper", "", "bold")) | {
    "over": ("copper", "paper", "bold"),
    "cursor": ("", "", ""),
}
"""The same on a region that is copper all over."""


def inks(variables: Mapping[str, str], *, alarm: bool = False) -> Mapping[str, Style]:
    """Mix the looks of all roles from a theme's colours."""
    return _mixed(tuple(sorted(variables.items())), alarm)


@lru_cache(maxsize=16)
def _mixed(colours: tuple[tuple[str, str], ...], alarm: bool) -> Mapping[str, Style]:
    found = dict(colours)
    return {role: _style(found, *parts) for role, parts in (_ALARM if alarm else _INKS).items()}


def _style(colours: Mapping[str, str], fore: str, back: str, setting: str) -> Style:
    ground = f"on {colours[back]}" if back else ""
    return Style.parse(" ".join(filter(None, (setting, colours[fore] if fore else "", ground))) or "none")
