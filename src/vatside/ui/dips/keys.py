"""The keys of the dip board and of the ladder of depths."""

from __future__ import annotations

from typing import Any

from vatside.bench.dip_acts import all_words
from vatside.dips.rotation import Do
from vatside.ui.base import keymap as common
from vatside.ui.base.keymap import ANYWHERE, FIRST, IN_TURN, Key, Sections, Table
from vatside.ui.dips.dip_rows import deed

PIECE, VAT = "The piece in hand", "The vat"


def _deed(screen: Any) -> str:
    return deed(screen.board.line(screen.piece), screen.board)


def _looks(screen: Any) -> int:
    return FIRST if screen.board.call.do is Do.LOOK else IN_TURN


BOARD_KEYS: Table = (
    Key(
        "space", "do", _deed, "move it on: in, turned, out to air, in again; after its last dip it is done", PIECE,
        when=lambda _screen: FIRST,
    ),
    common.QUIET,
    Key("up down", "", "piece", "another piece; after the next deed the cursor goes with the large words again", PIECE),
    common.UNDO, common.REDO,
    Key(
        "z", "all", lambda screen: all_words(screen.desk, screen.glance.now),
        "all out whose dip is over; else all in that may go in together; one undo takes it back", PIECE, "all",
    ),
    Key("e", "early", "at once", "at once: lift it out, or put it in, before its time", PIECE, "end"),
    Key("a", "more", "once more", "one dip more than planned", PIECE, "add", _looks),
    Key("x", "finished", "done, back", "it has had its last dip; or, done, it takes turns again", PIECE, "take out"),
    Key("enter", "name", "name it", "call it by a name of its own", PIECE),
    Key("g", "colour", "its blue", "record the colour that it came out with", PIECE, "blue"),
    Key(
        "m", "own_results", "by own results",
        "let what each fibre takes match the colours you recorded, on this day and others in the folder", PIECE,
        "match",
    ),
    common.PUT_RIGHT._replace(group=VAT),
    Key("i", "notices", "look out", "everything to look out for", VAT, "look out"),
    Key("f", "far", "far", "far view: the waits in large digits", VAT, "far"),
    Key("r", "reading", "reading", "a reading of the vat", VAT, "read"),
    Key("v", "vat", "vat", "what is in the vat", VAT, "vat"),
    Key("escape,b", "back", "back", "back to the day; what runs goes on", ANYWHERE, "back", always=True),
    Key("d", "back", "back to the day", "back as well; on the day it leads here", ANYWHERE, "dips"),
    *common.RUNNING, common.OWN_WAIT, common.BREAK,
    common.NUMBERS, common.NOTE, common.SAVE, common.LOOK, *common.LEAVE, common.HELP,
)  # fmt: skip

WORDS: Sections = (
    (
        "What it says",
        (
            ("next in", "who goes in next; nobody airs too short, dark goes before light, wool before cotton"),
            ("2/4", "dips begun, dips in all: those it had and those its depth still takes"),
            ("comes to", "indigo on it at the end, by the account of the vat; an estimate until m"),
            ("vat g/L", "reduced indigo by the account, and what it began with; an estimate"),
        ),
    ),
)

LADDER_KEYS: Table = (
    Key("up down", "step(-1) step(1)", "a step", "the step before, the step after"),
    Key("enter", "", "yes", "take what stands there"),
    Key("escape", "leave", "no", "close without an answer"),
)
COLOUR_KEYS: Table = (
    *LADDER_KEYS[:2],
    Key(
        "tab shift+tab", "other(1) other(-1)", "another piece", "another piece or lot",
        when=lambda screen: IN_TURN if len(screen.subjects) > 1 else 0,
    ),
    *LADDER_KEYS[2:],
)  # fmt: skip
