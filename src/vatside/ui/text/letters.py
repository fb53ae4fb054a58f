"""Capital letters large enough to read from across a kitchen; see `big` for the digits."""

from __future__ import annotations

import unicodedata

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
    found = plain.upper().replace("’", "'").strip()
    return found if set(found) <= KNOWN else ""
