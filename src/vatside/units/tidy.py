"""A typed text made plain before it is read: one kind of space, one kind of each sign."""

from __future__ import annotations

import re
import unicodedata

from vatside.units.amount import Problem
from vatside.units.numerals import VULGAR

LONGEST = 60
"""Characters that an amount may have."""

# A hyphen joins `1-1/2`; a dash or a true minus sign never does, so the two are kept apart.
_SIGNS = str.maketrans(
    {
        "−": "–",
        "—": "–",
        "×": "x",
        "✕": "x",
        "✖": "x",
        "*": "x",
        "⁄": "/",
        "∕": "/",
        "÷": "/",
        "º": "°",
        "˚": "°",
        "’": "'",
        "‘": "'",
        "′": "'",
        "”": '"',
        "“": '"',
        "″": '"',
    }
    | {sign: f" {plain} " for sign, plain in VULGAR.items()}
)
_JOINING_WORDS = re.compile(r"(?<=[^\WxX]|%) (?:and|&|\+) ?(?=[\d.])", re.IGNORECASE)
_MARK_AFTER_LETTER = re.compile(r"(?<=[^\W\d_])[.,]")
_NUMBER_AFTER_MARK = re.compile(r"[^\W\d_]([.,]\d+)")


def tidy(text: str) -> str | Problem:
    """Give the text with plain signs and single spaces, or say why it can be no amount."""
    if len(text) > LONGEST:
        return Problem(f"this is too long for an amount: {LONGEST} characters at most")
    text = text.strip()
    if any(unicodedata.category(sign).startswith("C") for sign in text):
        return Problem("there is a hidden character in this text: clear it and type the amount again")
    text = text.translate(_SIGNS)
    crowded = _NUMBER_AFTER_MARK.search(text)
    if crowded:
        part = crowded[1][1:]
        return Problem(f"{crowded[0]} could mean {part} or 0.{part}: put a space before the number")
    text = _one_space(_MARK_AFTER_LETTER.sub(" ", text))
    return _JOINING_WORDS.sub(" ", text)


def _one_space(text: str) -> str:
    return " ".join(text.split())
