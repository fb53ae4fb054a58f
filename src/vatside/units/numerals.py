"""A typed text made plain, and numbers in it as people write them: fractions, mixed numbers, decimal point or comma.

Nothing here guesses: a number that could mean two things is refused with both meanings named.
"""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction

from vatside.units.amount import Problem

NUMBER = r"\d+(?:\s+|-\s?)\d+\s*/\s*\d+|\d+\s*/\s*\d+|\d+(?:[.,]\d*)?|\.\d+"
"""A number without sign: `1 1/2`, `1-1/2`, `3/4`, `1.5`, `1,5`, `.5`."""

_MIXED = re.compile(r"(\d+)(?:\s+|-\s?)(\d+)\s*/\s*(\d+)", re.ASCII)
_FRACTION = re.compile(r"(\d+)\s*/\s*(\d+)", re.ASCII)
_DIGITS_AND_MARKS = re.compile(r"[\d.,]*\d[\d.,]*", re.ASCII)
_THOUSANDS = re.compile(r"[1-9]\d{0,2},\d{3}", re.ASCII)

VULGAR: dict[str, str] = {
    "½": "1/2",
    "⅓": "1/3",
    "⅔": "2/3",
    "¼": "1/4",
    "¾": "3/4",
    "⅕": "1/5",
    "⅖": "2/5",
    "⅗": "3/5",
    "⅘": "4/5",
    "⅙": "1/6",
    "⅚": "5/6",
    "⅐": "1/7",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
    "⅑": "1/9",
    "⅒": "1/10",
}
"""Fractions that are one character."""


def digits_problem(text: str) -> Problem | None:
    """Say what is wrong with points and commas among the digits of a text, if anything is."""
    for run in _DIGITS_AND_MARKS.findall(text):
        marks = [mark for mark in run if mark in ".,"]
        if len(marks) > 1:
            return _many_marks(run, marks)
        if _THOUSANDS.fullmatch(run):
            return _thousands(run, _word_after(run, text))
        if run.startswith(","):
            return Problem(f"write 0{run.replace(',', '.')} for {run}")
    return None


def _thousands(run: str, unit: str) -> Problem:
    small, whole = _plain(run.replace(",", ".")), run.replace(",", "")
    return Problem(f"{run} could be {small} or {whole}: write {small}{unit} or {whole}{unit}")


def _word_after(run: str, text: str) -> str:
    """Give the unit that stands after some digits, with a space before it; empty if none does."""
    match = re.match(r"\s*([^\W\d_]+|[%°]\w?)", text.partition(run)[2])
    return f" {match[1]}" if match else ""


def _many_marks(run: str, marks: list[str]) -> Problem:
    if len(set(marks)) == 2 and marks.count(marks[-1]) == 1:
        whole, _, part = run.rpartition(marks[-1])
        plain = re.sub("[.,]", "", whole)
        return Problem(f"{run} has too many points and commas: write {plain}.{part} without a thousands mark")
    return Problem(f"{run} has too many points and commas: write it with one decimal point at most")


def _plain(decimal: str) -> str:
    return decimal.rstrip("0").rstrip(".")


def read_number(text: str) -> Fraction | Problem:
    """Read one match of `NUMBER`; a Problem for a division by zero or a fraction that could be two things."""
    mixed = _MIXED.fullmatch(text)
    if mixed:
        return _mixed(*mixed.groups())
    fraction = _FRACTION.fullmatch(text)
    if fraction:
        return _fraction(*fraction.groups())
    return Fraction(text.replace(",", ".").rstrip("."))


def _mixed(whole: str, over: str, under: str) -> Fraction | Problem:
    if int(under) == 0:
        return _by_zero(f"{over}/{under}")
    part = Fraction(int(over), int(under))
    if part >= 1:
        return Problem(f"{whole} {over}/{under} could be misread: write the part after {whole} as less than one")
    return int(whole) + part


def _fraction(over: str, under: str) -> Fraction | Problem:
    if int(under) == 0:
        return _by_zero(f"{over}/{under}")
    value = Fraction(int(over), int(under))
    for end in range(1, len(over)):
        if 0 < int(over[end:]) < int(under):
            mixed = f"{over[:end]} {over[end:]}/{under}"
            return Problem(f"{over}/{under} could be {_decimal(value)} or {mixed}: write one of these")
    return value


def _decimal(value: Fraction) -> str:
    return _plain(f"{float(value):.2f}")


def _by_zero(text: str) -> Problem:
    return Problem(f"{text} divides by zero")


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
    text = " ".join(_MARK_AFTER_LETTER.sub(" ", text).split())
    return _JOINING_WORDS.sub(" ", text)
