"""Large digits and letters, to be read from across the kitchen."""

from __future__ import annotations

import unicodedata

from vatside.ui.text.rows import Signs

LETTERS = {
    "A": "###|#.#|###|#.#|#.#",
    "B": "##.|#.#|##.|#.#|##.",
    "C": "###|#..|#..|#..|###",
    "D": "##.|#.#|#.#|#.#|##.",
    "E": "###|#..|##.|#..|###",
    "F": "###|#..|##.|#..|#..",
    "G": "###|#..|#.#|#.#|###",
    "H": "#.#|#.#|###|#.#|#.#",
    "I": "#|#|#|#|#",
    "J": "..#|..#|..#|#.#|###",
    "K": "#.#|#.#|##.|#.#|#.#",
    "L": "#..|#..|#..|#..|###",
    "M": "#...#|##.##|#.#.#|#...#|#...#",
    "N": "#..#|##.#|#.##|#..#|#..#",
    "O": "###|#.#|#.#|#.#|###",
    "P": "###|#.#|###|#..|#..",
    "Q": "####|#..#|#..#|#.##|####",
    "R": "##.|#.#|##.|#.#|#.#",
    "S": ".##|#..|.#.|..#|##.",
    "T": "###|.#.|.#.|.#.|.#.",
    "U": "#.#|#.#|#.#|#.#|###",
    "V": "#.#|#.#|#.#|#.#|.#.",
    "W": "#...#|#...#|#.#.#|##.##|#...#",
    "X": "#.#|#.#|.#.|#.#|#.#",
    "Y": "#.#|#.#|.#.|.#.|.#.",
    "Z": "###|..#|.#.|#..|###",
    ".": ".|.|.|.|#",
    ",": "..|..|..|.#|#.",
    "'": "#|#|.|.|.",
    "/": "..#|..#|.#.|#..|#..",
    "(": ".#|#.|#.|#.|.#",
    ")": "#.|.#|.#|.#|#.",
    "&": "##.|#..|.##|#.#|###",
}
"""Five rows of dots for each; beside the digits of `big`."""
KNOWN = {*LETTERS, *"0123456789:+- "}


def capitals(text: str) -> str:
    """Put a name into the letters there are, accents left away; empty if it has others."""
    plain = "".join(letter for letter in unicodedata.normalize("NFKD", text) if not unicodedata.combining(letter))
    letters = plain.upper().replace("’", "'").strip()
    return letters if set(letters) <= KNOWN else ""


_GLYPHS = {
    "0": "###|#.#|#.#|#.#|###",
    "1": ".#.|##.|.#.|.#.|###",
    "2": "###|..#|###|#..|###",
    "3": "###|..#|.##|..#|###",
    "4": "#.#|#.#|###|..#|..#",
    "5": "###|#..|###|..#|###",
    "6": "###|#..|###|#.#|###",
    "7": "###|..#|..#|.#.|.#.",
    "8": "###|#.#|###|#.#|###",
    "9": "###|#.#|###|..#|###",
    ":": ".|#|.|#|.",
    "+": "...|.#.|###|.#.|...",
    "-": "..|..|##|..|..",
    "d": "..#|..#|###|#.#|###",
    "h": "#..|#..|###|#.#|#.#",
    " ": ".|.|.|.|.",
} | LETTERS
TALL = 5
"""Dots in the height of a digit."""


def dots(text: str) -> int:
    """Dots that a text is wide, one dot between digits."""
    return sum(len(_GLYPHS[letter].partition("|")[0]) + 1 for letter in text) - 1 if text else 0


def rows_high(scale: int) -> int:
    """Rows that digits of a scale take; a row holds two dots of scale one."""
    return (TALL * scale + 1) // 2


def best_scale(text: str, width: int, height: int, signs: Signs) -> int:
    """Give the largest scale at which the text fits, or 0 if none does."""
    fits = [
        scale for scale in range(1, 1 + width // max(dots(text), 1))
        if rows_high(scale) <= height and (signs.half_blocks or scale % 2 == 0)
    ]  # fmt: skip
    return max(fits, default=0)


def big(text: str, scale: int, signs: Signs) -> tuple[str, ...]:
    """Draw a text of digits, colons and signs, `scale` columns a dot."""
    lines = [_line(text, dot) for dot in range(TALL) for _ in range(scale)]
    wide = ["".join(letter * scale for letter in line) for line in lines]
    if len(wide) % 2:
        wide.append("." * len(wide[0]))
    return tuple(_two(upper, lower, signs) for upper, lower in zip(wide[::2], wide[1::2], strict=True))


def _line(text: str, dot: int) -> str:
    return ".".join(_GLYPHS[letter].split("|")[dot] for letter in text)


def _two(upper: str, lower: str, signs: Signs) -> str:
    """Put two lines of dots into one row of cells."""
    full = signs.shades[-1]
    halves = {"##": full, "..": " ", "#.": "▀", ".#": "▄"} if signs.half_blocks else {"##": full, "..": " "}
    return "".join(halves[a + b] for a, b in zip(upper, lower, strict=True))
