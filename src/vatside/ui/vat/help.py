"""The keys of the screens about the vat, in words."""

from __future__ import annotations

from vatside.ui.text.help import help_rows
from vatside.ui.text.rows import Row

CARE: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = (
    (
        "A reading",
        (
            ("r", "a new reading; just after one, it goes on with that one"),
            ("Enter ↓", "next row; every row may stay empty"),
            ("← →", "turn a choice, or type its first letter; once more left: not looked"),
            ("space", "the stopwatch of the strip test: in a row of choices, or in Strip turns in; else a space"),
            ("Esc", "done: it is written down, and you see what it means"),
        ),
    ),
    (
        "What it means",
        (
            ("↑ ↓", "another finding; the first one is put right first, one thing at a time"),
            ("space", "it is done as proposed: logs it and starts the wait that follows"),
            ("Enter", "another amount went in"),
            ("← →", "another way to put it right"),
            ("m", "take the pH that you read as the true one"),
            ("Tab", "to the words below, to scroll them"),
            ("u", "take the last thing back"),
        ),
    ),
    (
        "The vat",
        (
            ("v", "its account and its history; from the day's screen too"),
            ("h", "kettle water went in"),
            ("m", "take the pH that was read as the true one"),
            ("l", "how much liquor really stands in the tub"),
            ("k", "a call when it leaves its warmth"),
            ("a", "something else went in: 2 g lye"),
            ("d", "done with it: oxidise, neutralise, let it go"),
        ),
    ),
    (
        "As everywhere",
        (
            ("q + - p e", "quiet, five minutes more or less, pause, end: the waits"),
            ("w n u", "a wait of your own, a note, take the last thing back"),
        ),
    ),
    (
        "Words",
        (
            ("worked out", "from all that went in, by the charge balance"),
            ("read", "by you, brought to the temperature of the vat"),
            ("window", "what the most delicate fibre of the plan likes"),
            ("likely", "how well the signs fit: almost surely, likely, perhaps, not ruled out"),
        ),
    ),
)


def care_help(width: int) -> tuple[Row, ...]:
    """Explain the screens about the vat."""
    return help_rows(CARE, width)
