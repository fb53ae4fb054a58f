"""Ripening: a wait's bar goes from straw through leaf to indigo, and from light shading to dense."""

from __future__ import annotations

from vatside.ui.text.rows import Span
from vatside.ui.text.signs import Signs

STEPS = 5
"""Tones between straw and indigo."""


def ripeness(share: float) -> str:
    """Name the tone of something that is so far along (0 to 1)."""
    return f"ripe{min(int(max(share, 0.0) * STEPS), STEPS - 1)}"


def shade(share: float, signs: Signs) -> str:
    """Give the shading of something that is so far along; only what is over is solid."""
    return signs.shades[min(int(max(share, 0.0) * (len(signs.shades) - 1)), len(signs.shades) - 1)]


def bar(share: float, width: int, signs: Signs) -> tuple[Span, ...]:
    """Draw a bar: what has elapsed in its tone and shading, then what is still to come."""
    share = min(max(share, 0.0), 1.0)
    ripe = min(int(share * width), width)
    if share > 0 and ripe == 0:
        ripe = min(1, width)
    return (Span(shade(share, signs) * ripe, ripeness(share)), Span(signs.bare * (width - ripe), "bare"))


def day_bar(share: float, width: int, signs: Signs) -> tuple[Span, ...]:
    """Draw the day as cloth that goes deeper from left to right as its steps are done."""
    ripe = round(min(max(share, 0.0), 1.0) * width)
    tones = [Span(shade(x / width, signs), ripeness(x / width)) for x in range(ripe)]
    return (*merged(tones), Span(signs.bare * (width - ripe), "edge"))


def merged(spans: list[Span]) -> tuple[Span, ...]:
    """Join neighbours of one role."""
    found: list[Span] = []
    for span in spans:
        if found and found[-1].role == span.role:
            found[-1] = Span(found[-1].text + span.text, span.role)
        else:
            found.append(span)
    return tuple(found)
