"""The keys of the list of days."""

from __future__ import annotations

from vatside.plan.sheet import CARE
from vatside.ui.base.keymap import HELP, LEAVE, LOOK, QUIET, Key, Sections, Table, only

DAY = "Which day"

OPENING_KEYS: Table = (
    QUIET,
    Key("enter,space", "open", "open", "open it; a sample is opened as a copy of your own", DAY),
    Key("a", "new", "new day", "a new day", DAY, "add"),
    Key(
        "c", "again", "again",
        "do it again: scaled to the fibre of today, with what went differently taken over or left",
        DAY, "carry on",
    ),
    Key(
        "p", "replay", "as it went", "the day as it was, faster, event by event, or from there a new day",
        DAY, "pause",
    ),
    Key("m", "compare", "side by side", "side by side: mark one day, then press it on another", DAY, "match"),
    Key(
        "escape", "unmark", "forget the mark", "forget which day was marked", DAY,
        when=only(lambda screen: screen.listed.marked),
    ),
    Key("g", "card", "its blue", "what made its blue, on one card", DAY, "blue"),
    Key("o", "shelf", "shelf", "the shelf, and what the chosen day needs of it", DAY, "beyond"),
    LEAVE[0], LOOK,
    Key("up down", "", "another day", "another day", DAY),
    LEAVE[1], HELP,
)  # fmt: skip

WORDS: Sections = (
    (
        "What the signs say",
        (
            ("◷", "waits are running in it"),
            ("∪", "a kept vat, or a kept stock: Enter asks first; c then begins a new day that carries on from it"),
            (CARE.sign, "it cannot be opened, or only to be looked at; the words below it say why"),
        ),
    ),
)

ON_A_KEPT_VAT = Key("c", "", "begin a day on it", "begin a day on it", means="carry on")
