"""What stands on the screen, as the eye gets it: signs, their ink and their ground."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from attrs import frozen
from rich.segment import Segment
from rich.style import Style
from textual.app import App
from textual.color import Color

from vatside.ui.theme.contrast import SHAPES, WORDS, contrast


@frozen
class Seen:
    """A run of signs in one ink on one ground."""

    text: str
    ink: Color
    ground: Color

    @property
    def is_words(self) -> bool:
        """It has a letter or a figure in it."""
        return any(sign.isalnum() for sign in self.text)

    @property
    def wanted(self) -> float:
        """The contrast that it needs."""
        return WORDS if self.is_words else SHAPES

    @property
    def contrast(self) -> float:
        """The contrast that it has."""
        return contrast(self.ink, self.ground)


def seen(app: App[Any]) -> Iterator[Seen]:
    """Give all that is to be read on the screen; blanks are left out."""
    for strip in app.screen._compositor.render_strips():
        for segment in strip:
            if segment.text.strip():
                yield _as_seen(segment, app)


def _as_seen(segment: Segment, app: App[Any]) -> Seen:
    style = segment.style or Style()
    ink, ground = (_colour(style.color, "ink", app), _colour(style.bgcolor, "paper", app))
    return Seen(segment.text, *((ground, ink) if style.reverse else (ink, ground)))


def _colour(colour: Any, otherwise: str, app: App[Any]) -> Color:
    if colour is None or colour.is_default:
        return Color.parse(app.current_theme.variables[otherwise])
    return Color.from_rich_color(colour)


def faint_ones(app: App[Any]) -> list[str]:
    """Say of each run that is too faint what it is and by how much."""
    return sorted(
        {
            f"{item.contrast:.1f} {item.text.strip()[:30]!r} {item.ink.hex} on {item.ground.hex}"
            for item in seen(app)
            if item.contrast < item.wanted - 0.005
        }
    )
