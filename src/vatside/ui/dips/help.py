"""The keys of the dip board in words."""

from __future__ import annotations

from vatside.ui.text.help import help_rows
from vatside.ui.text.rows import Row

HELP: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = (
    (
        "The piece in hand",
        (
            ("space", "move it on: in, turned, out to air, in again; after its last dip it is done"),
            ("↑ ↓", "another piece; after the next deed the cursor goes with the large words again"),
            ("e", "at once: lift it out, or put it in, before its time"),
            ("m", "one dip more than planned"),
            ("k", "it has had its last dip; or, if it was done, it takes turns again"),
            ("c", "call it by a name of its own"),
            ("g", "record the colour that it came out with"),
            ("y", "let what each fibre takes go by the colours you recorded, on this day and others in the folder"),
            ("u", "take the last thing back"),
        ),
    ),
    (
        "What it says",
        (
            ("next in", "who goes in next; nobody airs too short, dark goes before light, wool before cotton"),
            ("2/4", "dips begun, dips in all: those it had and those its depth still takes"),
            ("comes to", "indigo on it at the end, by the account of the vat; an estimate until y"),
            ("vat g/L", "reduced indigo by the account, and what it began with; an estimate"),
        ),
    ),
    (
        "The vat and the clock",
        (
            ("r v", "a reading; what is in the vat"),
            ("+ - p", "five minutes more or less for its wait; pause it"),
            ("q", "quiet every alarm"),
            ("f", "far view"),
            ("Esc", "back to the day; what runs goes on"),
        ),
    ),
)


def dip_help(width: int) -> tuple[Row, ...]:
    """Explain the dip board."""
    return help_rows(HELP, width)
