"""Which looks there are, and the one the dyer chose last."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from textual.filter import ANSIToTruecolor, LineFilter
from textual.theme import Theme

from vatside.storage.home import make_folder
from vatside.storage.system_lock import OWN_MODE
from vatside.ui.terminal.ground import ground_by_environment
from vatside.ui.theme.files import DEFAULTS, Look, read_looks, variables

if TYPE_CHECKING:
    from textual.app import App

COLOURLESS = "grey-morning"
"""The look for terminals that are asked for no colour."""
USUAL = "night-vat"
USUAL_LIGHT = "undyed"
"""The usual looks on a dark and on a light terminal."""


class Looks:
    """The themes that come along and a person's own, and where her choice is kept."""

    def __init__(self, folders: Iterable[Path] = (), choice: Path | None = None) -> None:
        read, self.problems = read_looks(folders)
        self.looks = read or (Look("Night vat", True, DEFAULTS),)
        self._choice = choice

    @property
    def names(self) -> tuple[str, ...]:
        """The looks by name, in the order in which one key goes through them."""
        return tuple(look.id for look in self.looks)

    @property
    def first(self) -> str:
        """The look to begin with: none of colour if so asked, else the one chosen last, else one for the ground."""
        usual = USUAL_LIGHT if ground_by_environment() is False else USUAL
        wanted = (COLOURLESS if os.environ.get("NO_COLOR") else "", self._chosen(), usual)
        return next((name for name in wanted if name in self.names), self.names[0])

    def _chosen(self) -> str:
        try:
            return self._choice.read_text("utf-8").strip() if self._choice else ""
        except (OSError, UnicodeDecodeError):
            return ""

    def after(self, name: str) -> str:
        """Give the next look, and keep it as the choice; a folder that cannot be written to is no harm."""
        names = self.names
        chosen = names[(names.index(name) + 1) % len(names)] if name in names else names[0]
        if self._choice is not None:
            try:
                make_folder(self._choice.parent)
                self._choice.touch(OWN_MODE)
                self._choice.write_text(chosen + "\n", "utf-8")
            except OSError:
                pass
        return chosen

    def title(self, name: str) -> str:
        """The look's own name, as its file writes it."""
        return next((look.name for look in self.looks if look.id == name), name)

    def on_ground(self, name: str, *, dark: bool) -> str:
        """Give the look for a terminal with a dark or light ground: the usual one, unless another was chosen."""
        wanted = USUAL if dark else USUAL_LIGHT
        is_free = name in (USUAL, USUAL_LIGHT) and not self._chosen()
        return wanted if is_free and wanted in self.names else name

    def themes(self, colour_system: str | None = "truecolor") -> tuple[Theme, ...]:
        """Give them as Textual wants them, in colours that the terminal has (as `rich` names them)."""
        if colour_system in ("truecolor", None):
            return tuple(look.theme() for look in self.looks)
        from vatside.ui.theme.palette import look_for

        return tuple(look_for(look, colour_system).theme() for look in self.looks)

    def put_on_first(self, app: App[Any]) -> None:
        """Begin in a look, before any style sheet is read: told of it as a change, Textual would read them twice."""
        for theme in self.themes(app.console.color_system):
            app.register_theme(theme)
        app.set_reactive(type(app).theme, self.first)
        app.stylesheet.set_variables(app.get_css_variables())
        app.set_class(app.current_theme.dark, "-dark-mode", update=False)
        app.set_class(not app.current_theme.dark, "-light-mode", update=False)

    @staticmethod
    def defaults() -> dict[str, str]:
        """Colours for the style sheet while no look is chosen yet."""
        return variables(DEFAULTS)


def has_colours(app: App[Any]) -> bool:
    """Tell whether the terminal shows true colours, and colours are wanted at all."""
    return app.console.color_system == "truecolor" and not app.no_color


def line_filters(usual: Iterable[LineFilter], *, colourless: bool) -> Sequence[LineFilter]:
    """Leave out what would turn the terminal's own colours into others; `colourless` leaves out every colour."""
    if colourless:
        from vatside.ui.theme.colourless import Colourless

        return (Colourless(),)
    return [one for one in usual if not isinstance(one, ANSIToTruecolor)]
