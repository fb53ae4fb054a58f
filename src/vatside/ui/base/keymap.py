"""One table of keys for each screen, which bindings, key line and help are read off; and keys that many share."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import chain
from typing import Any, NamedTuple

from attrs import evolve
from textual.binding import Binding, BindingType

from vatside.ui.text.rows import BLANK, Row, Span, cells, hanging, left, row

NO, IN_TURN, FIRST = range(3)
"""How much a key counts just now: not at all, in the order of its table, before all others."""
COMMANDS, AMOUNTS, WORDS = range(3)
"""What a letter is just now: a command; part of an amount or a choice; part of a text."""

Sections = tuple[tuple[str, tuple[tuple[str, str], ...]], ...]
"""Headings, and below each some signs or words with what they mean."""


def in_turn(_screen: Any) -> int:
    """Count in the order of the table."""
    return IN_TURN


def only(test: Callable[[Any], object], rank: int = IN_TURN) -> Callable[[Any], int]:
    """Count only where a screen passes a test."""
    return lambda screen: rank if test(screen) else NO


ANYWHERE = "Anywhere"
"""The heading of the keys that every screen has."""
ALWAYS = "Always"
"""The heading of those among them that the key line never leaves out."""


class Key(NamedTuple):
    """A key of a screen, or a pair of keys that belong together."""

    keys: str
    """Textual's names: a space between keys that are shown side by side, a comma before another name of the same."""
    action: str
    """What it runs: one action, or one for each of the keys; empty where the region in hand takes the key itself."""
    words: str | Callable[[Any], str]
    """A word or two for the key line."""
    help: str
    """What it does, for the help window."""
    group: str = ""
    """The heading in the help window."""
    means: str = ""
    """What the letter means in the whole app; empty for a key that is no letter."""
    when: Callable[[Any], int] = in_turn
    """How much it counts on a screen just now."""
    typed: bool = False
    """It keeps its meaning while amounts are typed, and while words are if it is no letter."""
    priority: bool = False
    """It goes before the field that has the cursor."""
    always: bool = False
    """The key line shows it however little room there is: the way out, the way back, undo, help."""
    changes: bool = False
    """It changes the day: of one that can only be looked at the key line leaves it out, and pressed it says why."""


Table = tuple[Key, ...]
"""All keys of a screen, the most needed first, its help or the way back last."""


class Shown(NamedTuple):
    """A key as the key line prints it."""

    label: str
    words: str
    action: str
    always: bool = False
    """It stands in the key line however little room there is."""


SIGNS = {
    "space": "space", "plus": "+", "minus": "-", "equals_sign": "=", "question_mark": "?", "full_stop": ".",
    "comma": ",",
}  # fmt: skip
NAMES = SIGNS | {
    "enter": "Enter", "escape": "Esc", "tab": "Tab", "f1": "F1", "up": "↑", "down": "↓", "left": "←", "right": "→",
    "pageup": "PgUp", "pagedown": "PgDn",
}  # fmt: skip
DIGITS = tuple("123456789")


def parts(key: Key) -> tuple[tuple[str, str], ...]:
    """Give each of the keys with its action."""
    names, actions = key.keys.split(), key.action.split()
    return tuple(zip(names, actions if len(actions) > 1 else actions * len(names), strict=bool(actions)))


def bindings(table: Sequence[Key]) -> list[BindingType]:
    """Give what Textual binds."""
    return [Binding(names, action, show=False, priority=key.priority) for key in table for names, action in parts(key)]


def label(key: Key, *, typed: int = COMMANDS) -> str:
    """Name a key as it is printed; empty if it is a letter of what is being typed."""
    keys = [_first(part.split(","), typed) for part in key.keys.split()]
    names = tuple(NAMES.get(name, name) for name in keys if name and not name.startswith("shift+"))
    return "1-9" if names == DIGITS else " ".join(names)


def _first(names: list[str], typed: int) -> str:
    return next((name for name in names if typed < WORDS or not (len(name) == 1 or name in SIGNS)), "")


def typing(screen: Any) -> int:
    """Tell what a letter is just now; the field that has the cursor knows."""
    return getattr(screen.focused, "typing", COMMANDS)


def chooses(screen: Any) -> bool:
    """Tell whether the field that has the cursor is one of a few choices."""
    field = getattr(screen.focused, "field", None)
    return field is not None and bool(field.choices)


def is_fixed(screen: Any) -> bool:
    """Tell whether a screen shows a day that can only be looked at: played back, or written by another window."""
    keeping = getattr(getattr(screen, "desk", None), "keeping", None)
    return getattr(keeping, "readonly", None) is not None


def shown(table: Sequence[Key], screen: Any) -> tuple[Shown, ...]:
    """Give the keys that count on a screen just now, the most needed first."""
    fixed = is_fixed(screen)
    of_use = [key for key in table if (key.typed or not typing(screen)) and not (fixed and key.changes)]
    counted = [(key.when(screen), key) for key in of_use]
    ordered = sorted((pair for pair in counted if pair[0]), key=lambda pair: -pair[0])
    entries = (Shown(label(key, typed=typing(screen)), _said(key, screen), _act(key), key.always) for _, key in ordered)
    return tuple(entry for entry in entries if entry.label and entry.words)


