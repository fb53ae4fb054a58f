"""A text on one line, away from the controls of a terminal."""

from __future__ import annotations


def plain(text: str) -> str:
    """Keep a text on one line and away from the terminal's controls."""
    return "".join(letter if letter.isprintable() else " " for letter in text)


def clean(text: str) -> str:
    """Take out what could play tricks on the screen: control characters and line breaks."""
    return "".join(letter if letter.isprintable() else "�" for letter in text)
