"""The keys of the screens about past days: side by side, and again."""

from __future__ import annotations

from vatside.ui.base.keymap import BACK, HELP, LEAVE, LOOK, QUIET, Key, Sections, Table, in_turn
from vatside.ui.day.keys import DAY_KEYS

SIDES, AGAIN = "Side by side", "Again"

COMPARE_KEYS: Table = (
    QUIET,
    Key("up down", "", "scroll", "scroll", SIDES),
    Key("g", "apart", "why the blues differ", "both blue cards, and what most likely explains it", SIDES, "blue"),
    Key("left right", "swap", "change sides", "change sides", SIDES),
    Key("z", "all", "all, only what differs", "leave out what is the same in both, show it again", SIDES, "all"),
    BACK, LOOK, *LEAVE, HELP,
)  # fmt: skip
COMPARE_WORDS: Sections = (
    ("Signs", (("≠", "not the same in both"), ("–", "that day has nothing of the kind"))),
)  # fmt: skip

REPEAT_KEYS: Table = (
    QUIET,
    Key("enter", "begin", "begin the day", "begin the new day with what is taken over here", AGAIN),
    Key("space", "turn", "take, leave", "take a line over, or leave it to the plan", AGAIN),
    Key("z", "all", "all, none", "take all of it, or nothing", AGAIN, "all"),
    Key(
        "m", "fibre", "fibre", "match it to the fibre of this time: whole pieces, and what was set by hand goes along",
        AGAIN, "match",
    ),
    BACK,
    Key("up down", "", "another line", "another line", AGAIN),
    LOOK, *LEAVE, HELP,
)  # fmt: skip
REPEAT_WORDS: Sections = (
    (
        "What is offered",
        (
            ("set", "what was set by hand that day"),
            ("used", "what really went in, corrections too, where that was not what the plan works out"),
            ("times", "how long the waits really took that were sat out"),
            ("same g/L", "for other fibre: the vat filled by the fibre, or the indigo set for the liquor"),
        ),
    ),
)

REPLAY = "The replay"
_TIME = (
    Key("space,p", "course('play')", "run", "let it run, stand still", REPLAY, "pause"),
    Key(
        "full_stop,right_square_bracket comma,left_square_bracket", "course('event',1) course('event',-1)", "step",
        "the next thing that happened, the one before", REPLAY,
    ),
    Key(
        "plus minus", "course('faster',1) course('faster',-1)", "pace", "faster, slower: from real time to 600 times",
        REPLAY,
    ),
    Key("enter", "course('jump')", "go to", "go to a time: 14:30, +20 min, -1 h, start, end", REPLAY),
    Key("c", "course('new_day')", "new day from here", "a new day with the plan as it stands here", REPLAY, "carry on"),
    Key("b", "back", "back", "back", REPLAY, "back"),
)  # fmt: skip
_KEPT = ("left", "l", "equals_sign", "i", "f", "z", "v", "1", "up", "t", "tab", "escape", "ctrl+q", "ctrl+z")
"""Keys of the day's screen that change nothing."""
_SHOWN = tuple(key for key in DAY_KEYS if key.keys.split()[0] in _KEPT)
_LETTERS = {name for key in DAY_KEYS for name in key.keys.split() if len(name) == 1} - {"q"}
_UNCHANGED = sorted(_LETTERS - {name for key in (*_TIME, *_SHOWN) for name in key.keys.replace(",", " ").split()})
REPLAY_KEYS: Table = (
    *_TIME, *_SHOWN,
    QUIET._replace(
        action="course('quiet')", words="quiet your day", when=in_turn, help="quiet the day that is really going on"
    ),
    Key(" ".join(_UNCHANGED), "course('unchanged')", "", ""),
    HELP,
)  # fmt: skip
"""The last but one say why they change nothing here."""
REPLAY_WORDS: Sections = (
    ("Nothing is changed", (("", "the day stays as it was, and its alarms are silent"),)),
)  # fmt: skip
