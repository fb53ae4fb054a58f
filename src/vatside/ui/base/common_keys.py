"""Keys that many screens share."""

from __future__ import annotations

from typing import Any

from vatside.ui.base.keymap import ANYWHERE, FIRST, IN_TURN, NO, Key, only

WAITS = "Waits"


def _rings(screen: Any) -> int:
    return FIRST if screen.is_ringing else NO


def _runs(screen: Any) -> int:
    return IN_TURN if screen.wait_in_hand else NO


QUIET = Key("q", "quiet", "quiet", "quiet every alarm (in the far view any key does)", WAITS, "quiet", _rings)
RUNNING = (
    Key("plus minus", "extend(1) extend(-1)", "5 min", "five minutes more, or less", WAITS, when=_runs),
    Key("p", "pause", "pause", "pause it, let it run on", WAITS, "pause", _runs),
)
"""What changes the wait in hand."""
END = Key("e", "end", "end", "end it before its time; its step is done", WAITS, "end", _runs)
OWN_WAIT = Key("w", "own_wait", "wait", "a wait of your own: 10 min rinse", WAITS, "wait")
BREAK = Key(
    "0", "break", "break", "a break or a delay of the whole day: what can wait moves, what cannot says so", WAITS
)
NUMBERS = Key(
    "1 2 3 4 5 6 7 8 9", " ".join(f"wait({number})" for number in range(1, 10)), "another wait",
    "choose a wait by its number; else the one that rings or ends first", WAITS,
    when=only(lambda screen: len(screen.glance.waits) > 1),
)  # fmt: skip
BACK = Key("escape,b", "back", "back", "back", ANYWHERE, "back", typed=True, always=True)
UNDO = Key("u", "undo", "undo", "take the last thing back", ANYWHERE, "undo", always=True)
REDO = Key(
    "ctrl+y", "redo", "bring back", "bring back what was taken back last", ANYWHERE,
    when=only(lambda screen: screen.can_redo, FIRST), typed=True,
)  # fmt: skip
NOTE = Key("n", "note", "note", "a note for the log", ANYWHERE, "note")
SAVE = Key("s", "save_elsewhere", "save elsewhere", "save the day in another place", ANYWHERE, "save")
PUT_RIGHT = Key(
    "j", "advice", "put right", "put right what a notice is about, all it offers at once; also while amounts are typed",
    ANYWHERE, "put right", only(lambda screen: screen.offers), typed=True,
)  # fmt: skip
LOOK = Key("t", "app.look", "look", "another look", ANYWHERE, "look")
LEAVE = (
    Key("ctrl+q", "app.leave", "leave", "leave; everything is saved", ANYWHERE, typed=True, always=True),
    Key("ctrl+z", "app.suspend_process", "to the shell", "to the shell, where fg brings it back", ANYWHERE, typed=True),
)
HELP = Key("question_mark,f1", "help", "help", "this; F1 also while words are typed", ANYWHERE, typed=True, always=True)
AT_THE_VAT = (*RUNNING, END, OWN_WAIT, BREAK, NUMBERS, NOTE, SAVE, LOOK, *LEAVE, HELP)
"""What every screen of a live vat ends with."""
