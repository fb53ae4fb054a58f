"""What stands on the screen, as the eye gets it: signs, their ink and their ground."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from attrs import frozen
from rich.segment import Segment
from rich.style import Style
from textual.app import App
from textual.color import Color

from vatside.ui.theme.looks import SHAPES, WORDS, contrast


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


@frozen
class Pair:
    """The names of an ink and of the ground that it stands on."""

    ink: str
    ground: str
    is_words: bool

    def is_too_faint(self, colours: Mapping[str, str]) -> bool:
        """Whether it has less contrast in a look than it needs."""
        return contrast(colours[self.ink], colours[self.ground]) < (WORDS if self.is_words else SHAPES)


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


def pairs(app: App[Any]) -> set[Pair]:
    """Give which colours of the look stand on which, by their names; AssertionError for one that the look has not."""
    names = {Color.parse(value).hex: name for name, value in reversed(app.current_theme.variables.items())}
    found = set()
    for item in seen(app):
        assert {item.ink.hex, item.ground.hex} <= names.keys(), f"{item} is of no colour of the look"
        found.add(Pair(names[item.ink.hex], names[item.ground.hex], item.is_words))
    return found
