"""Which looks there are, and the one the dyer chose last."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from textual.theme import Theme

from vatside.storage.home import make_folder
from vatside.storage.system_lock import OWN_MODE
from vatside.ui.theme.files import DEFAULTS, Look, read_looks, variables

if TYPE_CHECKING:
    from textual.app import App

COLOURLESS = "grey-morning"
"""The look for terminals that are asked for no colour."""
USUAL = "night-vat"


class Looks:
    """The themes that come along and a person's own, and where her choice is kept."""

    def __init__(self, folders: Iterable[Path] = (), choice: Path | None = None) -> None:
        found, self.problems = read_looks(folders)
        self.looks = found or (Look("Night vat", True, DEFAULTS),)
        self._choice = choice

    @property
    def names(self) -> tuple[str, ...]:
        """The looks by name, in the order in which one key goes through them."""
        return tuple(look.id for look in self.looks)

    @property
    def first(self) -> str:
        """The look to begin with: none of colour if so asked, else the one chosen last, else the usual one."""
        wanted = (COLOURLESS if os.environ.get("NO_COLOR") else "", self._chosen(), USUAL)
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

    def themes(self) -> tuple[Theme, ...]:
        """Give them as Textual wants them."""
        return tuple(look.theme() for look in self.looks)

    def put_on_first(self, app: App[Any]) -> None:
        """Begin in a look, before any style sheet is read: told of it as a change, Textual would read them twice."""
        for theme in self.themes():
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
