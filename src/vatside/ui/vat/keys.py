"""The keys of the screens about the live vat."""

from __future__ import annotations

from typing import Any

from vatside.ui.base.keymap import (
    AT_THE_VAT,
    BACK,
    HELP,
    LEAVE,
    QUIET,
    REDO,
    UNDO,
    Key,
    Sections,
    Table,
    chooses,
    only,
    typing,
)

READING, MEANING, VAT, END = "A reading", "What it means", "The vat", "Its end"

READ = Key(
    "r", "read", "read", "a new reading; just after one, it goes on with that one", READING, "read", changes=True
)
SHOWS_VAT = Key("v", "vat", "vat", "its account and its history", VAT, "vat")
DIPS = Key("d", "board", "dip board", "the dip board", VAT, "dips")
REGIONS = "next_region(1) next_region(-1)"

READING_KEYS: Table = (
    QUIET._replace(typed=True, priority=True),
    Key("escape", "save", "write it down", "done: it is written down, and you see what it means", READING, typed=True),
    Key(
        "space", "watch", lambda screen: screen.watch_words,
        "the stopwatch of the strip test: in a row of choices, or in Strip turns in; else a space", READING, typed=True,
    ),
    Key("enter", "", "next", "next row; every row may stay empty", READING, typed=True),
    Key("up,shift+tab down,tab", "", "another row", "the row before, the row after; Tab as well", READING, typed=True),
    Key(
        "left right", "", "choose", "turn a choice, or type its first letter; once more left: not looked", READING,
        when=only(chooses), typed=True,
    ),
    *LEAVE, HELP,
)  # fmt: skip

MEANING_KEYS: Table = (
    QUIET,
    Key(
        "m", "measured", "the pH read is true", "let the account match the pH that you read", MEANING, "match",
        only(lambda screen: screen.is_doubted), changes=True,
    ),
    Key(
        "space", "do", "do it", "it is done as proposed: logs it and starts the wait that follows", MEANING,
        when=only(lambda screen: screen.can_be_done), changes=True,
    ),
    Key(
        "enter", "amount", "amount", "another amount went in", MEANING, when=only(lambda screen: screen.amount_words),
        changes=True,
    ),
    Key(
        "left right", "way(-1) way(1)", "other way", "another way to put it right", MEANING,
        when=only(lambda screen: screen.has_ways),
    ),
    READ, UNDO, REDO, SHOWS_VAT, DIPS, BACK,
    Key("up down", "", "finding", "another finding; the first one is put right first, one at a time", MEANING),
    Key("tab shift+tab", REGIONS, "other side", "to the words below, to scroll them", MEANING),
    *AT_THE_VAT,
)  # fmt: skip

VAT_KEYS: Table = (
    QUIET, READ,
    Key("enter", "meaning", "meaning", "what the latest reading means, and what to do", READING),
    Key("h", "hot", "hot water", "kettle water went in", VAT, "hot water", changes=True),
    Key("a", "add", "add", "something else went in: 2 g lye", VAT, "add", changes=True),
    Key("k", "call", "call", "a call when it leaves its warmth", VAT, "call", changes=True),
    Key("x", "end_of_it", "end it", "done with it: oxidise, neutralise, let it go", VAT, "take out"),
    BACK, DIPS,
    Key("tab shift+tab", REGIONS, "history", "to the other side, to scroll it", VAT),
    Key("equals_sign", "litres", "litres", "how much liquor really stands in the tub", VAT, changes=True),
    Key(
        "m", "measured", "the pH read is true", "let the account match the pH that was read", VAT, "match",
        changes=True,
    ),
    Key("v", "back", "back from it", "back; on every other screen it leads here", VAT, "vat"),
    Key("up down", "", "scroll", "scroll", VAT),
    UNDO, REDO, *AT_THE_VAT,
)  # fmt: skip


def _space_does(screen: Any) -> str:
    if screen.is_handed_over:
        return ("it stays blue", "next page", "next page", "it is handed over")[screen.page]
    return ("it stays blue", "give it", "it is in", "let it go")[screen.page]


SPENT_KEYS: Table = (
    QUIET,
    Key("space", "do", _space_does, "what the page asks for is done", END, changes=True),
    Key(
        "enter", "amount", lambda screen: "next" if typing(screen) else "set" if screen.sets else "another amount",
        "how much acid: to its form; once it is in: another amount", END,
        when=only(lambda screen: screen.sets or screen.gives), typed=True,
    ),
    Key(
        "left right", "turn(-1) turn(1)", lambda screen: "choose" if typing(screen) else "page",
        "the page before, the page after; in the form, another choice", END, typed=True,
    ),
    READ, SHOWS_VAT, BACK, UNDO, REDO,
    Key("up down", "", "scroll", "scroll; in the form, another row", END, typed=True),
    Key("tab shift+tab", REGIONS, "words", "the words of the page", END),
    *AT_THE_VAT,
)  # fmt: skip

WORDS: Sections = (
    (
        "Words",
        (
            ("worked out", "from all that went in, and the water it went into"),
            ("read", "by you, brought to the temperature of the vat"),
            ("wanted", "what the most delicate fibre of the plan likes"),
            ("thick", "a stroke is as thick as it is unsure: thin where the vat was read, dotted ahead of now"),
            ("likely", "how well the signs fit: almost surely, likely, perhaps, not ruled out"),
        ),
    ),
)