def _said(key: Key, screen: Any) -> str:
    return key.words if isinstance(key.words, str) else key.words(screen)


def _act(key: Key) -> str:
    return next((action for _, action in parts(key)), "")


def key_row(keys: Sequence[Shown], width: int) -> Row:
    """Print as many keys as fit; how to leave, undo and get help always, by the key alone where there is no room."""
    if not keys:
        return Row()
    fixed = [key for key in keys if key.always or key is keys[-1]]
    room = width - 1 + GAP  # nothing follows the last one
    crowded = sum(_width(key) for key in fixed) > room - ROOM_FOR_OTHERS or width < NARROW
    if crowded and sum(_width(key) for key in keys) > room:
        fixed = [key if key is keys[-1] else key._replace(words="") for key in fixed]
    room -= sum(_width(key) for key in fixed)
    kept: list[Shown] = []
    for key in keys:
        if not (key.always or key is keys[-1]) and _width(key) <= room:
            kept.append(key)
            room -= _width(key)
    *spans, last = chain.from_iterable(_spans(key) for key in (*kept, *fixed))
    return Row((Span(" "), *spans, evolve(last, text=last.text.rstrip())))


NARROW = 76
ROOM_FOR_OTHERS = 36
"""Columns that other keys want beside those that are always there: two of them with their words. Ours."""


def _spans(key: Shown) -> tuple[Span, ...]:
    words = f" {key.words}" if key.words else ""
    return Span(key.label, "key", key.action), Span(f"{words}{' ' * GAP}", "faint", key.action)


GAP = 3
"""Columns between two keys."""


def _width(key: Shown) -> int:
    return cells(key.label) + (1 + cells(key.words) if key.words else 0) + GAP


KEY = 9
"""Columns for the names of keys in the help window."""


def help_sections(table: Sequence[Key]) -> Sections:
    """Give the keys and what they do, below the headings in their first order; what counts anywhere comes last.

    First stand those that the key line always shows: where it is narrow it has no words for them.
    """
    by_group: dict[str, list[tuple[str, str]]] = {ALWAYS: []}
    for key in (key for key in table if key.help):
        by_group.setdefault(ALWAYS if key.always else key.group, []).append((label(key), key.help))
    groups = sorted((group for group, keys in by_group.items() if keys), key=lambda group: group == ANYWHERE)
    return tuple((group, tuple(by_group[group])) for group in groups)


def help_rows(sections: Sections, width: int) -> tuple[Row, ...]:
    """Print keys, or signs and words, and what they mean."""
    rows: list[Row] = []
    for title, lines in sections:
        rows += ([BLANK] if rows else []) + [row(Span(title, "head"))]
        for name, words in lines:
            rows += hanging((Span(f" {left(name, KEY)} ", "key"),), words, width - 1)
    return tuple(rows)


WAITS = "Waits"


def _rings(screen: Any) -> int:
    return FIRST if screen.is_ringing else NO


def _runs(screen: Any) -> int:
    return IN_TURN if screen.wait_in_hand else NO


QUIET = Key("q", "quiet", "quiet", "quiet every alarm (in the far view any key does)", WAITS, "quiet", _rings)
RUNNING = (
    Key("plus minus", "extend(1) extend(-1)", "5 min", "five minutes more, or less", WAITS, when=_runs, changes=True),
    Key("p", "pause", "pause", "pause it, let it run on", WAITS, "pause", _runs, changes=True),
)
"""What changes the wait in hand."""
END = Key("e", "end", "end", "end it before its time; its step is done", WAITS, "end", _runs, changes=True)
OWN_WAIT = Key("w", "ask('own_wait')", "wait", "a wait of your own: 10 min rinse", WAITS, "wait", changes=True)
BREAK = Key(
    "0",
    "ask('pause_the_day')",
    "break",
    "a break or a delay of the whole day: what can wait moves, what cannot says so",
    WAITS,
    changes=True,
)
NUMBERS = Key(
    "1 2 3 4 5 6 7 8 9", " ".join(f"wait({number})" for number in range(1, 10)), "another wait",
    "choose a wait by its number; else the one that rings or ends first", WAITS,
    when=only(lambda screen: len(screen.glance.waits) > 1),
)  # fmt: skip
BACK = Key("escape,b", "back", "back", "back", ANYWHERE, "back", typed=True, always=True)
UNDO = Key("u", "undo", "undo", "take the last thing back", ANYWHERE, "undo", always=True, changes=True)
REDO = Key(
    "ctrl+y", "redo", "bring back", "bring back what was taken back last", ANYWHERE,
    when=only(lambda screen: screen.can_redo, FIRST), typed=True, changes=True,
)  # fmt: skip
NOTE = Key("n", "ask('note')", "note", "a note for the log", ANYWHERE, "note", changes=True)
SAVE = Key("s", "ask('save_elsewhere')", "save elsewhere", "save the day in another place", ANYWHERE, "save")
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
