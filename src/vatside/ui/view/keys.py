"""The keys that count right here, in one line."""

from __future__ import annotations

from attrs import frozen

from vatside.recipe.sheet import Stage
from vatside.ui.view.rows import Row, Span, cells
from vatside.ui.view.waits import WaitView


@frozen
class Key:
    """A key, what it does in a word or two, and the action behind it."""

    key: str
    does: str
    act: str = ""


def day_keys(hand: str, stage: Stage, wait: WaitView | None, ringing: bool) -> tuple[Key, ...]:
    """Give the keys of the day's screen, the most needed first."""
    keys: list[Key] = []
    if hand == "setting":
        keys = [Key("Enter", "next"), Key("Esc", "to the steps", "hand('doing')"), Key("=", "working")]
        return (*keys, Key("?", "help", "help"))
    if ringing:
        keys.append(Key("q", "quiet", "quiet"))
    if hand == "doing":
        keys.append(Key("space", "go there" if stage is Stage.PLAN else "do, start", "do"))
    else:
        keys.append(Key("=", "working", "working"))
    if wait is not None:
        keys += [Key("+ -", "5 min", "extend(1)"), Key("p", "pause", "pause"), Key("e", "end", "end")]
    keys += [Key("Enter", "set", "hand('setting')"), Key("u", "undo", "undo"), Key("f", "far", "far")]
    if stage is Stage.PLAN:
        keys.append(Key("a", "add a lot", "add_lot"))
    keys += [Key("=", "working", "working")] if hand == "doing" else []
    keys += [Key("w", "wait", "own_wait"), Key("n", "note", "note"), Key("l", "log", "log")]
    return (*keys, Key("?", "help", "help"))


def key_row(keys: tuple[Key, ...], width: int) -> Row:
    """Print as many keys as fit, the last one (help) always."""
    if not keys:
        return Row()
    last, room = keys[-1], width - 1
    room -= _width(last)
    kept: list[Key] = []
    for key in keys[:-1]:
        if _width(key) <= room:
            kept.append(key)
            room -= _width(key)
    spans: list[Span] = [Span(" ")]
    for key in (*kept, last):
        spans += [Span(key.key, "key", key.act), Span(f" {key.does}   ", "faint", key.act)]
    return Row(tuple(spans))


def _width(key: Key) -> int:
    return cells(key.key) + cells(key.does) + 4
