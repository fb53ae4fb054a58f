"""The signs that say a state without colour, in two alphabets."""

from __future__ import annotations

from attrs import frozen


@frozen
class Signs:
    """One alphabet of signs; each takes one column."""

    done: str = "✓"
    here: str = "▸"
    later: str = "·"
    running: str = "◷"
    alarm: str = "!"
    up: str = "↑"
    down: str = "↓"
    shades: str = "░▒▓█"
    """From the first dip to the last."""
    bare: str = "─"
    """What has not ripened yet."""
    cycle: str = "‹›"
    arrows: str = "←→"
    rule: str = "│"
    vat: str = "∪"
    """A vat that is kept."""
    read: str = "●"
    """What was read."""
    dash: str = "╌"
    """What is wanted."""
    strokes: str = ":."
    """Curves where there is no braille: up to now, and ahead."""
    half_blocks: bool = True
    """Large digits may use the upper and the lower half of a cell."""


UNICODE = Signs()
ASCII = Signs(
    "x", ">", ".", "~", "!", "^", "v", ".:=#", "-", "<>", "<>", "|", "u", read="o", dash="-", half_blocks=False
)


def signs_for(encoding: str | None) -> Signs:
    """Choose the alphabet that a terminal's encoding can carry."""
    try:
        "✓▸◷░█‹←∪".encode(encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return ASCII
    return UNICODE
