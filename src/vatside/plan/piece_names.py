"""What a piece is called: by the dyer, by the name that the plan gives it, or by its lot."""

from __future__ import annotations

from vatside.plan.plan import Lot

LONGEST_NAME = 40
"""Letters of a piece's name."""


def piece_name(lot: Lot, number: int, given: str = "") -> str:
    """Name a piece of a lot, counted from 1; `given` is the name it got at the vat, which wins.

    Pieces of one name are numbered; a lot's pieces without names go by the lot.
    """
    if given:
        return given
    own = lot.names[number - 1] if number <= len(lot.names) else ""
    if not own:
        return lot.name if lot.pieces == 1 else f"{lot.name} {number}"
    alike = [at for at, name in enumerate(lot.names[: lot.pieces], 1) if name == own]
    return own if len(alike) == 1 else f"{own} {alike.index(number) + 1}"


def said(names: tuple[str, ...]) -> str:
    """Write names as a person types them; empty for none."""
    return ", ".join(names)


def parted(text: str) -> tuple[str, ...]:
    """Part what was typed at its commas; nothing between two of them leaves that piece without a name."""
    names = [part.strip() for part in text.split(",")]
    while names and not names[-1]:
        names.pop()
    return tuple(names)


def names_problem(names: tuple[str, ...]) -> str:
    """Say why names cannot be; empty if they can."""
    for name in names:
        if not name.isprintable() or "," in name:
            return "a name holds characters that cannot be shown, or a comma"
        if len(name) > LONGEST_NAME:
            return f"a name has {LONGEST_NAME} letters at most, not {len(name)}"
    return ""
