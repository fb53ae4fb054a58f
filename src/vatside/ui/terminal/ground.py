"""Whether the terminal's own ground is light or dark: asked once, heard whenever it answers, never taken for keys."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Mapping

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
