"""The keys in words."""

from __future__ import annotations

from collections.abc import Sequence

from vatside.ui.text.rows import BLANK, Row, Span, left, row, wrap

HELP: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = (
    (
        "Two hands",
        (
            ("Enter", "to the form: type amounts as you would write them, 1 1/2 tsp or 8,5 g"),
            ("Esc", "to the steps, where single keys count"),
            ("Tab", "from the steps to the figures (↑ ↓ scroll them), to the form; in the form the next field"),
            ("← →", "the stage before, the stage after"),
        ),
    ),
    (
        "At the steps",
        (
            ("space", "do the step; start its wait; finish a wait that is over; twice: open again what was done"),
            ("↑ ↓", "another step"),
            ("u", "take the last thing back"),
            ("n", "a note for the log"),
            ("l", "the log"),
        ),
    ),
    (
        "Waits",
        (
            ("q", "quiet every alarm (in the far view any key does)"),
            ("1-9", "choose a wait by its number; else the one that rings or ends first"),
            ("+ -", "five minutes more, or less"),
            ("p", "pause it, let it run on"),
            ("e", "end it; its step is done"),
            ("w", "a wait of your own: 10 min rinse"),
            ("f", "far view: the waits in large digits"),
        ),
    ),
    (
        "The vat",
        (
            ("r", "a reading of the stock or the vat, and what it means"),
            ("v", "what is in the vat, how it went, and the way to its end"),
        ),
    ),
    (
        "Dips and depth",
        (
            ("d", "the dip board: which piece goes in next; on the plan, the ladder of depths"),
            ("g", "record the colour that came out, dry"),
            ("=", "on a depth: the ladder"),
        ),
    ),
    (
        "Figures",
        (
            ("=", "how a figure came about; type there to hold it by hand"),
            ("z", "every figure of the stage, or only what is weighed and drawn"),
            ("i", "everything to look out for"),
            ("j", "put right what a notice is about, all it offers at once; also while amounts are typed"),
            ("held", "fixed by hand; empty its field to let it follow the plan"),
            ("±30 %", "how sure a spoon of it is"),
            ("min", "what the reaction alone uses up"),
        ),
    ),
    (
        "The form",
        (
            ("Enter ↓", "next field; the last one stays, Esc goes on"),
            ("← →", "turn a choice, or type its first letter"),
            ("+ -", "on the lot's row: one more lot, take this one out (a and x at the steps)"),
        ),
    ),
    (
        "Beyond the day",
        (("o", "the shelf, keep the vat, note the blue, class card, its blue on a card, replay"),),
    ),
    (
        "Anywhere",
        (
            ("t", "another look (at the steps)"),
            ("s", "save the day elsewhere"),
            ("b", "back to the list of days"),
            ("? F1", "this; F1 also while words are typed"),
            ("ctrl+q", "leave; everything is saved"),
        ),
    ),
)
OPENING: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = (
    (
        "Which day",
        (
            ("↑ ↓", "another one"),
            ("Enter", "open it; a sample is opened as a copy of your own"),
            ("n", "a new day"),
            ("c", "do it again: scaled to the fibre of today, with what went differently taken over or left"),
            ("r", "replay it: the day as it was, faster, event by event, or from there a new day"),
            ("v", "side by side: mark one day, then press it on another"),
            ("d", "what made its blue, on one card"),
            ("o", "the shelf, and what the chosen day needs of it"),
            ("t", "another look"),
            ("ctrl+q", "leave"),
        ),
    ),
    (
        "What the signs say",
        (
            ("◷", "waits are running in it"),
            ("∪", "a kept vat, or a kept stock: Enter asks first; c then begins a new day that carries on from it"),
            ("!", "it cannot be opened, or only to be looked at; the words below it say why"),
        ),
    ),
)
KEY = 9


def help_rows(sections: Sequence[tuple[str, Sequence[tuple[str, str]]]], width: int) -> tuple[Row, ...]:
    """Print keys and what they do."""
    found: list[Row] = []
    for title, keys in sections:
        found += ([BLANK] if found else []) + [row(Span(title, "head"))]
        for key, words in keys:
            first, *rest = wrap(words, max(width - KEY - 3, 10))
            found.append(row(Span(" " + left(key, KEY), "key"), " " + first))
            found += [row(" " * (KEY + 2) + part) for part in rest]
    return tuple(found)


def day_help(width: int) -> tuple[Row, ...]:
    """Explain the day's screen."""
    return help_rows(HELP, width)


def opening_help(width: int) -> tuple[Row, ...]:
    """Explain the opening screen."""
    return help_rows(OPENING, width)
