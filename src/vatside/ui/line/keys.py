"""The keys of the day line."""

from __future__ import annotations

from vatside.ui.base.keymap import AT_THE_VAT, BACK, QUIET, UNDO, Key, Sections, Table, only

LINE = "The day line"

LINE_KEYS: Table = (
    QUIET,
    Key("up down", "", "another", "what comes before, what comes after", LINE),
    Key(
        "enter", "why", "why then", "why it stands there: what it waits for", LINE,
        when=only(lambda screen: screen.chosen),
    ),
    Key(
        "equals_sign", "place", "hands, hours",
        "people, hobs, pots, lunch, all done by, when a lot is there: what the day counts on", LINE,
    ),
    Key("x", "fewer", "one fewer", "one person or piece fewer, with its share of the weight", LINE, "take out"),
    BACK, UNDO, *AT_THE_VAT,
)  # fmt: skip

LINE_WORDS: Sections = (
    (
        "What the line says",
        (
            ("now", "everything left of it went by"),
            ("═ =", "everybody stops"),
            ("1 2 3", "in the lane of hands: of several people so many are busy"),
            ("D, F", "a letter stands for a name that has no room; the line below says which"),
            ("latest", "so late it may begin, if the others keep their times"),
        ),
    ),
)
