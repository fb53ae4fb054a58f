"""How well a colour can be told from its ground (WCAG 2.1)."""

from __future__ import annotations

from functools import cache

from textual.color import Color

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
