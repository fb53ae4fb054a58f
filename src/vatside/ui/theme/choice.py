"""Which look is on: the one that the dyer chose, or one that suits the terminal's own ground."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from textual.filter import ANSIToTruecolor, LineFilter
from textual.theme import Theme

from vatside.storage.files import OWN_MODE, plain_text
from vatside.storage.places import make_folder
from vatside.ui.theme.looks import DEFAULTS, Colourless, Look, look_for, read_looks, variables

if TYPE_CHECKING:
    from textual.app import App

QUESTION = "\x1b]11;?\x1b\\"
"""Asks for the colour of the ground (xterm, ctlseqs, OSC 11); a terminal that does not know it says nothing."""
_ANSWER = re.compile(r"\x1b\]11;rgb:([0-9a-fA-F]{1,4})/([0-9a-fA-F]{1,4})/([0-9a-fA-F]{1,4})(?:\x07|\x1b\\)")
_BEGUN = re.compile(r"\x1b\]11;[rgb:0-9a-fA-F/]{0,19}\x1b?\Z")
"""The beginning of an answer that comes in parts."""
_SHARES = (0.299, 0.587, 0.114)
"""How much red, green and blue count for brightness (ITU-R BT.601)."""
LIGHT_GROUNDS = ("7", "15")
"""The numbers by which COLORFGBG names a light ground: white and bright white. Common practice, no source."""


class GroundAnswer:
    """Takes the answer out of what comes from the terminal, wherever it is cut, and says once what it means."""

    def __init__(self, is_dark: Callable[[bool], None]) -> None:
        self._tell = is_dark
        self._held = ""

    def without(self, data: str) -> str:
        """Give what came but for an answer, or its beginning: the rest of that is waited for."""
        data, self._held = self._held + data, ""
        answer = _ANSWER.search(data)
        if answer:
            self._tell(_is_dark(answer.groups()))
            data = data[: answer.start()] + data[answer.end() :]
        begun = _BEGUN.search(data)
        if begun:
            self._held, data = data[begun.start() :], data[: begun.start()]
        return data


def _is_dark(parts: tuple[str, ...]) -> bool:
    levels = (int(part, 16) / (16 ** len(part) - 1) for part in parts)
    return bool(sum(share * level for share, level in zip(_SHARES, levels, strict=True)) < 0.5)


def ground_by_environment(environment: Mapping[str, str] = os.environ) -> bool | None:
    """Tell whether the ground is dark by the terminal's own setting (COLORFGBG); None where there is none."""
    number = environment.get("COLORFGBG", "").rpartition(";")[2]
    return number not in LIGHT_GROUNDS if number.isdigit() else None


def knows_questions(term: str) -> bool:
    """Tell whether a terminal can be asked: the console of the system itself would print the question."""
    return term not in ("", "dumb", "linux") and not term.startswith("linux-")


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
            return plain_text(self._choice).strip() if self._choice else ""
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
                if self._choice.is_file():  # a pipe would hold everything up
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
        return (Colourless(),)
    return [line_filter for line_filter in usual if not isinstance(line_filter, ANSIToTruecolor)]
